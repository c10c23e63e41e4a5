/// Parts, runs, surfaces and boards put into the text of a frame file: what it comes to is written here by hand.
#include "model/editing/grow.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

using namespace dryfit::model;

namespace {

constexpr const char* kOnePost =
    "# Hers.\n"
    "dryfit: 1\n"
    "pipe: {standard: npt, size: 3/4}\n"
    "\n"
    "surfaces:\n"
    "  floor: {normal: up, at: 0}   # tiles\n"
    "\n"
    "runs:\n"
    "  post:\n"
    "    from: floor\n"
    "    at: [0, 0]\n"
    "    parts:\n"
    "      - F1: flange\n"
    "      - P1: {pipe: 10}   # sawn\n"
    "\n"
    "# The end.\n";

std::string with(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}

}  // namespace

TEST_CASE("an empty file gets its first lines, a surface and a run; comments stay before them") {
  const std::string head = with_head("# Mine.\n", "Rack", "in", "npt", "3/4");
  CHECK(head == "# Mine.\ndryfit: 1\nname: Rack\nunits: in\npipe: {standard: npt, size: 3/4}\n");
  const std::string floor = with_surface(head, "floor", "up", "0");
  CHECK(floor == head + "\nsurfaces:\n  floor: {normal: up, at: 0}\n");
  const std::string run = with_run(floor, {"post", "floor", "", "[0, 0]", {{"F1", "flange"}}, ""});
  CHECK(run == floor + "\nruns:\n  post:\n    from: floor\n    at: [0, 0]\n    parts:\n      - F1: flange\n");
  CHECK_THROWS_AS(static_cast<void>(with_head(run, "Rack", "in", "npt", "3/4")), std::invalid_argument);
}

TEST_CASE("sections come in the usual order, with a blank line around") {
  const std::string bare = "dryfit: 1\npipe: {standard: npt, size: 3/4}\nruns:\n  a: {go: up, parts: [A: {pipe: 4}]}\n";
  CHECK(with_surface(bare, "wall", "front", "4-5/8") ==
        "dryfit: 1\npipe: {standard: npt, size: 3/4}\n\nsurfaces:\n  wall: {normal: front, at: 4-5/8}\n\n"
        "runs:\n  a: {go: up, parts: [A: {pipe: 4}]}\n");
  CHECK(with_board(kOnePost, "S1", {{"rests-on", "[F1]"}, {"height", "4"}}) ==
        with(kOnePost, "      - P1: {pipe: 10}   # sawn\n",
             "      - P1: {pipe: 10}   # sawn\n\nboards:\n  S1:\n    rests-on: [F1]\n    height: 4\n"));
}

TEST_CASE("lists and maps keep the form that they have") {
  const std::string flow =
      "surfaces: {floor: {normal: up, at: 0}}\nruns:\n  a: {from: floor, parts: [A: {pipe: 4}, B: coupling ]}\n";
  CHECK(with_surface(flow, "wall", "front", "9") == with(flow, "at: 0}}", "at: 0}, wall: {normal: front, at: 9}}"));
  CHECK(with_part_behind(flow, "a", {"C", "{pipe: 3}"}) == with(flow, "B: coupling ]", "B: coupling, C: {pipe: 3} ]"));
  CHECK(with_parts_behind(flow, "A", {{"X", "union"}, {"Y", "{pipe: 2}"}}) ==
        with(flow, "A: {pipe: 4}, ", "A: {pipe: 4}, X: union, Y: {pipe: 2}, "));
  CHECK(with_run_ended(flow, "a", "wall") == with(flow, "B: coupling ]}", "B: coupling ], to: wall}"));
  CHECK(with_run_at(flow, "a", "[1, 2]") == with(flow, "from: floor,", "from: floor, at: [1, 2],"));
}

TEST_CASE("lines end as those of the file do, and a last line may have no end") {
  const std::string dos = "runs:\r\n  a:\r\n    from: floor\r\n    parts:\r\n      - A: {pipe: 4}\r\n";
  CHECK(with_part_behind(dos, "a", {"B", "cap"}) == dos + "      - B: cap\r\n");
  CHECK(with_run(dos, {"b", "A.end", "", "", {{"C", "cap"}}, ""}) ==
        dos + "  b:\r\n    from: A.end\r\n    parts:\r\n      - C: cap\r\n");
  const std::string cut = "runs:\n  a:\n    from: floor\n    parts:\n    - A: {pipe: 4}";
  CHECK(with_part_behind(cut, "a", {"B", "cap"}) == cut + "\n    - B: cap");
  CHECK(with_run_ended(cut, "a", "T1.left") == cut + "\n    to: T1.left");
  const std::string marked = std::string("\xEF\xBB\xBF") + cut;
  CHECK(with_part_behind(marked, "a", {"B", "cap"}) == marked + "\n    - B: cap");
}

TEST_CASE("a pipe in two keeps its name for the first piece, and what held to its far end or stood there goes along") {
  const std::string text =
      "runs:\n"
      "  post:\n"
      "    parts:\n"
      "      - P1: {pipe: 10}   # sawn\n"
      "      - C1: coupling\n"
      "  rail:\n"
      "    from: P1.end\n"
      "    parts: [E1: {elbow: right}]\n"
      "boards:\n"
      "  S1:\n"
      "    through: [P1, P9]\n"
      "    hole: {P1: 28 mm}\n"
      "  S2: {through: [P1]}\n";
  CHECK(with_insertion(text, {"P1", "6", {"U1", "union"}, {"P2", "{pipe: 3}"}, {"S1"}}) ==
        "runs:\n"
        "  post:\n"
        "    parts:\n"
        "      - P1: {pipe: 6}   # sawn\n"
        "      - U1: union\n"
        "      - P2: {pipe: 3}\n"
        "      - C1: coupling\n"
        "  rail:\n"
        "    from: P2.end\n"
        "    parts: [E1: {elbow: right}]\n"
        "boards:\n"
        "  S1:\n"
        "    through: [P2, P9]\n"
        "    hole: {P2: 28 mm}\n"
        "  S2: {through: [P1]}\n");
  CHECK_THROWS_AS(static_cast<void>(with_insertion(text, {"C1", "6", {"U1", "union"}, {"P2", "{pipe: 3}"}, {}})),
                  std::invalid_argument);
}

TEST_CASE("what cannot be put in is told, never guessed") {
  CHECK_THROWS_AS(static_cast<void>(with_part_behind(kOnePost, "pots", {"B", "cap"})), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(with_parts_behind(kOnePost, "P7", {{"B", "cap"}})), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(with_run("runs: {a: {parts: [A: cap]}}", {"b", "", "", "", {{"B", "cap"}}, ""})),
                  std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(with_surface("runs: [", "floor", "up", "0")), std::invalid_argument);
  const std::string ended = with_run_ended(kOnePost, "post", "T1.left");
  CHECK_THROWS_AS(static_cast<void>(with_run_ended(ended, "post", "T2.left")), std::invalid_argument);
  CHECK(with_run_key_out(ended, "post", "to") == kOnePost);
  // What an alias stands for is written elsewhere, and a change there would change more than was asked for.
  CHECK_THROWS_AS(
      static_cast<void>(with_part_behind("a: &x [A: cap]\nruns:\n  b:\n    parts: *x\n", "b", {"B", "cap"})),
      std::invalid_argument);
}

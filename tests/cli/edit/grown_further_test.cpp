/// Frames that grow further: branches copied, boards on a wall, other sizes, what a part could be instead.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "model/placing/reader.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using dryfit::tests::Ran;
using dryfit::tests::run;
using nlohmann::json;

namespace {

std::string edited(const std::string& text, std::vector<std::string> words) {
  words.insert(words.begin(), {"edit", "-"});
  const Ran ran = run(words, text);
  CHECK(ran.err == "");
  REQUIRE(ran.code == 0);
  return ran.out;
}
json told(const std::string& text, std::vector<std::string> words) {
  words.insert(words.begin(), {"edit", "-", "--json"});
  const Ran ran = run(words, text);
  CHECK(ran.err == "");
  REQUIRE(ran.code == 0);
  return json::parse(ran.out);
}

/// A post with an arm to the right that turns to the back, a twig on the arm, and a shelf laid on the arm.
constexpr const char* kTree =
    "# A tree.\ndryfit: 1\npipe: {standard: npt, size: 3/4}\nsurfaces: {floor: {normal: up, at: 0}}\n\nruns:\n  post:\n"
    "    from: floor\n    at: [0, 0]\n    parts:\n      - F1: flange\n      - P1: {pipe: 24}\n      - T1: {tee: right}\n"
    "      - P2: {pipe: 6}\n      - K1: cap\n  arm:\n    from: T1.right\n    parts:\n      - P3: {pipe: 12}\n"
    "      - T2: {tee: up}\n      - P4: {pipe: 12}\n      - E1: {elbow: back}\n  twig:\n    from: T2.up\n    parts:\n"
    "      - P5: {pipe: 4}\n      - K2: cap\n";

}  // namespace

TEST_CASE("a copy with all that branches off it has the branches of its branches, turned as it is") {
  const std::string text = edited(kTree, {"--mirror-all", "post=floor@-30,0"});
  const model::Frame frame = model::read_frame(text, "tree.yaml");
  // Mirrored to the left: what pointed right points left, what pointed to the back still does.
  const model::Part& elbow = frame.part(frame.find("E2"));
  CHECK(elbow.ports[0].facing == model::kRight);
  CHECK(elbow.ports[1].facing == model::kBack);
  CHECK(frame.part(frame.find("K4")).centre.z > frame.part(frame.find("T4")).centre.z);
  for (const auto& [twin, first] : {std::pair{"E2", "E1"}, {"T4", "T2"}, {"P10", "P5"}}) {
    const model::Vec3 a = frame.part(frame.find(twin)).centre, b = frame.part(frame.find(first)).centre;
    CHECK(a.x + 30.0 * 25.4 == doctest::Approx(-b.x));
    CHECK(a.y == doctest::Approx(b.y));
    CHECK(a.z == doctest::Approx(b.z));
  }
  CHECK(text.starts_with(kTree));
}

TEST_CASE("a branch whose place on the copy is taken stays where it is, and boards go along that lie on nothing else") {
  // The end of the arm of a plain tree takes the copy: the arm itself is not copied.
  const std::string start =
      "dryfit: 1\npipe: {standard: npt, size: 3/4}\nsurfaces: {floor: {normal: up, at: 0}}\n\nruns:\n  post:\n"
      "    from: floor\n    at: [0, 0]\n    parts:\n      - F1: flange\n      - P1: {pipe: 24}\n      - T1: {tee: right}\n"
      "      - P2: {pipe: 6}\n      - C1: coupling\n      - P3: {pipe: 6}\n      - K1: cap\n  rail:\n    from: T1.right\n"
      "    parts:\n      - P4: {pipe: 30}\n";
  const std::string shelf = edited(start, {"--board", "through: [P3], size: {x: 8, y: 8, z: 3/4}"});
  const json answer = told(shelf, {"--copy-all", "post=P4.end"});
  const model::Frame frame = model::read_frame(answer["text"].get<std::string>(), "rack.yaml");
  CHECK(frame.runs.size() == 3);
  REQUIRE(frame.boards.size() == 2);
  CHECK(frame.boards[0].lo.z == doctest::Approx(frame.boards[1].lo.z));
  CHECK(frame.boards[1].holes.size() == 1);
  CHECK(answer["added"].back() == "S2");
}

TEST_CASE("a board flat on a wall stands in front of it, screwed to it, as large as is said") {
  const std::string text = edited(kTree, {"--surface", "wall=20", "--board", "wall@-10,30, size: {x: 40}, stock: oak"});
  CHECK(text.find("  S1:\n    facing: front\n    height: 20\n    size: {x: 40, y: 3/4, z: 9-1/4}\n    at: [-10, 30]\n"
                  "    stock: oak\n    fix: [wall]\n") != std::string::npos);
  const model::Frame frame = model::read_frame(text, "wall.yaml");
  CHECK(frame.boards[0].hi.y == doctest::Approx(20.0 * 25.4));
  CHECK(run({"check", "-"}, text).code == 0);
  const Ran none = run({"edit", "-", "--board", "wall@-10,30"}, kTree);
  CHECK(none.code == 2);
  CHECK(none.err.find("--surface wall=12") != std::string::npos);
}

TEST_CASE("what goes on an end of another size than the frame's gets that size, and a pipe keeps it in two") {
  const std::string text = edited(kTree, {"--set", "T2.branch-size=1/2", "--take-off-all", "P5"});
  const std::string twig = edited(text, {"--add", "T2.up=pipe: 10", "--add", "P5.end=coupling"});
  CHECK(twig.find("- P5: {pipe: 10, size: 1/2}") != std::string::npos);
  CHECK(twig.find("- C1: {coupling: , size: 1/2}") != std::string::npos);
  const std::string parted = edited(twig, {"--insert", "P5@4+3+2=union"});
  CHECK(parted.find("- P5: {pipe: 4, size: 1/2}\n      - U1: {union: , size: 1/2}\n      - P6: {pipe: 3, size: 1/2}\n"
                    "      - U2: {union: , size: 1/2}\n      - P7: {pipe: 2, size: 1/2}\n") != std::string::npos);
}

TEST_CASE("what a part could be instead: lengths, ways and sizes with which the frame can be read") {
  const std::string open = edited(kTree, {"--take-off", "K1", "--take-off", "E1"});
  const json pipe = told(open, {"--offers", "P4"})["choices"];
  CHECK(pipe["kind"] == "pipe");
  CHECK(pipe["length"] == "12");
  REQUIRE(pipe["lengths"].size() > 5);
  // The outlet is taken by the twig: the tee points nowhere else. The elbow does.
  CHECK(told(kTree, {"--offers", "T2"})["choices"]["directions"].empty());
  const json elbow = told(kTree, {"--offers", "E1"})["choices"]["directions"][0];
  CHECK(elbow["set"] == "E1.elbow");
  CHECK(elbow["value"] == "back");
  CHECK(elbow["others"] == json({"front", "up", "down"}));
  for (const std::string way : elbow["others"]) CHECK(run({"edit", "-", "--set", "E1.elbow=" + way}, kTree).code == 0);
  const json sizes = told(open, {"--offers", "T1"})["choices"]["sizes"];
  for (const json& choice : sizes) {
    for (const std::string size : choice["others"]) {
      CHECK(run({"edit", "-", "--set", choice["set"].get<std::string>() + "=" + size}, open).code == 0);
    }
  }
  CHECK(run({"edit", "-", "--offers", "P99"}, kTree).code == 2);
}

TEST_CASE("what is said of the whole frame is put in where the file lacks it") {
  const std::string text = edited(kTree, {"--set", "name=Tree", "--set", "make-up=wrench"});
  CHECK(text.starts_with("# A tree.\ndryfit: 1\nname: Tree\npipe: {standard: npt, size: 3/4}\nmake-up: wrench\n"));
}

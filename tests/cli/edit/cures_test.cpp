/// What `check` names as cures, made by `edit` as they are named: the frame can then be put together, or lines up.
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "tests/support/frames/early_frames.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/program/program.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::slurp;
using nlohmann::json;

namespace {

std::string with_text(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}
json checked(const std::string& text) {
  const Ran ran = run({"check", "-", "--json"}, text);
  REQUIRE(ran.err == "");
  return json::parse(ran.out);
}
/// The text with the change that a cure names.
std::string made(const std::string& text, const json& cure) {
  std::vector<std::string> words{"edit", "-", "--json"};
  for (const auto& word : cure["edit"]) words.push_back(word);
  const Ran ran = run(words, text);
  CAPTURE(cure.dump());
  CHECK(ran.err == "");
  REQUIRE(ran.code == 0);
  return json::parse(ran.out)["text"];
}
std::string first_comment(const std::string& text) { return text.substr(0, text.find('\n')); }

/// Makes all cures of a locked frame, each of the text as it was; the kinds that there were.
std::set<std::string> make_all_cures(const std::string& text) {
  std::set<std::string> kinds;
  const json answer = checked(text);
  REQUIRE(answer["verdict"] == "locked");
  REQUIRE_FALSE(answer["cures"].empty());
  for (const json& cure : answer["cures"]) {
    CAPTURE(cure.dump());
    const std::string cured = made(text, cure);
    CHECK(checked(cured)["verdict"] == "buildable");
    CHECK(first_comment(cured) == first_comment(text));
    for (const json& change : cure["changes"]) kinds.insert(change["change"]);
  }
  return kinds;
}

}  // namespace

TEST_CASE("a rail round a cellar is freed by each of the unions that are named, in a line of its own") {
  const std::string ring = slurp(scenario("cellar-rail-ring"));
  CHECK(make_all_cures(ring).contains("union"));
  const json first = checked(ring)["cures"][0];
  CHECK(first["edit"][0] == "--insert");
  // The line of the pipe, cut in two, and two lines more: no other byte.
  const std::string cured = made(ring, first);
  CHECK(std::count(cured.begin(), cured.end(), '\n') == std::count(ring.begin(), ring.end(), '\n') + 2);
}

TEST_CASE("a square ring is freed by a union or by threads that are shared, which its line then tells") {
  const std::string square = "# A square.\n" + dryfit::tests::square_text(false);
  const std::set<std::string> kinds = make_all_cures(square);
  CHECK(kinds.contains("union"));
  REQUIRE(kinds.contains("shared-threads"));
  const json answer = checked(square);
  for (const json& cure : answer["cures"]) {
    if (cure["change"] != "shared-threads") continue;
    CHECK(made(square, cure).find("turns in each") != std::string::npos);
    break;
  }
}

TEST_CASE("rings that need several unions get them all in one call") {
  CHECK(make_all_cures("# A ladder.\n" + dryfit::tests::ladder_text(4, false)).contains("union"));
}

TEST_CASE("a driver comes into the file behind what is said of the pipe") {
  // The clear way of a right-angle driver: 4 in (common practice, no source).
  const std::string post =
      "# Low.\ndryfit: 1\npipe: {standard: npt, size: 3/4}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n  post:\n"
      "    from: floor\n    at: [0, 0]\n    parts:\n      - F1: flange\n      - P1: {pipe: 3}\n      - K1: cap\n";
  const Ran ran = run({"edit", "-", "--cure", "right-angle-driver F1"}, post);
  CHECK(ran.out.starts_with("# Low.\ndryfit: 1\npipe: {standard: npt, size: 3/4}\ndriver: "));
  CHECK(ran.out.substr(ran.out.find("surfaces")) == post.substr(post.find("surfaces")));
}

TEST_CASE("a pipe's end is brought to the floor by an elbow, a piece and a flange, with names as others have") {
  const std::string arm =
      "# An arm.\ndryfit: 1\npipe: {standard: npt, size: 1/2}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n  post:\n"
      "    from: floor\n    at: [0, 0]\n    parts:\n      - F1: flange\n      - P1: {pipe: 10}\n      - T1: {tee: right}\n"
      "  arm:\n    from: T1.right\n    parts:\n      - P2: {pipe: 24}   # long\n      - E1: {elbow: up}\n";
  const Ran ran = run({"edit", "-", "--cure", "flange P2 end floor", "--json"}, arm);
  CHECK(ran.err == "");
  REQUIRE(ran.code == 0);
  const json answer = json::parse(ran.out);
  const std::string text = answer["text"];
  CHECK(answer["added"] == json({"E2", "P3", "F2"}));
  CHECK(text.find("      - E2: {elbow: down, size: 1/2}\n      - P3: {pipe: ") != std::string::npos);
  CHECK(text.find("# long\n") != std::string::npos);
  CHECK(text.find("    to: floor\n") != std::string::npos);
  CHECK(checked(text)["verdict"] == "buildable");
}

TEST_CASE("a board's holes are opened to slots, and what is written round them stays") {
  const std::string hoop = slurp(scenario("potting-hoop-drilled"));
  const Ran ran = run({"edit", "-", "--cure", "notch SHELF back P2 P4"}, hoop);
  CHECK(ran.err == "");
  CHECK(ran.out.find("notch: {P2: back, P4: back}") != std::string::npos);
  CHECK(ran.out.find("through:") == std::string::npos);
  CHECK(ran.out.substr(0, hoop.find("boards:")) == hoop.substr(0, hoop.find("boards:")));
  CHECK(checked(ran.out)["verdict"] == "buildable");
}

TEST_CASE("what does not line up is closed by each of the changes that are named") {
  const std::string rack = slurp(scenario("plant-rack"));
  // A shelf on two posts, 3/8 in off its wall: its reach, its depth or the wall. Its right post at 33 in, where the
  // rail puts it at 30 + 2 x (1.31 - 0.339) = 31.942 in (3/4 NPT tee, ASME B16.3 by way of secondary tables).
  const std::string shelf =
      "# A shelf.\ndryfit: 1\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\n"
      "  wall: {normal: front, at: 5}\nruns:\n  left:\n    from: floor\n    at: [0, 0]\n    parts:\n      - FL: flange\n"
      "      - P1: {pipe: 6}\n      - T1: {tee: right}\n      - P2: {pipe: 8}\n      - K1: cap\n  rail:\n"
      "    from: T1.right\n    parts:\n      - R: {pipe: 30}\n    to: T2.left\n  right:\n    from: floor\n    go: up\n"
      "    parts:\n      - FR: flange\n      - P3: {pipe: 6}\n      - T2: {tee: left}\n      - P4: {pipe: 8}\n"
      "      - K2: cap\nboards:\n  S:\n    rests-on: [K1, K2]\n    size: {x: 36, y: 9-1/4, z: 3/4}\n"
      "    reach: {left: 2, front: 4-5/8}\n    fix: [wall]\n";
  const std::string placed_twice =
      with_text(with_text(shelf, "    go: up\n", "    at: [33, 0]\n"), "front, at: 5}", "front, at: 4-5/8}");
  std::set<std::string> kinds;
  for (const std::string& off : {with_text(rack, "- P4: {pipe: 10}", "- P4: {pipe: 12}"), shelf, placed_twice}) {
    const json answer = checked(off);
    REQUIRE(answer["verdict"] == "open");
    std::vector<json> cures = answer.value("closure_cures", json::array());
    for (const json& closure : answer["closures"]) {
      for (const json& stock : closure["stock"]) cures.push_back(stock);
    }
    for (const json& cure : cures) {
      CAPTURE(cure.dump());
      if (cure["still_open"] == 0) CHECK(checked(made(off, cure))["verdict"] == "buildable");
      kinds.insert(cure.value("change", "stock"));
    }
  }
  CHECK(kinds == std::set<std::string>{"let-go", "reach", "size", "stock", "surface"});
}

TEST_CASE("a cure that is none is told so") {
  const std::string rack = slurp(scenario("plant-rack"));
  CHECK(run({"edit", "-", "--cure", "wish P1"}, rack).code == 2);
  CHECK(run({"edit", "-", "--cure", "union P99 middle"}, rack).err.find("cannot be made there") != std::string::npos);
  CHECK(run({"edit", "-", "--cure", "let-go rail"}, rack).code == 2);
}

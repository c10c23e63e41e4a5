/// What fit, span, buy, drill and check print, whole. The numbers in whole outputs are what the program gives and guard
/// against change; where they come from is shown in the tests of model and planner.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "tests/support/program/expected.hpp"
#include "tests/support/program/program.hpp"

using dryfit::tests::check_whole_output;
using dryfit::tests::run;
using dryfit::tests::scenario;

namespace {

/// Two trestle posts of unequal stock; the rail between them hangs askew.
const char* const kAskew = R"(dryfit: 1
name: Sawing trestle
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  posts:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - A: {pipe: 12}
      - TA: {tee: right}
      - B: {pipe: 12}
      - EA: {elbow: right}
      - BAR: {pipe: 30}
      - EB: {elbow: down}
      - D: {pipe: 6}
      - TB: {tee: left}
      - C: {pipe: 18}
      - FR: flange
    to: floor
  rail:
    from: TA.right
    parts:
      - RA: {pipe: 18}
      - U: {union: , measured: {length: 2}}
      - RB: {pipe: 10-13/16}
    to: TB.left
)";

/// A shelf that leans, is too wide for its wall, and whose holes are near its edge and wide for their couplings.
const char* const kLeaning = R"(dryfit: 1
name: Leaning shelf
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 4}
runs:
  left:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 6}
      - T1: {tee: right}
      - P2: {pipe: 12}
      - C1: coupling
      - P3: {pipe: 8}
  foot:
    from: T1.right
    parts:
      - R: {pipe: 24}
    to: T2.left
  right:
    from: floor
    parts:
      - FR: flange
      - P4: {pipe: 6}
      - T2: {tee: left}
      - P5: {pipe: 11}
      - C2: coupling
      - P6: {pipe: 8}
boards:
  SHELF:
    through: [P3, P6]
    rests-on: [C1, C2]
    size: {x: 28, y: 9-1/4, z: 3/4}
    reach: {left: 1, front: 4-5/8}
    hole: 1-1/4
    stock: pine
)";

}  // namespace

TEST_CASE("the fit of four scenarios reads exactly as expected") {
  check_whole_output({"fit", "plant-rack.yaml"}, "plant-rack.fit.txt");
  check_whole_output({"fit", "trellis-arm.yaml"}, "trellis-arm.fit.txt");
  check_whole_output({"fit", "cellar-rail-union.yaml", "--units", "both"}, "cellar-rail-union.fit.txt");
  check_whole_output({"fit", "boot-bench-metric.yaml"}, "boot-bench-metric.fit.txt");
  check_whole_output({"fit", "trellis-arm.yaml", "--json", "--units", "both"}, "trellis-arm.fit.json");
}

TEST_CASE("a frame that does not close says by how much and what would close it, exactly as expected") {
  check_whole_output({"fit", "-"}, "sawing-trestle.fit.txt", 1, kAskew);
  check_whole_output({"check", "-"}, "sawing-trestle.check.txt", 1, kAskew);
  check_whole_output({"fit", "-", "--json"}, "sawing-trestle.fit.json", 1, kAskew);
}

TEST_CASE("the drilling lists read exactly as expected") {
  check_whole_output({"drill", "bakery-cart.yaml"}, "bakery-cart.drill.txt");
  check_whole_output({"drill", "potting-hoop-notched.yaml", "--units", "mm"}, "potting-hoop-notched.drill.txt");
  check_whole_output({"drill", "boot-bench-metric.yaml", "--json"}, "boot-bench-metric.drill.json");
  check_whole_output({"drill", "-"}, "leaning-shelf.drill.txt", 0, kLeaning);
}

TEST_CASE("what check says of a shelf that leans and hits its wall reads exactly as expected") {
  check_whole_output({"check", "-", "--units", "both"}, "leaning-shelf.check.txt", 1, kLeaning);
}

TEST_CASE("the shopping lists read exactly as expected") {
  check_whole_output({"buy", "plant-rack.yaml", "--spares"}, "plant-rack.buy.txt");
  check_whole_output({"buy", "boot-bench-metric.yaml"}, "boot-bench-metric.buy.txt");
  check_whole_output({"buy", "trellis-arm.yaml", "--csv", "--spares"}, "trellis-arm.buy.csv");
  check_whole_output({"buy", "work-table.yaml", "--json", "--units", "in"}, "work-table.buy.json");
}

TEST_CASE("ways to make a length read exactly as expected") {
  check_whole_output({"span", "47-3/4", "--size", "1", "--between", "elbow,tee"}, "span-47-3-4.txt");
  check_whole_output(
      {"span", "30", "--size", "3/4", "--measure", "face", "--between", "tee,tee", "--pieces", "2", "--units", "both"},
      "span-face.txt");
  check_whole_output(
      {"span", "300", "--units", "mm", "--standard", "iso7", "--between", "end,end", "--pieces", "2", "--json"},
      "span-iso7.json");
  check_whole_output({"span", "--match", "left post", "--in", "plant-rack.yaml", "--pieces", "3", "--most", "8"},
                     "span-match.txt");
}

TEST_CASE("with a price file the cheaper of two ways with as many joints comes first") {
  const std::string prices =
      "size,item,length,price\n"
      "1,pipe,36,20\n1,pipe,30,15\n1,pipe,24,12\n1,pipe,18,9\n1,pipe,12,3\n1,pipe,10,2.5\n1,pipe,9,2.4\n"
      "1,pipe,8,2.2\n1,pipe,6,2\n1,coupling,,2\n";
  const auto ran = run({"span", "47-3/4", "--size", "1", "--between", "elbow,tee", "--prices", "-", "--json"}, prices);
  REQUIRE(ran.code == 0);
  const auto ways = nlohmann::json::parse(ran.out)["ways"];
  REQUIRE(ways.size() > 2);  // a floor set by hand, so that there is something to sort
  for (std::size_t i = 1; i < ways.size(); ++i) {
    const auto& a = ways[i - 1];
    const auto& b = ways[i];
    if (a["joints"] != b["joints"]) {
      CHECK(a["joints"] < b["joints"]);
    } else if (!a["cost"].is_null() && !b["cost"].is_null()) {
      CHECK(a["cost"] <= b["cost"]);
    } else {
      CHECK_FALSE((a["cost"].is_null() && !b["cost"].is_null()));
    }
  }
  CHECK(ways[0]["joints"] < ways.back()["joints"]);
}

TEST_CASE("a number that rests on a row from memory is marked in JSON, and in text by a star with its footnote") {
  const auto json = nlohmann::json::parse(run({"fit", scenario("trellis-arm"), "--json"}).out);
  for (const auto& closure : json["closures"]) {
    CHECK(closure["rests_on_memory"] == nlohmann::json::array({"gap_mm", "left_mm"}));
  }
  CHECK_FALSE(json["measure"].empty());
  const std::string text = run({"fit", scenario("trellis-arm")}).out;
  CHECK(text.find("* Unverified dimensions.") != std::string::npos);
  CHECK(text.find("`measured`") != std::string::npos);
}

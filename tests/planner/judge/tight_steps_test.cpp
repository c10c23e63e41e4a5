/// What goes, or does not go, by less than 1/64 in is said.
#include "planner/judge/tight_steps.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include "model/placing/reader.hpp"
#include "planner/order/margin.hpp"
#include "planner/order/order.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/random_benches.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

#include <nlohmann/json.hpp>

namespace dryfit::test {
namespace {

/// A shelf on a coupling, and a ledge on the wall so many mm over it.
std::string ledge(double over) {
  // Flange 19.05 - 8.61, pipe 200, coupling 38.61 - 8.61: its top at 240.44; the shelf is 19 thick (sizes from memory).
  return fmt::format(R"(
dryfit: 1
name: Ledge
units: mm
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
  wall: {{normal: front, at: 100}}
runs:
  post: {{from: floor, at: [0, 0], parts: [F: flange, A: {{pipe: 200}}, C: coupling, B: {{pipe: 150}}, K: cap]}}
boards:
  S: {{through: [B], rests-on: [C], size: {{x: 200, y: 180, z: 19}}, reach: {{left: 100, front: 100}}}}
  L: {{height: {:.3f}, size: {{x: 300, y: 60, z: 19}}, at: [-150, 40], fix: [wall]}}
)",
                     259.44 + over);
}

/// C is screwed onto A last, with the shelf on it: it comes down by the thread, 8.61 mm.
const std::vector<std::string> kCouplingLast = {"fasten L/wall", "fasten F/floor", "screw A/F.up",  "screw B/C.up",
                                                "slide S/B",     "screw B/K.down", "screw A/C.down"};

std::vector<planner::TightStep> tight(const std::string& text) {
  const Workpiece piece = workpiece(text);
  std::vector<planner::GivenStep> steps;
  for (const std::string& line : kCouplingLast) steps.push_back(given_step(piece, line));
  return planner::tight_steps(piece.frame, piece.list, steps);
}

}  // namespace

// Bodies may share half a millimetre; 1/64 in is 0.397 mm. The thread of 8.61 mm then takes 8.11 of room, give or take.
TEST_CASE("a step is tight when 1/64 in of room less, or more, makes it another one") {
  CHECK(tight(ledge(9.0)).empty());
  CHECK(tight(ledge(8.6)).empty());
  const auto goes = tight(ledge(8.3));
  REQUIRE(goes.size() == 1);
  CHECK(goes[0].number == 7);
  CHECK(goes[0].legal);
  CHECK(goes[0].why.find("S") != std::string::npos);
  const auto lacks = tight(ledge(7.9));
  REQUIRE(lacks.size() == 1);
  CHECK(lacks[0].number == 7);
  CHECK_FALSE(lacks[0].legal);
  CHECK(tight(ledge(7.0)).empty());
}

TEST_CASE("replay tells tight steps, in words and as JSON, and changes no verdict for them") {
  const tests::ScratchFolder folder;
  nlohmann::json steps = nlohmann::json::array();
  for (const std::string& line : kCouplingLast) {
    const auto space = line.find(' ');
    steps.push_back({{"action", line.substr(0, space)}, {"contacts", {line.substr(space + 1)}}});
  }
  const std::string file = folder.file("steps.json", steps.dump());
  for (const auto& [over, legal, said] : {std::tuple{8.3, true, "Step 7 goes by less than 0.4 mm of room."},
                                          {7.9, false, "Step 7 lacks less than 0.4 mm of room"},
                                          {9.0, true, ""}}) {
    CAPTURE(over);
    const std::string frame = folder.file("ledge.yaml", ledge(over));
    const tests::Ran text = tests::run({"replay", frame, file});
    CHECK(text.code == (legal ? 0 : 1));
    CHECK(text.out.find(*said == '\0' ? "works" : said) != std::string::npos);
    CHECK((text.out.find("of room") != std::string::npos) == (*said != '\0'));
    const auto answer = nlohmann::json::parse(tests::run({"replay", frame, file, "--json"}).out);
    for (const std::string& fault : tests::faults_by_schema("replay", answer)) FAIL_CHECK(fault);
    CHECK(answer["tight_steps"].size() == (*said == '\0' ? 0 : 1));
  }
}

TEST_CASE("a pipe in the hole that is drilled for it is no near miss, one in a tighter hole is") {
  // 1/2 in pipe is 0.840 in outside (ASME B36.10). The usual bit is 7/8: 0.889 mm of play. In 22 mm (0.866 in) it has
  // 0.67.
  const auto shelf = [](const std::string& hole) {
    return "dryfit: 1\nunits: in\npipe: {standard: npt, size: 1/2}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n"
           "  l: {from: floor, at: [0, 0], parts: [FA: flange, P1: {pipe: 12}, C1: coupling, P2: {pipe: 12}, K1: cap]}\n"
           "boards:\n  S: {through: [P2], rests-on: [C1], size: {x: 12, y: 8, z: 3/4}, reach: {left: 6, front: 4}" +
           hole + "}\n";
  };
  const auto near = [&](const std::string& hole) {
    const model::Frame frame = model::read_frame(shelf(hole), "shelf.yaml");
    const planner::ContactList list = planner::contacts_of(frame);
    REQUIRE(planner::find_order(frame, list).buildable);
    return planner::margin_of(frame, list, true).other_verdict;
  };
  CHECK_FALSE(near(""));
  CHECK(near(", hole: 22 mm"));
}

TEST_CASE("a verdict is within a hair exactly when it is another one with a hair less or more") {
  int near = 0, locked = 0;
  for (std::uint32_t seed = 1; seed <= 150; ++seed) {
    CAPTURE(seed);
    const RandomBench bench = random_bench(seed, {3, 24});
    const planner::ContactList list = planner::contacts_of(bench.frame);
    const bool buildable = planner::find_order(bench.frame, list).buildable;
    const double by = buildable ? -planner::kHairOfRoom : planner::kHairOfRoom;
    const planner::ContactList other = planner::with_more_room(list, by);
    const bool otherwise = planner::find_order(bench.frame, other).buildable;
    const planner::Margin margin = planner::margin_of(bench.frame, list, buildable);
    CHECK(margin.other_verdict == (otherwise != buildable));
    near += margin.other_verdict ? 1 : 0;
    if (margin.other_verdict) {
      const tests::ScratchFolder folder;
      const std::string file = folder.file("bench.yaml", bench.text);
      const auto answer = nlohmann::json::parse(tests::run({"check", file, "--json"}).out);
      for (const std::string& fault : tests::faults_by_schema("check", answer)) FAIL_CHECK(fault);
      CHECK(answer["margin"]["else"] == (buildable ? "locked" : "buildable"));
      CHECK(tests::run({"check", file}).out.find("of room. Measure") != std::string::npos);
    }
    locked += buildable ? 0 : 1;
    // Less room never sets free what more room does not.
    if (buildable) {
      const planner::ContactList more = planner::with_more_room(list, planner::kHairOfRoom);
      CHECK(planner::find_order(bench.frame, more).buildable);
    }
  }
  MESSAGE("within a hair: " << near << " of 150, locked " << locked);
  CHECK(near >= 1);  // a floor set by hand
}

}  // namespace dryfit::test

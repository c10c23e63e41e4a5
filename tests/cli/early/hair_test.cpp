/// What 1/64 in decides is told by every answer that rests on it, in words and as JSON. A shelf on a wall, round a post
/// with a coupling of 37.03 mm (1.458 in, from memory) above it.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <string>
#include <vector>

#include "tests/support/program/one_line.hpp"
#include "tests/support/program/part_told.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

namespace {

using dryfit::tests::faults_by_schema;
using dryfit::tests::on_one_line;
using dryfit::tests::part_told;
using dryfit::tests::run;
using dryfit::tests::ScratchFolder;
using nlohmann::json;

std::string shelf(const std::string& hole, const std::string& units = "mm") {
  const bool inches = units == "in";
  return fmt::format(R"(
dryfit: 1
name: Shelf round a post
units: {}
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
  wall: {{normal: front, at: {}}}
runs:
  post: {{from: floor, at: [0, 0], parts: [F: flange, A: {{pipe: {}}}, C: coupling, B: {{pipe: {}}}, G: flange]}}
boards:
  S: {{through: [A], hole: {}, height: {}, size: {}, reach: {{left: {}, back: {}}}, fix: [wall]}}
)",
                     units, inches ? "3" : "75", inches ? "8" : "200", inches ? "8" : "200", hole,
                     inches ? "4-3/4" : "120", inches ? "{x: 8, y: 6, z: 3/4}" : "{x: 200, y: 150, z: 19}",
                     inches ? "4" : "100", inches ? "3" : "75");
}

/// A shelf in whose slot the post has a third of a millimetre.
const char* const kSlot = R"(
dryfit: 1
name: Tight slot
units: mm
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  post: {from: floor, at: [0, 0], parts: [F: flange, A: {pipe: 200}, C: coupling, B: {pipe: 150}, K: cap]}
boards:
  S: {notch: {B: front}, rests-on: [C], hole: 27, size: {x: 180, y: 180, z: 19}, reach: {left: 90, front: 90}}
)";

/// A board on the wall, so high over the flange, behind the post.
std::string over_the_flange(double height) {
  return fmt::format(R"(
dryfit: 1
name: Board over a flange
units: mm
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
  wall: {{normal: front, at: 200}}
runs:
  post: {{from: floor, at: [0, 0], parts: [F: flange, A: {{pipe: 400}}, K: cap]}}
boards:
  L: {{height: {}, size: {{x: 300, y: 182, z: 19}}, at: [-150, 18], fix: [wall]}}
)",
                     height);
}

/// "slide S/A" as a step of a file of steps.
std::string steps(const std::vector<std::string>& lines) {
  json all = json::array();
  for (const std::string& line : lines) {
    const auto space = line.find(' ');
    all.push_back({{"action", line.substr(0, space)}, {"contacts", {line.substr(space + 1)}}});
  }
  return all.dump();
}

const std::vector<std::string> kShelfLate = {"fasten F/floor", "screw A/F.up", "screw A/C.down", "slide S/A",
                                             "fasten S/wall",  "screw B/C.up", "screw B/G.down"};
const std::vector<std::string> kShelfFirst = {"fasten F/floor", "screw A/F.up",   "slide S/A",    "screw A/C.down",
                                              "screw B/C.up",   "screw B/G.down", "fasten S/wall"};
const std::vector<std::string> kFlangeLast = {"screw A/F.up", "screw A/K.down", "fasten L/wall", "fasten F/floor"};

bool has(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

}  // namespace

TEST_CASE("early says what room a hole takes that a coupling almost goes through, and what a hair would change") {
  const ScratchFolder folder;
  const std::string order = folder.file("order.json", steps(kShelfFirst));
  const std::string near = folder.file("near.yaml", shelf("37.3"));
  const std::string text = on_one_line(run({"early", near, "--order", order}).out);
  CHECK(has(text, "C is too tight in the hole for A in S (37 mm in 37.3 mm: 0.3 mm of play, and it takes 0.5 mm)"));
  CHECK(has(text, "Too close to call. Measure first:"));
  CHECK(has(text, "With 0.4 mm more room S can go on until step 6 (B into G)."));
  const json answer = json::parse(run({"early", near, "--order", order, "--json"}).out);
  for (const std::string& fault : faults_by_schema("early", answer)) FAIL_CHECK(fault);
  const json& hair = part_told(answer, "S")["within_hair"];
  REQUIRE(hair.is_object());
  CHECK(hair["within_mm"] == 0.397);
  CHECK(hair["less_room"].is_null());
  CHECK(hair["more_room"]["last_call_step"] == 6);
  CHECK(answer["tight_steps"].empty());
  CHECK(has(on_one_line(run({"early", near, "--order", order, "--part", "S"}).out),
            "Too close to call, measure first: With 0.4 mm more room S can go on until step 6"));

  const std::string goes = folder.file("goes.yaml", shelf("37.6"));
  const std::string other = on_one_line(run({"early", goes, "--order", order}).out);
  CHECK(has(other,
            "With 0.4 mm less room put S on before step 4 (A into C): C is too tight in the hole for A in "
            "S (37 mm in 37.6 mm: only 0.6 mm of play)"));
  CHECK(part_told(json::parse(run({"early", goes, "--order", order, "--json"}).out),
                  "S")["within_hair"]["less_room"]["last_call_step"] == 4);

  for (const char* plain : {"36.8", "40"}) {
    const std::string file = folder.file("plain.yaml", shelf(plain));
    CHECK_FALSE(has(run({"early", file, "--order", order}).out, "Too close"));
    CHECK(part_told(json::parse(run({"early", file, "--order", order, "--json"}).out), "S")["within_hair"].is_null());
  }
  CHECK(has(run({"early", folder.file("narrow.yaml", shelf("30")), "--order", order}).out, "don't go through"));
}

TEST_CASE("in inches a play is told against 1/64 in, and no two sizes of a sentence look the same") {
  const ScratchFolder folder;
  const std::string order = folder.file("order.json", steps(kShelfFirst));
  const std::string near = folder.file("near.yaml", shelf("1-15/32", "in"));
  const std::string text = on_one_line(run({"early", near, "--order", order}).out);
  CHECK(has(text, "(1-29/64 in in 1-15/32 in: under 1/64 in of play, and it takes just over 1/64 in)"));
  CHECK(has(text, "With 1/64 in more room"));
  CHECK(has(on_one_line(run({"early", near, "--order", order, "--units", "both"}).out),
            "under 1/64 in (0.3 mm) of play, and it takes just over 1/64 in (0.5 mm)"));
}

TEST_CASE("replay says of a step through a hole by how much it goes or does not go") {
  const ScratchFolder folder;
  const std::string order = folder.file("order.json", steps(kShelfLate));
  const auto near = run({"replay", folder.file("near.yaml", shelf("37.3")), order});
  CHECK(near.code == 1);
  CHECK(has(on_one_line(near.out),
            "C on its line is too tight in its hole (37 mm against 37.3 mm: 0.3 mm of play, "
            "and it takes 0.5 mm)"));
  CHECK(has(near.out, "Step 4 lacks less than 0.4 mm of room"));
  const std::string goes = folder.file("goes.yaml", shelf("37.6"));
  const auto over = run({"replay", goes, order});
  CHECK(over.code == 0);
  CHECK(has(on_one_line(over.out), "Step 4 goes by less than 0.4 mm of room."));
  CHECK(has(on_one_line(over.out), "has only 0.6 mm of play in its hole"));
  const json answer = json::parse(run({"replay", goes, order, "--json"}).out);
  for (const std::string& fault : faults_by_schema("replay", answer)) FAIL_CHECK(fault);
  REQUIRE(answer["tight_steps"].size() == 1);
  CHECK(answer["tight_steps"][0]["step"] == 4);
  for (const char* plain : {"36.8", "40"}) {
    CHECK_FALSE(has(run({"replay", folder.file("plain.yaml", shelf(plain)), order}).out, "of room"));
  }
  // early is asked about the same order, and tells the same step.
  CHECK(has(on_one_line(run({"early", goes, "--order", order}).out), "Step 4 goes by less than 0.4 mm of room."));
  CHECK(json::parse(run({"early", goes, "--order", order, "--json"}).out)["tight_steps"] == answer["tight_steps"]);
}

TEST_CASE("half built: what is locked out, or not yet, by a hair") {
  const ScratchFolder folder;
  const std::string order = folder.file("order.json", steps({"fasten F/floor", "screw A/F.up", "screw A/C.down"}));
  for (const auto& [hole, state, other] :
       {std::tuple{"36.8", "closed", ""}, {"37.3", "closed", "open"}, {"37.6", "open", "closed"}, {"40", "open", ""}}) {
    CAPTURE(hole);
    const std::string file = folder.file("shelf.yaml", shelf(hole));
    const json answer = json::parse(run({"early", file, "--order", order, "--built", "3", "--json"}).out);
    for (const std::string& fault : faults_by_schema("early", answer)) FAIL_CHECK(fault);
    const json& part = part_told(answer, "S");
    CHECK(part["state"] == state);
    CHECK(part["state_within_hair"] == (*other == '\0' ? json(nullptr) : json(other)));
    const std::string text = run({"early", file, "--order", order, "--built", "3"}).out;
    CHECK(has(text, "Too close to call, measure first:") == (*other != '\0'));
  }
}

TEST_CASE("the verdict on a slot that a pipe has a third of a millimetre in is told to hang on a hair") {
  const ScratchFolder folder;
  const std::string file = folder.file("slot.yaml", kSlot);
  const auto text = run({"check", file});
  CHECK(text.code == 1);
  CHECK(has(on_one_line(text.out), "It lacks less than 0.4 mm of room."));
  CHECK(json::parse(run({"check", file, "--json"}).out)["margin"]["else"] == "buildable");
}

TEST_CASE("a driver that has its room by a hair, or lacks it by one, is told") {
  const ScratchFolder folder;
  const std::string order = folder.file("order.json", steps(kFlangeLast));
  // The heads of the screws are 6 mm above the floor, and the driver takes 150 mm; half a millimetre less is no matter.
  for (const auto& [height, legal, said] : {std::tuple{156.25, true, ""},
                                            {155.75, true, "Step 4 goes by less than"},
                                            {155.4, false, "Step 4 lacks less than"},
                                            {155.0, false, ""}}) {
    CAPTURE(height);
    const std::string file = folder.file("board.yaml", over_the_flange(height));
    const auto ran = run({"replay", file, order});
    CHECK(ran.code == (legal ? 0 : 1));
    CHECK(has(on_one_line(ran.out), "of room") == (*said != '\0'));
    if (*said != '\0') CHECK(has(on_one_line(ran.out), said));
    if (!legal) CHECK(has(on_one_line(ran.out), "the driver needs 150 mm"));
  }
}

#include "cli/sentences/step_text.hpp"

#include <doctest/doctest.h>

#include "cli/words/say.hpp"
#include "model/placing/reader.hpp"

using namespace dryfit;

namespace {

// A rail that sticks out to the right, turned on whole: its far end goes round N1 at 48 in.
constexpr const char* kRail = R"(dryfit: 1
name: Long rail
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  wall: {normal: front, at: 0}
runs:
  rail:
    from: wall
    at: [0, 60]
    parts:
      - FL: flange
      - N1: {pipe: 4}
      - E1: {elbow: right}
      - R1: {pipe: 48}
)";

cli::StepWords words_for_turn(double swing_radius) {
  const model::Frame frame = model::read_frame(kRail, "rail.yaml");
  const planner::ContactList list = planner::contacts_of(frame);
  planner::Step rail;
  rail.number = 1;
  rail.contacts = {list.find("R1/E1.right")};
  rail.moving = {frame.find("R1")};
  rail.holding = {frame.find("E1")};
  planner::Step turn;
  turn.number = 2;
  turn.contacts = {list.find("N1/E1.back")};
  turn.moving = {frame.find("E1"), frame.find("R1")};
  turn.holding = {frame.find("N1")};
  turn.turns = 4.5;
  turn.swing_radius = swing_radius;
  return cli::words_for(frame, list, {rail, turn}).back();
}

}  // namespace

TEST_CASE("what swings far is told by its radius, which is the room it needs all round") {
  const cli::StepWords words = words_for_turn(48 * 25.4);
  REQUIRE(words.cautions.size() == 1);
  CHECK(words.cautions.front() ==
        "The far end swings at 48 in radius. Clear the space, and have a second person guide it.");
  CHECK(words.hands == 2);
  cli::speak("de");
  const std::string german = words_for_turn(48 * 25.4).cautions.front();
  cli::speak("en");
  CHECK(german.find(" Radius") != std::string::npos);
}

TEST_CASE("what one arm reaches is turned by one person, and nothing is said of it") {
  const cli::StepWords words = words_for_turn(30 * 25.4);
  CHECK(words.cautions.empty());
  CHECK(words.hands == 1);
}

// A cross has no run of its own among its four openings; a tee has.
TEST_CASE("where a cross has to stand is told by its openings, a tee by its run") {
  const auto told = [](const std::string& fitting) {
    const model::Frame frame = model::read_frame(
        "dryfit: 1\nname: Hat pole\nunits: mm\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\n"
        "runs:\n  pole: {from: floor, at: [0, 0], parts: [F: flange, A: {pipe: 200}, T: {tee: left}, C: {pipe: 300}, X: " +
            fitting + "]}\n",
        "pole.yaml");
    const planner::ContactList list = planner::contacts_of(frame);
    planner::Step low;
    low.number = 1;
    low.contacts = {list.find("C/T.up")};
    low.moving = {frame.find("C")};
    low.holding = {frame.find("T")};
    planner::Step top;
    top.number = 2;
    top.contacts = {list.find("C/X.down")};
    top.moving = {frame.find("X")};
    top.holding = {frame.find("C")};
    top.turns = 4.5;
    return cli::words_for(frame, list, {low, top}).back().text;
  };
  CHECK(told("{cross: , plane: xz}").ends_with("Stop with X's openings pointing right and left."));
  CHECK(told("{tee: right, entry: branch}").ends_with("Stop with X's run level, left to right."));
}

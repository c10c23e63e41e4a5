#include "planner/judge/replay.hpp"

#include <string>
#include <vector>

#include <doctest/doctest.h>

#include "tests/support/frames/given_steps.hpp"

using namespace dryfit;
using test::replayed;
using test::tray_rack;
using test::undo;
using test::Workpiece;

namespace {

const std::vector<std::string> kRackOrder{
    "fasten FL/floor",   "fasten FR/floor",   "screw P1/FL.up",   "screw P5/FR.up",
    "screw P1/C1.down",  "screw P5/C3.down",  "screw P2/C1.up",   "screw P6/C3.up",
    "slide S1/P2 S1/P6", "screw P2/C2.down",  "screw P6/C4.down", "screw P3/C2.up",
    "screw P7/C4.up",    "slide S2/P3 S2/P7", "screw P3/K1.down", "screw P7/K2.down"};

std::vector<std::string> with(std::vector<std::string> lines, std::size_t number, const std::string& line) {
  lines[number - 1] = line;
  return lines;
}

}  // namespace

TEST_CASE("an order that makes every contact by legal moves is legal") {
  CHECK(replayed(tray_rack(), kRackOrder) == "legal");
  SUBCASE("a step is one move: a slide and the screws before and after it are three") {
    std::vector<std::string> lines = kRackOrder;
    lines.erase(lines.begin() + 7, lines.begin() + 10);
    lines.insert(lines.begin() + 7, "slide S1/P2 S1/P6 P6/C3.up P2/C2.down");
    CHECK(replayed(tray_rack(), lines) == "step 8: slide takes a hole or a notch, and P6/C3.up is a thread");
  }
}

TEST_CASE("the earliest bad step is reported, though the replay runs backwards") {
  const Workpiece piece = tray_rack();
  CHECK(replayed(piece, with(with(kRackOrder, 5, "lay P1/C1.down"), 16, "lay P7/K2.down")) ==
        "step 5: lay takes a rest, and P1/C1.down is a thread");
  std::vector<planner::GivenStep> steps;
  for (const std::string& line : kRackOrder) steps.push_back(test::given_step(piece, line));
  std::swap(steps[8], steps[9]);
  std::swap(steps[13], steps[15]);
  const planner::ReplayResult result = planner::replay(piece.frame, piece.list, steps);
  CHECK_FALSE(result.legal);
  CHECK(result.first_bad_step == 10);
  CHECK(result.why ==
        "step 10: S1 cannot slide over P2: from above, C2 on its line is wider than its hole (1-29/64 in against "
        "1-1/8 in); from below, C1 on its line is wider than its hole (1-29/64 in against 1-1/8 in)");
}

TEST_CASE("every contact is made exactly once, by a step whose action fits") {
  const Workpiece piece = tray_rack();
  SUBCASE("missing") {
    std::vector<std::string> lines = kRackOrder;
    lines.erase(lines.begin() + 14, lines.end());
    CHECK(replayed(piece, lines) == "no step makes P3/K1.down and P7/K2.down");
    std::vector<planner::GivenStep> none;
    CHECK(planner::replay(piece.frame, piece.list, none).first_bad_step == 1);
  }
  SUBCASE("twice") {
    CHECK(replayed(piece, with(kRackOrder, 5, "screw P1/FL.up")) == "step 5: P1/FL.up is made by step 3 already");
    CHECK(replayed(piece, with(kRackOrder, 3, "screw P1/FL.up P1/FL.up")) == "step 3: it names P1/FL.up twice");
  }
  SUBCASE("the wrong action") {
    CHECK(undo(piece, "screw S1/P2 S1/P6") == "screw takes a thread, and S1/P2 is a hole");
    CHECK(undo(piece, "slide P1/FL.up") == "slide takes a hole or a notch, and P1/FL.up is a thread");
    CHECK(undo(piece, "pass FL/floor") == "pass takes a hole or a notch, and FL/floor is a fastening");
    CHECK(undo(piece, "lay S1/P2") == "lay takes a rest, and S1/P2 is a hole");
    CHECK(undo(piece, "join P1/FL.up") == "join takes a nut, and P1/FL.up is a thread");
    CHECK(undo(piece, "fasten P1/FL.up") == "fasten takes a fastening, and P1/FL.up is a thread");
  }
  SUBCASE("nothing, or what does not exist") {
    const auto judged = [&](const planner::GivenStep& step) {
      std::string why;
      const std::vector<char> made(piece.list.contacts.size(), 1);
      CHECK_FALSE(planner::MoveJudge(piece.frame, piece.list).can_undo(made, step, &why));
      return why;
    };
    CHECK(judged({planner::Action::screw, {}, {}}) == "it makes no contact");
    CHECK(judged({planner::Action::screw, {-1}, {}}) == "contact number -1 does not exist");
    CHECK(judged({planner::Action::screw, {9999}, {}}) == "contact number 9999 does not exist");
    CHECK(judged({planner::Action::screw, {0}, {9999}}) == "part number 9999 does not exist");
    CHECK(planner::replay(piece.frame, piece.list, {{planner::Action::screw, {-1, 9999}, {}}}).why ==
          "step 1: contact number -1 does not exist");
  }
  SUBCASE("not made in the state that is asked about") {
    CHECK(undo(piece, "screw P3/K1.down", {"P3/K1.down"}) == "P3/K1.down is not made");
  }
}

TEST_CASE("a step is one move, and its word fits all that it makes") {
  const Workpiece piece = tray_rack();
  SUBCASE("not a whole build, under whatever word") {
    std::string all;
    for (const std::string& step : kRackOrder) all += step.substr(step.find(' '));
    CHECK(replayed(piece, {"screw" + all}) == "step 1: screw takes a thread, and FL/floor is a fastening");
    CHECK(replayed(piece, {"fasten" + all}) == "step 1: fasten takes a fastening, and P1/FL.up is a thread");
    CHECK(replayed(piece, {"slide" + all}) == "step 1: slide takes a hole or a notch, and FL/floor is a fastening");
  }
  SUBCASE("not two joints, nor two fastenings") {
    CHECK(undo(piece, "screw P3/K1.down P7/K2.down") == "a step is one move: screw makes one contact at a time");
    CHECK(undo(piece, "fasten FL/floor FR/floor") == "a step is one move: fasten makes one contact at a time");
  }
  SUBCASE("not two boards, nor one board and another") {
    const std::vector<std::string> open{"P3/K1.down", "P7/K2.down", "P3/C2.up", "P7/C4.up", "P2/C2.down", "P6/C4.down"};
    CHECK(undo(piece, "slide S2/P3 S2/P7", {"P3/K1.down", "P7/K2.down"}) == "legal");
    CHECK(undo(piece, "slide S2/P3 S2/P7 S1/P2 S1/P6", open) ==
          "S1 cannot slide over P2 alone: S1/P2, S1/P6, S2/P3 and S2/P7 are not made by one move");
  }
  SUBCASE("a pipe that is passed through a board and screwed in is told as one") {
    CHECK(undo(piece, "screw P3/C2.up S2/P3", {"P3/K1.down"}) == "legal");
    CHECK(undo(piece, "pass S2/P3 P3/C2.up", {"P3/K1.down"}) ==
          "pass takes a hole or a notch, and P3/C2.up is a thread");
  }
}

TEST_CASE("one move can be judged without a judge at hand") {
  const Workpiece piece = tray_rack();
  const std::vector<char> made(piece.list.contacts.size(), 1);
  std::string why = "?";
  CHECK(planner::replay_move_is_legal(piece.frame, piece.list, made, planner::Action::screw,
                                      {piece.list.find("P3/K1.down")}, &why));
  CHECK(why.empty());
  CHECK_FALSE(planner::replay_move_is_legal(piece.frame, piece.list, made, planner::Action::slide,
                                            {piece.list.find("S1/P2"), piece.list.find("S1/P6")}, &why));
  CHECK(why.find("S1 cannot slide over P2: ") == 0);
}

/// What one move may take at once, against trying every move of every state. The frames by hand are told of beside
/// them.
#include "planner/early/shared_slides.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <map>
#include <queue>
#include <set>
#include <string>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/early/fewest.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/frames/pole_in_slots.hpp"
#include "tests/support/frames/random_frames.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using planner::ContactId;
using planner::SharedSlides;
using tests::Design;

namespace {

SharedSlides slides_of(planner::Undoer& undoer) {
  const std::size_t contacts = undoer.list().contacts.size();
  return {undoer, std::vector<char>(contacts, 1), std::vector<char>(contacts, 0)};
}

/// Every state that undo moves reach from `all`, with the fewest moves to it; nothing when there are too many.
std::map<std::vector<char>, int> depths_of(planner::Undoer& undoer, const std::vector<char>& all) {
  std::map<std::vector<char>, int> depth{{all, 0}};
  std::queue<std::vector<char>> open;
  for (open.push(all); !open.empty() && depth.size() < 3000; open.pop()) {
    const std::vector<char> made = open.front();
    for (const planner::Move& move : undoer.all_moves(planner::State(undoer.list(), made))) {
      std::vector<char> next = made;
      for (const ContactId c : move.contacts) next[at(c)] = 0;
      if (depth.emplace(next, depth[made] + 1).second) open.push(std::move(next));
    }
  }
  return open.empty() ? depth : std::map<std::vector<char>, int>{};
}

bool hole_like(const planner::Contact& c) {
  return c.kind == planner::ContactKind::hole || c.kind == planner::ContactKind::notch;
}

struct Met {
  int of_one_board = 0;
  int of_two_boards = 0;
};

/// Holds what is told of two contacts against a move that takes both after `depth` moves.
void hold_pair_against(planner::Undoer& undoer, SharedSlides& shared, const std::vector<char>& made, int depth,
                       ContactId c, ContactId d, Met& met) {
  const planner::Contact &first = undoer.list().contact(c), &second = undoer.list().contact(d);
  CAPTURE(first.id);
  CAPTURE(second.id);
  if (first.kind == planner::ContactKind::hole && second.kind == planner::ContactKind::hole) {
    const SharedSlides::Needed& needed = shared.needed(c, d);
    CHECK(needed.least <= depth);
    for (const auto& set : needed.one_of_each) {
      CHECK(std::any_of(set.begin(), set.end(), [&](ContactId e) { return made[at(e)] == 0; }));
    }
  }
  const int board = undoer.frame().part(first.a).board, other = undoer.frame().part(second.a).board;
  CHECK(shared.least_before(board, other) <= depth);
  ++(board == other ? met.of_one_board : met.of_two_boards);
}

/// The same for all pairs that the move takes.
void hold_against(planner::Undoer& undoer, SharedSlides& shared, const std::vector<char>& made, int depth,
                  const planner::Move& move, Met& met) {
  for (const ContactId c : move.contacts) {
    for (const ContactId d : move.contacts) {
      if (c >= d || !hole_like(undoer.list().contact(c)) || !hole_like(undoer.list().contact(d))) continue;
      hold_pair_against(undoer, shared, made, depth, c, d, met);
    }
  }
}

}  // namespace

TEST_CASE("no move of any state takes two holes or slots at once before what is told to be needed has come") {
  Met met;
  int frames = 0;
  for (std::uint32_t seed = 1; frames < 150 && seed < 5000; ++seed) {
    CAPTURE(seed);
    const Design a(test::random_frame(seed, {4, 13}).frame);
    if (a.frame.boards.empty() || !a.buildable()) continue;
    planner::Undoer undoer(a.frame, a.list);
    const auto depths = depths_of(undoer, std::vector<char>(a.list.contacts.size(), 1));
    if (depths.empty()) continue;
    ++frames;
    SharedSlides shared = slides_of(undoer);
    for (const auto& [made, depth] : depths) {
      for (const planner::Move& move : undoer.all_moves(planner::State(a.list, made))) {
        hold_against(undoer, shared, made, depth, move, met);
      }
    }
  }
  CHECK(frames >= 100);
  CHECK(met.of_one_board >= 1000);  // a floor set by hand, as below
}

TEST_CASE("nor does any move on random ways down the scenarios, where poles leave several boards at once") {
  Met met;
  std::mt19937 rng(5);
  for (const std::string& file : tests::scenario_files()) {
    CAPTURE(file);
    const Design a(tests::slurp(file));
    if (!a.buildable() || a.frame.boards.size() < 2 || a.list.contacts.size() > 60) continue;
    planner::Undoer undoer(a.frame, a.list);
    SharedSlides shared = slides_of(undoer);
    for (int walk = 0; walk < 12; ++walk) {
      planner::State state(a.list);
      for (int depth = 0;; ++depth) {
        const std::vector<planner::Move> moves = undoer.all_moves(state);
        if (moves.empty()) break;
        for (const planner::Move& move : moves) hold_against(undoer, shared, state.all(), depth, move, met);
        state.undo(moves[rng() % moves.size()].contacts);
      }
    }
  }
  CHECK(met.of_one_board >= 100);
  CHECK(met.of_two_boards >= 30);
}

TEST_SUITE("slow") {
  TEST_CASE("nor does any move of any state of the book's frames, counted from any state on the way") {
    Met met;
    std::vector<std::string> paths;
    for (const auto& entry : std::filesystem::recursive_directory_iterator(DRYFIT_SOURCE_DIR "/tests/fitter")) {
      const std::string name = entry.path().string();
      if (name.ends_with(".yaml") && !name.ends_with(".truth.yaml")) paths.push_back(name);
    }
    std::sort(paths.begin(), paths.end());
    for (const std::string& path : paths) {
      CAPTURE(path);
      const Design a(tests::slurp(path));
      if (a.frame.boards.empty() || a.list.contacts.size() > 12) continue;
      planner::Undoer undoer(a.frame, a.list);
      const auto all = depths_of(undoer, std::vector<char>(a.list.contacts.size(), 1));
      std::size_t number = 0;
      for (const auto& [start, from_whole] : all) {
        if (number++ % (1 + all.size() / 6) != 0) continue;
        SharedSlides shared(undoer, start, std::vector<char>(start.size(), 0));
        for (const auto& [made, depth] : depths_of(undoer, start)) {
          for (const planner::Move& move : undoer.all_moves(planner::State(a.list, made))) {
            hold_against(undoer, shared, made, depth, move, met);
          }
        }
      }
    }
    CHECK(met.of_one_board >= 50);
    CHECK(met.of_two_boards >= 30);
  }
}

// Each shelf hangs between two couplings of either post: a post moved up or down for one shelf takes a coupling through
// the next. The top shelf leaves both of its pipes at once only when an end of each is open: the coupling below or the
// cap above.
TEST_CASE(
    "no two shelves of a plant rack leave in one move, and one leaves both posts only when an end of each is open") {
  const Design a(tests::slurp(tests::scenario("plant-rack")));
  planner::Undoer undoer(a.frame, a.list);
  SharedSlides shared = slides_of(undoer);
  for (int board = 0; board < 3; ++board) {
    for (int other = 0; other < board; ++other) CHECK(shared.least_before(board, other) == SharedSlides::kNever);
  }
  const SharedSlides::Needed& top = shared.needed(a.list.find("S3/P5"), a.list.find("S3/P10"));
  CHECK(top.least >= 1);
  std::set<std::set<std::string>> told;
  for (const auto& set : top.one_of_each) told.insert(a.names(set));
  CHECK(told.contains({"P5/C3.up", "P5/K1.down"}));
  CHECK(told.contains({"P10/C6.up", "P10/K2.down"}));
}

// A pole that stands in the open slots of two boards on the wall: with its foot's screws out it is drawn forward, out
// of both at once. Two moves.
TEST_CASE("a pole leaves the slots of two boards in one move, once its foot is loose") {
  const Design a(test::kPoleInSlots);
  planner::Undoer undoer(a.frame, a.list);
  SharedSlides shared = slides_of(undoer);
  CHECK(shared.least_before(0, 1) == 1);
  const std::vector<ContactId> gone{a.list.find("S1/P2"), a.list.find("S2/P3")};
  const planner::FewestMoves fewest = planner::fewest_moves(undoer, planner::State(a.list), gone);
  CHECK(fewest.proven());
  REQUIRE(fewest.moves.size() == 2);
  CHECK(a.names(fewest.moves[0].contacts) == std::set<std::string>{"FL/floor"});
  CHECK(a.names(fewest.moves[1].contacts) == std::set<std::string>{"S1/P2", "S2/P3"});
}

// One slot is open to the front, the other to the back: what moves out of the one moves farther into the other. Both
// posts are left in one move only along the posts, and the caps are too wide for the slots: one of them goes first, of
// either post.
TEST_CASE("slots that are open to opposite sides are not left in one move through their open sides") {
  const Design a(tests::slurp(DRYFIT_SOURCE_DIR "/tests/fitter/slots/to-opposite-edges.yaml"));
  planner::Undoer undoer(a.frame, a.list);
  SharedSlides shared = slides_of(undoer);
  const SharedSlides::Needed& both = shared.needed(a.list.find("S/B1"), a.list.find("S/B2"));
  CHECK(both.least >= 1);
  CHECK_FALSE(both.one_of_each.empty());
}

// The shelf is screwed to the wall, and the rung between the posts' tees is clipped to it. While the shelf, the rung, a
// tee on the rung and a post in that tee stay so, that post does not leave the shelf: on the left no more than on the
// right.
TEST_CASE("before a board leaves two posts at once each post has to come off what holds it to the board's own wall") {
  const Design a(R"(
dryfit: 1
name: Hoop with a rung on the wall
units: mm
pipe: {standard: npt, size: 3/4}
surfaces: {wall: {normal: back, at: -130}}
runs:
  hoop:
    at: [0, 0, 0]
    go: up
    parts: [A1: {pipe: 250}, T1: {tee: right}, P1: {pipe: 240}, E1: {elbow: right}, B1: {pipe: 130}, U: union,
            B2: {pipe: 130}, E2: {elbow: down}, P2: {pipe: 240}, T2: {tee: left}, A2: {pipe: 250}]
  rung: {from: T1.right, parts: [R: {pipe: 300}], to: T2.left}
boards:
  S: {through: [P1, P2], rests-on: [T1, T2], size: {x: 500, y: 240, z: 25}, reach: {left: 60, back: 110}, fix: [wall]}
clips: {R: wall}
)");
  planner::Undoer undoer(a.frame, a.list);
  SharedSlides shared = slides_of(undoer);
  const SharedSlides::Needed& needed = shared.needed(a.list.find("S/P1"), a.list.find("S/P2"));
  CHECK(needed.least == 2);
  const auto told = [&](std::vector<std::string> ids) {
    std::vector<ContactId> set;
    for (const std::string& id : ids) set.push_back(a.list.find(id));
    std::sort(set.begin(), set.end());
    return std::find(needed.one_of_each.begin(), needed.one_of_each.end(), set) != needed.one_of_each.end();
  };
  CHECK(told({"P1/T1.up", "R/T1.right", "S/wall", "R/wall"}));
  CHECK(told({"P2/T2.up", "R/T2.left", "S/wall", "R/wall"}));
}

/// Reach: the screws of a flange are driven and drawn only where a driver has room along them (150 mm, 100 mm with a
/// right-angle driver, a key of the file; common practice, no source). What is true of each frame is said beside it;
/// search, judge and the sampled oracle are asked alike.
#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>

#include "planner/cure/cure.hpp"
#include "planner/judge/replay.hpp"
#include "planner/moves/moves.hpp"
#include "planner/order/order.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/oracle/oracle.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

/// What search, judge and oracle say to drawing the screws of a fastening when the contacts in `gone` are undone: one
/// word when they agree.
std::string screws(const Workpiece& w, const std::string& fastening, const std::vector<std::string>& gone = {}) {
  State state(w.list);
  std::set<std::string> made;
  for (const std::string& id : gone) {
    REQUIRE(w.list.find(id) != model::kNone);
    state.undo({w.list.find(id)});
  }
  for (std::size_t c = 0; c < w.list.contacts.size(); ++c) {
    if (state.all()[c] != 0) made.insert(w.list.contacts[c].id);
  }
  Undoer undoer(w.frame, w.list);
  const bool search = undoer.try_undo(state, w.list.find(fastening)).legal;
  const bool judge = replay_move_is_legal(w.frame, w.list, state.all(), Action::fasten, {w.list.find(fastening)});
  test::Oracle oracle(w.frame);
  bool brute = false;
  for (const test::UndoMove& move : oracle.legal_undo_moves(oracle.state_of(made))) {
    brute = brute || oracle.names(move.undone) == std::set<std::string>{fastening};
  }
  if (search == judge && judge == brute) return search ? "free" : "blocked";
  return fmt::format("search {}, judge {}, oracle {}", search, judge, brute);
}

/// A capped post of `pipe` on a 3/4 in floor flange, under a shelf that is screwed to the wall; its underside so many
/// mm over the plate's face, which is 6 mm over the floor.
Workpiece under_a_shelf(double gap, const std::string& driver = "", const std::string& more = "") {
  return workpiece(fmt::format(R"(dryfit: 1
units: mm
{}
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
  wall: {{normal: front, at: 150}}
runs:
  post: {{from: floor, at: [0, 0], parts: [F: flange, P: {{pipe: 40}}, K: cap]}}
{}boards:
  S: {{height: {}, size: {{x: 600, y: 250, z: 18}}, at: [-300, -100], fix: [wall]}}
)",
                               driver, more, gap + 6.0));
}

TEST_CASE("a shelf over a flange keeps the driver out while it is there") {
  const Workpiece low = under_a_shelf(100);
  CHECK(screws(low, "F/floor") == "blocked");
  CHECK(screws(low, "F/floor", {"S/wall"}) == "free");  // the shelf is not there yet
  CHECK(screws(low, "S/wall") == "free");               // where its screws sit is the builder's choice
  CHECK(screws(under_a_shelf(300), "F/floor") == "free");
  const Order order = find_order(low.frame, low.list);
  REQUIRE(order.buildable);
  CHECK(order.steps.back().contacts == std::vector<ContactId>{low.list.find("S/wall")});
}

TEST_CASE("the way is 150 mm long, and what it meets by less than half a millimetre is no hit") {
  CHECK(screws(under_a_shelf(148), "F/floor") == "blocked");
  CHECK(screws(under_a_shelf(150), "F/floor") == "free");
  CHECK(screws(under_a_shelf(149.8), "F/floor") == "free");
  CHECK(screws(under_a_shelf(98), "F/floor") == "blocked");
  CHECK(screws(under_a_shelf(98), "F/floor", {"S/wall"}) == "free");
}

TEST_CASE("the file may say another driver") {
  CHECK(screws(under_a_shelf(110, "driver: 100"), "F/floor") == "free");
  CHECK(screws(under_a_shelf(90, "driver: 100"), "F/floor") == "blocked");
  CHECK(screws(under_a_shelf(200, "driver: 300"), "F/floor") == "blocked");
  CHECK(under_a_shelf(100).frame.driver == 150.0);
  CHECK(under_a_shelf(100, "driver: 4 in").frame.driver == doctest::Approx(101.6));
}

TEST_CASE("a refusal says how far over the screws what is, and rests on what holds it there") {
  const Workpiece w = under_a_shelf(100);
  Undoer undoer(w.frame, w.list);
  const Attempt attempt = undoer.try_undo(State(w.list), w.list.find("F/floor"));
  REQUIRE(attempt.refusals.size() == 1);
  const Refusal& refusal = attempt.refusals.front();
  CHECK(refusal.why == Refusal::Why::no_reach);
  CHECK(refusal.kind == MoveKind::unfasten);
  CHECK(w.frame.part(refusal.moving).id == "F");
  CHECK(w.frame.part(refusal.blocking).id == "S");
  CHECK(refusal.given == doctest::Approx(100.0));
  CHECK(refusal.wanted == 150.0);
  const ContactId shelf = w.list.find("S/wall");
  CHECK(std::find(refusal.held_by.begin(), refusal.held_by.end(), shelf) != refusal.held_by.end());
  std::string why;
  CHECK_FALSE(
      replay_move_is_legal(w.frame, w.list, State(w.list).all(), Action::fasten, {w.list.find("F/floor")}, &why));
  CHECK(why == "F cannot be screwed on: S is 100 mm over its screws, and the driver needs 150 mm");
}

/// A post on a wall-side floor flange with a rail of its own wall flanges crossing so many mm over it, `aside` mm from
/// its middle: the post is but a nipple and a cap.
Workpiece under_a_rail(double height, double aside) {
  return workpiece(fmt::format(R"(dryfit: 1
units: mm
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
  left: {{normal: right, at: -300}}
runs:
  post: {{from: floor, at: [0, 0], parts: [F: flange, P: {{pipe: 30}}, K: cap]}}
  rail: {{from: left, at: [{}, {}], parts: [G: flange, R: {{pipe: 600}}]}}
)",
                               aside, height));
}

// By hand: the screws stand 31.8 mm from the middle, the rail with the bit is 16.4 mm wide to either side. Over the
// middle it leaves screws at 45 degrees free, 22.5 mm off; 20 mm off the middle one of four is always under it; 45 mm
// off it begins at 28.6 mm, and screws at 45 degrees are free again.
TEST_CASE("a pipe that crosses over the middle of a flange stops nothing: the flange is turned so that it is missed") {
  CHECK(screws(under_a_rail(120, 0), "F/floor") == "free");
  CHECK(screws(under_a_rail(120, 20), "F/floor") == "blocked");
  CHECK(screws(under_a_rail(120, 32), "F/floor") == "blocked");
  CHECK(screws(under_a_rail(120, 45), "F/floor") == "free");
  CHECK(screws(under_a_rail(120, -45), "F/floor") == "free");
  CHECK(screws(under_a_rail(120, -32), "F/floor") == "blocked");
  CHECK(screws(under_a_rail(180, 20), "F/floor") == "free");  // over the way
}

TEST_CASE("the arms of a tee on the flange's own pipe stop nothing, of any size and on both sides") {
  for (const char* size : {"1/2", "3/4", "1", "1-1/4", "1-1/2", "2"}) {
    CAPTURE(size);
    const Workpiece w = workpiece(fmt::format(R"(dryfit: 1
pipe: {{standard: npt, size: {}}}
surfaces:
  floor: {{normal: up, at: 0}}
runs:
  post: {{from: floor, at: [0, 0], parts: [F: flange, N1: {{pipe: 3}}, T: {{cross: , plane: xz}}, P: {{pipe: 20}}]}}
  left: {{from: T.left, parts: [L: {{pipe: 12}}]}}
  right: {{from: T.right, parts: [R: {{pipe: 12}}]}}
)",
                                              size));
    CHECK(screws(w, "F/floor") == "free");
  }
}

TEST_CASE("what is wider than the circle of the screws, on the flange's own pipe, goes on after them") {
  // A 1/2 in flange has its screws on 61 mm (from memory), the band of a 2 in coupling is 75 mm across.
  const Workpiece w = workpiece(R"(dryfit: 1
units: mm
pipe: {standard: npt, size: 1/2}
surfaces:
  floor: {normal: up, at: 0}
runs:
  post: {from: floor, at: [0, 0], parts: [F: flange, N1: {pipe: 60}, C: {coupling: , to-size: 2}, P: {pipe: 300, size: 2}]}
)");
  CHECK(screws(w, "F/floor") == "blocked");
  CHECK(screws(w, "F/floor", {"N1/C.down"}) == "free");
  CHECK(find_order(w.frame, w.list).buildable);
}

/// A hoop on two floor flanges, which close its ring, with a shelf through both legs on couplings; over it another pair
/// of couplings, `room` mm of leg pipe between the two.
Workpiece hoop(double room, const std::string& driver = "") {
  return workpiece(fmt::format(R"(dryfit: 1
units: mm
{}
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
runs:
  hoop:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {{pipe: 80}}
      - C1: coupling
      - P2: {{pipe: {}}}
      - C2: coupling
      - P3: {{pipe: 300}}
      - E1: {{elbow: right}}
      - P4: {{pipe: 500}}
      - E2: {{elbow: down}}
      - P5: {{pipe: 300}}
      - C3: coupling
      - P6: {{pipe: {}}}
      - C4: coupling
      - P7: {{pipe: 80}}
      - FR: flange
    to: floor
boards:
  S: {{through: [P2, P6], rests-on: [C1, C4], size: {{x: 700, y: 200, z: 18}}, reach: {{left: 80, front: 100}}}}
)",
                               driver, room, room));
}

TEST_CASE("a shelf that only hangs on its pipes is pushed up and held there, where it has the room") {
  const Workpiece w = hoop(160);
  CHECK(screws(w, "FL/floor") == "free");
  Undoer undoer(w.frame, w.list);
  const Attempt attempt = undoer.try_undo(State(w.list), w.list.find("FL/floor"));
  REQUIRE(attempt.move.aside.size() == 1);
  CHECK(w.frame.part(attempt.move.aside.front()).id == "S");
  CHECK(find_order(w.frame, w.list).buildable);
}

TEST_CASE("a shelf that couplings hold down over both flanges of a hoop locks it; a right-angle driver frees it") {
  // By hand: the shelf lies about 110 mm over the plates. It has to give 40 mm and has 65 mm less the two threads.
  const Workpiece w = hoop(65);
  CHECK(screws(w, "FL/floor") == "blocked");
  CHECK_FALSE(find_order(w.frame, w.list).buildable);
  const Workpiece low = hoop(65, "driver: 100");
  CHECK(screws(low, "FL/floor") == "free");
  CHECK(find_order(low.frame, low.list).buildable);
}

TEST_CASE("flanges at both ends of short legs lock a plinth, and the right-angle driver is its cheapest cure") {
  const auto plinth = [](const char* leg) {
    return fmt::format(R"(dryfit: 1
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
runs:
  a: {{from: floor, at: [0, 0], parts: [A1: flange, A2: {{pipe: {0}}}, A3: flange], to: TOP.down}}
  b: {{from: floor, at: [24, 0], parts: [B1: flange, B2: {{pipe: {0}}}, B3: flange], to: TOP.down}}
boards:
  TOP: {{size: {{x: 30, y: 12, z: 3/4}}, rests-on: [A3, B3], reach: {{left: 3, front: 6}}}}
)",
                       leg);
  };
  const std::string text = plinth("4-1/2");
  const Workpiece w = workpiece(text);
  const Order order = find_order(w.frame, w.list);
  REQUIRE_FALSE(order.buildable);
  const std::vector<DesignCure> cures = cures_for_knot(w.frame, w.list, text, order.knot);
  REQUIRE_FALSE(cures.empty());
  CHECK(cures.front().changes.front().kind == CureKind::drive);
  CHECK(workpiece(cures.front().text).frame.driver == doctest::Approx(100.0));
  const Workpiece high = workpiece(plinth("12"));
  CHECK(find_order(high.frame, high.list).buildable);
  const Workpiece lower = workpiece(plinth("3"));  // 72 mm from plate to plate: no driver of 100 mm either
  const Order knot = find_order(lower.frame, lower.list);
  REQUIRE_FALSE(knot.buildable);
  for (const DesignCure& cure : cures_for_knot(lower.frame, lower.list, plinth("3"), knot.knot)) {
    CHECK(cure.changes.front().kind != CureKind::drive);
  }
}

TEST_CASE("a flange under a table top is screwed on before the top stands low over the floor") {
  const Workpiece w = workpiece(R"(dryfit: 1
units: mm
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  leg: {from: floor, at: [0, 0], parts: [F: flange, P: {pipe: 400}]}
  short: {from: TOP.down, at: [300, 100], parts: [G: flange, N1: {pipe: 80}]}
boards:
  TOP: {height: 130, size: {x: 600, y: 200, z: 18}, at: [200, -100]}
  SIDE: {height: 140, size: {x: 100, y: 200, z: 18}, at: [100, -100]}
)");
  // Nothing holds the top to the floor: the two hang apart, and the floor is not in the way.
  CHECK(screws(w, "G/TOP") == "free");
}

TEST_CASE("mirrored and turned frames give the same answer") {
  for (const char* wall : {"front", "back", "left", "right"}) {
    CAPTURE(wall);
    const std::string normal = wall;
    const bool across = normal == "front" || normal == "back";
    const double at = normal == "front" || normal == "left" ? 150 : -150;
    const double corner = at > 0 ? -100 : -150;
    const auto place = [&](double gap) {
      return workpiece(fmt::format(R"(dryfit: 1
units: mm
pipe: {{standard: npt, size: 3/4}}
surfaces:
  floor: {{normal: up, at: 0}}
  wall: {{normal: {}, at: {}}}
runs:
  post: {{from: floor, at: [0, 0], parts: [F: flange, P: {{pipe: 40}}, K: cap]}}
boards:
  S: {{height: {}, size: {{{}: 600, {}: 250, z: 18}}, at: [{}], fix: [wall]}}
)",
                                   wall, at, gap + 6.0, across ? "x" : "y", across ? "y" : "x",
                                   across ? fmt::format("-300, {}", corner) : fmt::format("{}, -300", corner)));
    };
    CHECK(screws(place(140), "F/floor") == "blocked");
    CHECK(screws(place(151), "F/floor") == "free");
  }
}

}  // namespace
}  // namespace dryfit::planner

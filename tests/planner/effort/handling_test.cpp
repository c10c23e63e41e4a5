/// What poses cost, by the rates of model/data/effort.csv (common practice, no source).
#include "planner/effort/handling.hpp"

#include <doctest/doctest.h>

#include "model/geometry/at.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/given_steps.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

/// A frame with everything that prices it.
struct Priced {
  explicit Priced(const std::string& text, PosePreference preference = PosePreference::free)
      : w(workpiece(text)), undoer(w.frame, w.list), effort(undoer, 2), handling(undoer, effort, preference) {}

  [[nodiscard]] ContactId contact(const std::string& id) const {
    const ContactId c = w.list.find(id);
    REQUIRE(c != model::kNone);
    return c;
  }
  /// What is left when all contacts of these parts have gone.
  [[nodiscard]] State without(const std::vector<std::string>& parts) const {
    State state(w.list);
    for (const std::string& id : parts) {
      const auto at = std::find_if(w.frame.parts.begin(), w.frame.parts.end(),
                                   [&](const model::Part& part) { return part.id == id; });
      REQUIRE(at != w.frame.parts.end());
      state.undo(w.list.at[dryfit::at(at - w.frame.parts.begin())]);
    }
    return state;
  }
  [[nodiscard]] Move undo(const State& state, const std::string& id) {
    Attempt attempt = undoer.try_undo(state, contact(id));
    REQUIRE(attempt.legal);
    return attempt.move;
  }
  /// In the order standing, laid, over.
  [[nodiscard]] std::vector<double> troubles(const State& before, const Move& move) const {
    std::vector<double> all;
    for (const Pose pose : kAllPoses) all.push_back(handling.trouble(before, move, pose));
    return all;
  }

  Workpiece w;
  Undoer undoer;
  Effort effort;
  Handling handling;
};

/// Post on the floor, shelf on a coupling, cap on top.
const std::string kShelf = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - F: flange
      - P1: {pipe: 24}
      - C: coupling
      - P2: {pipe: 24}
      - K: cap
boards:
  S:
    through: [P2]
    rests-on: [C]
    size: {x: 10, y: 10, z: 3/4}
    reach: {left: 5, front: 5}
)";

const double kBelow = effort_rates().from_below, kFoot = effort_rates().at_the_foot,
             kLevel = effort_rates().board_level, kUphill = effort_rates().board_uphill;

TEST_CASE("a joint made upwards is awkward standing, one made downwards is awkward upside down, laid neither is") {
  Priced frame(kShelf);
  // The cap goes on downwards, and upside down it is the foot.
  State state(frame.w.list);
  state.undo({frame.contact("F/floor")});
  CHECK(frame.troubles(state, frame.undo(state, "P2/K.down")) == std::vector{0.0, 0.0, kFoot});
  // The lower pipe goes up into the coupling, or the coupling with all above it down onto the pipe.
  std::vector<std::vector<double>> both;
  for (const Move& move : frame.undoer.ways(state, frame.contact("P1/C.down"))) {
    both.push_back(frame.troubles(state, move));
  }
  std::sort(both.begin(), both.end());
  // What goes up has the flange at its foot; what goes down has the cap there when the work stands on its head.
  CHECK(both == std::vector<std::vector<double>>{{0.0, 0.0, kFoot}, {kFoot, 0.0, 0.0}});
  // Farther up there is room below.
  for (const Move& move : frame.undoer.ways(state, frame.contact("P2/C.up"))) {
    if (move.moving.size() == 2) CHECK(frame.troubles(state, move) == std::vector{0.0, 0.0, kFoot});
  }
}

TEST_CASE("a joint from below with room under it is only reached from below") {
  // A hook: the drop ends above the floor.
  std::string text = test::arm("12");
  text.replace(text.find("      - K: cap"), 14, "      - D: {elbow: down}\n      - P3: {pipe: 6}\n      - K: cap");
  Priced frame(text);
  State state(frame.w.list);
  state.undo({frame.contact("P3/K.up"), frame.contact("F/floor")});
  CHECK(frame.troubles(state, frame.undo(state, "P3/D.down")) == std::vector{kBelow, 0.0, 0.0});
}

TEST_CASE("no joint is awkward for what is held in one hand") {
  Priced frame(kShelf);
  const State light = frame.without({"S", "C", "P1", "F"});
  CHECK(frame.troubles(light, frame.undo(light, "P2/K.down")) == std::vector{0.0, 0.0, 0.0});
}

TEST_CASE("a shelf goes down over standing pipes, is on edge over lying ones and climbs upside down") {
  Priced frame(kShelf);
  const State bare = frame.without({"K"});
  CHECK(frame.troubles(bare, frame.undo(bare, "S/P2")) == std::vector{0.0, kLevel, kUphill});
}

TEST_CASE("a flange is screwed to a level board from below standing, beside it laid, from above upside down") {
  Priced table(R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces: {floor: {normal: up, at: 0}}
runs:
  left: {from: floor, at: [0, 0], parts: [W1: foot, P1: {pipe: 24}, F1: flange], to: TOP.down}
  right: {from: floor, at: [30, 0], parts: [W2: foot, P2: {pipe: 24}, F2: flange], to: TOP.down}
boards:
  TOP: {at: [-5, -10], size: {x: 40, y: 20, z: 1-1/2}}
)");
  const State whole(table.w.list);
  CHECK(table.troubles(whole, table.undo(whole, "F1/TOP")) == std::vector<double>{6, 8, 0});

  Priced box(R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces: {floor: {normal: up, at: 0}}
runs:
  rod: {from: L.right, at: [10, 10], parts: [F1: flange, P: {pipe: 30}, F2: flange], to: R.left}
boards:
  L: {facing: right, height: 0, at: [0, 0], size: {x: 1, y: 20, z: 20}}
  R: {facing: right, at: [0, 0], size: {x: 1, y: 20, z: 20}}
)");
  const State all(box.w.list);
  CHECK(box.troubles(all, box.undo(all, "F1/L")) == std::vector<double>{0, 0, 0});
}

TEST_CASE("screws to the floor want the work standing") {
  Priced frame(kShelf);
  CHECK(frame.troubles(State(frame.w.list), frame.undo(State(frame.w.list), "F/floor")) ==
        std::vector{0.0, kNever, kNever});
}

TEST_CASE("turning costs by mass, nothing in one hand, and cannot be done with what is screwed to the room") {
  Priced frame(kShelf);
  State state(frame.w.list);
  const Move cap = frame.undo(state, "P2/K.down");
  CHECK(frame.handling.piece_of(state, cap).fastened);
  CHECK(frame.handling.turn(frame.handling.piece_of(state, cap)) == kNever);
  state.undo({frame.contact("F/floor")});
  const PieceInHand whole = frame.handling.piece_of(state, cap);
  CHECK(whole.parts.size() == frame.w.frame.parts.size());
  const double mass = frame.effort.mass_of(whole.parts);
  REQUIRE(mass > effort_rates().in_one_hand);
  CHECK(frame.handling.turn(whole) == doctest::Approx(effort_rates().turn_work + effort_rates().turn_work_mass * mass));
  const State light = frame.without({"S", "C", "P1", "F"});
  CHECK(frame.handling.turn(frame.handling.piece_of(light, cap)) == 0.0);
}

TEST_CASE("what cannot be tilted in its room is not turned, unless that is wished for") {
  // 1.5 m of post under a ceiling that leaves a hand's breadth, and walls that leave no more.
  const std::string tight = R"(  ceiling: {normal: down, at: 1055 mm}
  left: {normal: right, at: -60 mm}
  right: {normal: left, at: 860 mm}
  back: {normal: front, at: 60 mm}
  front: {normal: back, at: -60 mm}
)";
  for (const PosePreference wish : {PosePreference::free, PosePreference::laid}) {
    Priced frame(test::arm("30", tight), wish);
    State state(frame.w.list);
    state.undo({frame.contact("F/floor")});
    const Move cap = frame.undo(state, "P2/K.left");
    const PieceInHand whole = frame.handling.piece_of(state, cap);
    CHECK((frame.handling.turn(whole) >= kNever) == (wish == PosePreference::free));
  }
}

TEST_CASE("a wish weighs on moves that could be made in the pose that is wished for, and not on light pieces") {
  Priced frame(kShelf, PosePreference::laid);
  State state(frame.w.list);
  const Move screws = frame.undo(state, "F/floor");
  CHECK(frame.handling.unwanted(state, screws, Pose::standing) == 0.0);
  state.undo({frame.contact("F/floor")});
  const Move cap = frame.undo(state, "P2/K.down");
  CHECK(frame.handling.unwanted(state, cap, Pose::standing) > kUphill);
  CHECK(frame.handling.unwanted(state, cap, Pose::laid) == 0.0);
  const State light = frame.without({"S", "C", "P1", "F"});
  CHECK(frame.handling.unwanted(light, cap, Pose::standing) == 0.0);
}

TEST_CASE("what hangs on a wall is held until it is screwed on; what lies or stands on its feet is not") {
  Priced wall(R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  wall: {normal: front, at: 0}
runs:
  peg:
    from: wall
    at: [0, 40]
    parts: [F: flange, P: {pipe: 6}, K: cap]
)");
  CHECK(wall.handling.hangs());
  State hung(wall.w.list);
  const Move screws = wall.undo(hung, "F/wall");
  CHECK(wall.handling.always_propped(hung, screws, Pose::standing));  // while it is being screwed on
  CHECK_FALSE(wall.handling.always_propped(hung, wall.undo(hung, "P/K.back"), Pose::standing));
  hung.undo(screws.contacts);
  CHECK(wall.handling.always_propped(hung, wall.undo(hung, "P/K.back"), Pose::standing));
  CHECK_FALSE(wall.handling.always_propped(hung, wall.undo(hung, "P/K.back"), Pose::laid));
  Priced frame(test::arm("36"));
  CHECK_FALSE(frame.handling.hangs());
  State state(frame.w.list);
  state.undo({frame.contact("F/floor")});
  const PieceInHand whole = frame.handling.piece_of(state, frame.undo(state, "P2/K.left"));
  CHECK(frame.handling.propped(whole, Pose::standing));  // the arm tips it
  CHECK_FALSE(frame.handling.propped(whole, Pose::laid));
}

TEST_CASE("a part on its own is brought to what is made up, of two pieces the one that turns") {
  Priced frame(kShelf);
  State state(frame.w.list);
  const Move cap = frame.undo(state, "P2/K.down");
  state.undo(cap.contacts);
  CHECK(frame.w.frame.part(frame.handling.brought_by(state, cap)).id == "K");
  const Move screws = frame.undo(state, "F/floor");
  state.undo(screws.contacts);
  CHECK(frame.handling.brought_by(state, screws) == model::kNone);
}

}  // namespace
}  // namespace dryfit::planner

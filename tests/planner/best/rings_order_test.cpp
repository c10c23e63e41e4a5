/// What orders do with rings that hold each other, on frames whose truth a fitter knows.
#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "planner/best/best_order.hpp"
#include "planner/best/standing.hpp"
#include "planner/judge/replay.hpp"
#include "planner/state/links.hpp"
#include "planner/state/overlap.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/frames/linked_frames.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

struct Ordered {
  explicit Ordered(const std::string& text) : w(workpiece(text)) {
    best = find_best_order(w.frame, w.list);
    REQUIRE(best.order.buildable);
    const Undoer undoer(w.frame, w.list);
    plan = standing_of(w.frame, w.list, Effort(undoer, 2), best);
    std::vector<GivenStep> given;
    for (const Step& step : best.order.steps) given.push_back({step.action, step.contacts, step.moving});
    const ReplayResult judged = replay(w.frame, w.list, given);
    CHECK_MESSAGE(judged.legal, judged.why);
  }
  Workpiece w;
  BestOrder best;
  StandingPlan plan;
};

/// While a ring holds a part that nothing joins it with, nothing turns or slides but bare parts, and no pose is changed
/// of one without the other.
void check_nothing_moves_in_rings(const Ordered& ordered) {
  const Links links(ordered.w.frame, ordered.w.list);
  std::vector<State> before;
  State state(ordered.w.list);
  for (const Move& move : ordered.best.undo_moves) {
    before.push_back(state);
    const bool by_hand = move.kind == MoveKind::undo_nut || move.kind == MoveKind::unfasten;
    const PartId part = ordered.w.list.contact(move.contacts.front()).a;
    if (!by_hand && move.moving.size() > 1) CHECK(links.linked_with(state, part).empty());
    state.undo(move.contacts);
  }
  for (const PoseChange& change : ordered.best.poses.changes) {
    for (const PartId p : change.piece.parts) {
      for (const int other : links.linked_with(before[change.after], p)) {
        CHECK(std::binary_search(change.piece.parts.begin(), change.piece.parts.end(), other));
      }
    }
  }
}

TEST_CASE("rings that nothing joins in the end are closed round each other by hand, and the order says so") {
  int linked = 0;
  for (const test::LinkedFrame& known : test::linked_frames()) {
    CAPTURE(known.name);
    const Ordered ordered(known.text);
    CHECK(ordered.plan.in_rings.empty() == !known.linked);
    for (const InRing& ring : ordered.plan.in_rings) {
      CHECK(ring.closes);  // never a part made up in a ring that is closed already
      CHECK(ring.until == 0);
      const Action action = ordered.best.order.steps[at(ring.step) - 1].action;
      CHECK((action == Action::join || action == Action::fasten));
    }
    check_nothing_moves_in_rings(ordered);
    CHECK(ordered.best.effort.unwanted == 0.0);
    linked += known.linked ? 1 : 0;
  }
  CHECK(linked >= 4);
}

TEST_CASE("whatever ring stands about whatever pole or ring, the order closes it in its place") {
  std::mt19937 rng(5);
  int linked = 0, apart = 0;
  for (int trial = 0; trial < 120; ++trial) {
    const std::string text = test::random_linked_text(rng);
    const Workpiece w = workpiece(text);
    if (!overlaps_of(w.frame, w.list).empty()) continue;
    CAPTURE(text);
    const Ordered ordered(text);
    const Links links(w.frame, w.list);
    CHECK(ordered.plan.in_rings.empty() == links.threadings().empty());
    for (const InRing& ring : ordered.plan.in_rings) CHECK(ring.closes);
    check_nothing_moves_in_rings(ordered);
    (links.threadings().empty() ? apart : linked) += 1;
  }
  CHECK(linked >= 10);  // else the generator makes too few
  CHECK(apart >= 10);
}

TEST_CASE("a ring that is screwed to the wall is closed round a fixed pole when the room holds both") {
  // Then it is closed where it belongs, with nothing that hangs loose in anything. 25 s of working on what is screwed
  // to the room are no reason to close it before.
  const Ordered ordered(R"(dryfit: 1
units: in
pipe: {standard: npt, size: 1/2}
surfaces:
  floor: {normal: up, at: 0}
  ceiling: {normal: down, at: 31}
  wall: {normal: front, at: 0}
runs:
  pole:
    from: floor
    at: [0, -12]
    parts: [FB: flange, P: {pipe: 30}, FT: flange]
    to: ceiling
  stay:
    from: wall
    at: [0, 15]
    parts: [FW: flange, S: {pipe: 6}, T: {tee: right, entry: branch}]
  ring:
    from: T.right
    parts:
      - A1: {pipe: 4}
      - E1: {elbow: front}
      - A2: {pipe: 9}
      - E2: {elbow: left}
      - A3: {pipe: 4}
      - U: union
      - A4: {pipe: 4}
      - E3: {elbow: back}
      - A5: {pipe: 9}
      - E4: {elbow: right}
      - A6: {pipe: 4}
    to: T.left
)");
  const Links links(ordered.w.frame, ordered.w.list);
  REQUIRE_FALSE(links.threadings().empty());
  CHECK(ordered.plan.in_rings.empty());
  check_nothing_moves_in_rings(ordered);
}

TEST_CASE("of an order that somebody else made it is told which step closes a ring round what") {
  // By hand: whichever of two linked rings is closed last is closed round the other; nothing joins the two.
  const auto known = test::linked_frames();
  const auto chain = std::find_if(known.begin(), known.end(), [](const test::LinkedFrame& frame) {
    return frame.name.find("chain") != std::string::npos;
  });
  REQUIRE(chain != known.end());
  const Workpiece w = workpiece(chain->text);
  std::vector<std::vector<ContactId>> first, last;  // the ring with U is closed first, or last
  for (const char* late : {"U", "UB"}) {
    auto& steps = late == std::string("U") ? last : first;
    for (ContactId c = 0; c < static_cast<ContactId>(w.list.contacts.size()); ++c) {
      if (w.list.contact(c).id != late) steps.push_back({c});
    }
    steps.push_back({w.list.find(late)});
  }
  for (const auto* steps : {&first, &last}) {
    const std::vector<InRing> rings = rings_in_order(w.frame, w.list, *steps);
    REQUIRE_FALSE(rings.empty());
    CHECK(rings.back().step == static_cast<int>(steps->size()));
    for (const InRing& ring : rings) CHECK(ring.until == 0);
  }
}

}  // namespace
}  // namespace dryfit::planner

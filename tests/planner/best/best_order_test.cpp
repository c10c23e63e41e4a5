#include "planner/best/best_order.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "planner/best/shorter_walk.hpp"
#include "planner/judge/replay.hpp"
#include "tests/support/answers/best_steps.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/naive/naive_effort.hpp"
#include "tests/support/program/program.hpp"

namespace dryfit::planner {
namespace {

using test::Workpiece;
using test::workpiece;

BestOrder best_of(const Workpiece& w, BestOptions options = {}) {
  BestOrder best = find_best_order(w.frame, w.list, options);
  if (best.order.buildable) {
    const ReplayResult judged = replay(w.frame, w.list, test::given_steps(best.order.steps));
    CHECK_MESSAGE(judged.legal, judged.why);
    CHECK(best.effort.lower_bound <= best.effort.value + 1e-9);
    CHECK(best.effort.base <= best.effort.lower_bound + 1e-9);
  }
  return best;
}

const std::string kTwoPosts = test::two_posts("30", R"(  S1:
    through: [P3, P7]
    rests-on: [C1, C2]
    size: {x: 36, y: 9-1/4, z: 3/4}
    reach: {left: 2, front: 4-5/8}
    fix: [wall]
)",
                                              "  wall: {normal: front, at: 4-5/8}\n");

TEST_CASE("a frame of single parts costs the base and a turn of the work, and that is proven") {
  const Workpiece w = workpiece(kTwoPosts);
  const BestOrder best = best_of(w);
  CHECK(best.order.buildable);
  CHECK(best.effort.proven);
  CHECK(best.effort.value == doctest::Approx(best.effort.base + best.effort.handling));
}

TEST_CASE("fastening to the room comes last, the board just before the caps that trap it") {
  const Workpiece w = workpiece(kTwoPosts);
  const BestOrder best = best_of(w);
  const int last = best.order.steps.back().number;
  CHECK(test::step_of(w, best, "S1/wall") == last);
  CHECK(test::step_of(w, best, "FL/floor") > last - 3);
  CHECK(test::step_of(w, best, "FR/floor") > last - 3);
  const int board = test::step_of(w, best, "S1/P3");
  CHECK(test::step_of(w, best, "S1/P7") == board);
  CHECK(std::min(test::step_of(w, best, "P3/K1.down"), test::step_of(w, best, "P7/K2.down")) == board + 1);
}

// The pipes of the posts go on one after the other, in either order; what is laid or screwed down too soon has to be
// held.
TEST_CASE("of what was weighed it is said what else would have cost more, and by how much") {
  int dearer = 0;
  for (const char* const name : {"plant-rack", "towel-ladder", "work-table"}) {
    const Workpiece w = workpiece(tests::slurp(tests::scenario(name)));
    const BestOrder best = best_of(w);
    REQUIRE(best.effort.proven);
    for (std::size_t k = 0; k < best.choices.size(); ++k) {
      const StepChoice& choice = best.choices[k];
      if (!choice.weighed) continue;
      CHECK(choice.runner_up >= 0.0);
      REQUIRE_FALSE(choice.instead.empty());
      CHECK(choice.instead != best.undo_moves[k].contacts);
      dearer += choice.runner_up > 1.0 ? 1 : 0;
    }
  }
  CHECK(dearer >= 1);
}

TEST_CASE("a post of couplings is built from its foot") {
  const Workpiece w = workpiece(tests::tower_text(12));
  const BestOrder best = best_of(w);
  CHECK(best.effort.proven);
  double height = -1.0;
  for (const Step& step : best.order.steps) {
    if (step.action != Action::screw) continue;
    const double z = w.list.contact(step.contacts.front()).on_axis.z;
    CHECK(z >= height - 1.0);
    height = z;
  }
}

TEST_CASE("between two shelves each post is visited once") {
  const Workpiece w = workpiece(tests::rack_text(1, 4));
  const BestOrder best = best_of(w);
  // Which side of the middle the screwing is on; a board begins a new stretch.
  double left = 1e9, right = -1e9;
  for (const Contact& c : w.list.contacts) {
    if (c.kind != ContactKind::thread) continue;
    left = std::min(left, c.on_axis.x);
    right = std::max(right, c.on_axis.x);
  }
  int boards = 0, changes = 0, side = 0;
  for (const Step& step : best.order.steps) {
    if (step.action == Action::slide) {
      if (boards > 0) CHECK(changes <= 1);
      ++boards;
      changes = side = 0;
    } else if (step.action == Action::screw) {
      const double x = w.list.contact(step.contacts.front()).on_axis.x;
      const int now = x < 0.5 * (left + right) ? -1 : 1;
      if (side != 0 && now != side) ++changes;
      side = now;
    }
  }
  CHECK(boards == 4);
}

TEST_CASE("exchanging steps for a shorter walk keeps the effort and leaves nothing more to exchange") {
  for (const std::string& text : {tests::rack_text(2, 3), tests::ladder_text(4, true), kTwoPosts}) {
    const Workpiece w = workpiece(text);
    BestOrder best = best_of(w);
    Undoer undoer(w.frame, w.list);
    const Effort effort(undoer, 2);
    const double walk = walk_of(w.list, effort, best.undo_moves);
    const Handling handling(undoer, effort, PosePreference::free);
    double extra = best.effort.handling;
    for (const StepChoice& choice : best.choices) extra += choice.extra.total();
    CHECK(best.effort.base + extra == doctest::Approx(best.effort.value));
    shorten_walk(undoer, effort, handling, best);
    CHECK(plan_poses(handling, w.list, best.undo_moves).handling == doctest::Approx(best.effort.handling));
    CHECK(walk_of(w.list, effort, best.undo_moves) == doctest::Approx(walk));
  }
}

TEST_CASE("a ladder with unions is made as two stiles that the unions join") {
  const Workpiece w = workpiece(tests::ladder_text(3, true));
  const BestOrder best = best_of(w);
  CHECK(best.effort.proven);
  int first_join = 1000, starts = 0;
  for (const Step& step : best.order.steps) {
    if (step.action == Action::join) first_join = std::min(first_join, step.number);
  }
  for (const StepChoice& choice : best.choices) starts += choice.extra.start > 0.0 ? 1 : 0;
  CHECK(first_join < 1000);
  CHECK(starts <= 1);
}

TEST_CASE("a locked frame keeps its knot") {
  const Workpiece w = workpiece(tests::ladder_text(2, false));
  const BestOrder best = find_best_order(w.frame, w.list);
  CHECK_FALSE(best.order.buildable);
  CHECK(best.order.knot == find_order(w.frame, w.list).knot);
  CHECK(best.order.steps.empty());
}

TEST_CASE("a frame too large to search gets the greedy order and says so") {
  const Workpiece w = workpiece(tests::rack_text(3, 4));
  BestOptions options;
  options.search_limit = 10;
  const BestOrder best = best_of(w, options);
  CHECK(best.greedy);
  CHECK_FALSE(best.effort.proven);
  const BestOrder searched = best_of(w);
  CHECK(searched.effort.value <= best.effort.value + 1e-9);
  CHECK(best.effort.lower_bound <= searched.effort.value + 1e-9);
  // What it costs is worked out in full all the same: its moves, and its poses as the best choice of them has it.
  REQUIRE(best.choices.size() == best.undo_moves.size());
  CHECK(best.effort.handling > 0.0);
  double value = best.effort.base + best.effort.handling;
  State state(w.list);
  for (std::size_t i = 0; i < best.undo_moves.size(); ++i) {
    const double extra = test::naive_extra(w.frame, w.list, state.all(), best.undo_moves[i], options.people);
    CHECK(best.choices[i].extra.total() == doctest::Approx(extra));
    value += extra;
    state.undo(best.undo_moves[i].contacts);
  }
  CHECK(best.effort.value == doctest::Approx(value));
}

TEST_CASE("a smaller budget never proves more and never makes the bound false") {
  const Workpiece w = workpiece(tests::ladder_text(4, true));
  const BestOrder full = best_of(w);
  REQUIRE(full.effort.proven);
  for (const long long budget : {0LL, 500LL, 5'000LL, 20'000LL}) {
    BestOptions options;
    options.budget = budget;
    const BestOrder less = best_of(w, options);
    CHECK(less.effort.value >= full.effort.value - 1e-9);
    CHECK(less.effort.lower_bound <= full.effort.value + 1e-9);
    if (less.effort.proven) CHECK(less.effort.value == doctest::Approx(full.effort.value));
  }
}

TEST_SUITE("slow") {
  TEST_CASE("at 300 contacts the order is within a twentieth of the bound, and mostly proven") {
    struct Shape {
      const char* name;
      std::string text;
    };
    int proven = 0;
    for (const Shape& shape : {Shape{"rack", tests::rack_text(6, 6)}, Shape{"tower", tests::tower_text(150)},
                               Shape{"ladder", tests::ladder_text(33, true)}, Shape{"grid", tests::grid_text(6, 6)}}) {
      const Workpiece w = workpiece(shape.text);
      CAPTURE(shape.name);
      CHECK(w.list.contacts.size() >= 299);
      const BestOrder best = best_of(w);
      CHECK(best.effort.value - best.effort.lower_bound <= 0.05 * best.effort.lower_bound);
      proven += best.effort.proven ? 1 : 0;
    }
    CHECK(proven >= 2);
  }
}

TEST_CASE("one pair of hands never makes an order cheaper") {
  const Workpiece w = workpiece(tests::ladder_text(3, true));
  BestOptions alone;
  alone.people = 1;
  CHECK(best_of(w, alone).effort.value >= best_of(w).effort.value - 1e-9);
}

}  // namespace
}  // namespace dryfit::planner

#include "planner/best/best_order.hpp"

#include <algorithm>
#include <utility>

#include "planner/best/and_or_search.hpp"
#include "planner/best/fewer_steps.hpp"
#include "planner/best/screws_together.hpp"
#include "planner/best/shorter_walk.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {
namespace {

constexpr double kEqualWeight = 1e-9;

/// When heavy boards go on is weighed with this share of the budget. Where that does not settle it, their rate is left
/// out: an order that is sure to be the best in all else is worth more.
constexpr long long kShareForHeavy = 5;

/// More contacts than this are not priced: that looks at whole pieces for every move.
constexpr std::size_t kMostPriced = 4'000;

/// The greedy order of a frame that is too large to search.
void greedy(BestOrder& best, Peeling& peeling, const Effort& effort, const ContactList& list) {
  best.greedy = true;
  State state(list);
  for (Move& move : peeling.moves) {
    PricedMove priced{std::move(move), {}};
    if (list.contacts.size() <= kMostPriced) priced = effort.price(state, std::move(priced.move));
    state.undo(priced.move.contacts);
    StepChoice choice;
    choice.extra = priced.extra;
    best.choices.push_back(choice);
    best.undo_moves.push_back(std::move(priced.move));
  }
}

/// Adds up what the order costs. `bound`: no order costs less beyond the base, wishes included.
void add_up(BestOrder& best, double bound) {
  EffortReport& effort = best.effort;
  effort.handling = best.poses.handling;
  effort.unwanted = best.poses.unwanted;
  effort.value = effort.base + effort.handling;
  for (const StepChoice& choice : best.choices) effort.value += choice.extra.total();
  const double weight = effort.value + effort.unwanted;
  effort.lower_bound = std::min(effort.base + bound, weight) - effort.unwanted;
  effort.proven = weight <= effort.base + bound + kEqualWeight;
}

/// Takes fewer steps and walks less where that costs nothing, and screws a piece down in one go.
void shorten(BestOrder& best, Undoer& undoer, const Effort& effort, const Handling& handling) {
  const auto take_if_as_light = [&](BestOrder other) {
    other.poses = plan_poses(handling, undoer.list(), other.undo_moves);
    if (other.poses.weight() <= best.poses.weight() + kEqualWeight) best = std::move(other);
  };
  make_fewer_steps(undoer, effort, handling, best);
  BestOrder walk = best;
  shorten_walk(undoer, effort, handling, walk);
  take_if_as_light(std::move(walk));
  BestOrder screws = best;
  drive_screws_together(undoer, effort, screws);
  take_if_as_light(std::move(screws));
}

void take(BestOrder& best, const TakenApart& found, const Handling& handling, const ContactList& list) {
  best.choices.clear();
  best.undo_moves.clear();
  for (const auto& done : found.moves) {
    best.choices.push_back(done->choice);
    best.choices.back().extra = done->priced->extra;
    best.undo_moves.push_back(done->priced->move);
  }
  best.poses = plan_poses(handling, list, best.undo_moves);
}

void search(BestOrder& best, Undoer& undoer, const Effort& effort, const Handling& handling,
            const BestOptions& options) {
  AndOrSearch search(undoer, effort, handling, options);
  TakenApart found = search.without_props();
  take(best, found, handling, undoer.list());
  double bound = found.lower;
  add_up(best, bound);
  if (!best.effort.proven && !search.stopped()) {
    found = search.with_props(best.effort.value + best.effort.unwanted - best.effort.base);
    bound = std::max(bound, found.lower);
    if (found.upper < kNever) take(best, found, handling, undoer.list());
  }
  best.effort.stopped = search.stopped();
  best.effort.states = search.states;
  best.effort.cache_hits = search.cache_hits;
  if (!best.effort.stopped) shorten(best, undoer, effort, handling);
  add_up(best, bound);
}

/// Once more without the rate for what is heavy: a far smaller search, which proves what it finds where it did before.
void search_for_light(BestOrder& best, const Effort& effort, const BestOptions& options) {
  Undoer undoer(effort.frame(), effort.list());
  const Effort light(undoer, options.people, false);
  const Handling handling(undoer, light, options.pose);
  BestOrder other;
  other.order = best.order;
  other.effort.base = best.effort.base;
  other.effort.heavy_counts = false;
  search(other, undoer, light, handling, options);
  other.effort.states += best.effort.states;
  other.effort.cache_hits += best.effort.cache_hits;
  best = std::move(other);
}

}  // namespace

BestOrder find_best_order(const model::Frame& frame, const ContactList& list, const BestOptions& options) {
  BestOrder best;
  Undoer undoer(frame, list);
  State state(list);
  Peeling peeling = peel(undoer, state);
  best.order.buildable = peeling.remaining.empty();
  best.order.knot = std::move(peeling.remaining);
  best.order.knot_refusals = std::move(peeling.refusals);
  if (best.order.buildable) {
    const Effort effort(undoer, options.people);
    const Handling handling(undoer, effort, options.pose);
    best.effort.base = effort.base();
    if (list.contacts.size() > options.search_limit) {
      greedy(best, peeling, effort, list);
      if (list.contacts.size() <= kMostPriced) best.poses = plan_poses(handling, list, best.undo_moves);
      add_up(best, 0.0);
      best.effort.proven = false;  // nothing was weighed
    } else {
      const bool heavy = !effort.heavy_last().none();
      BestOptions first = options;
      if (heavy) first.budget /= kShareForHeavy;
      search(best, undoer, effort, handling, first);
      if (heavy && !best.effort.proven && !best.effort.stopped) search_for_light(best, effort, options);
    }
    best.order.steps = steps_of(frame, list, best.undo_moves, best.poses.of_move);
  }
  const Work work = undoer.work();
  best.effort.moves_tried = best.order.stats.moves_tried = work.attempts;
  best.effort.clearance_tests = best.order.stats.clearance_tests = work.clearance_tests;
  best.order.stats.parts_visited = work.visited;
  return best;
}

}  // namespace dryfit::planner

#include "planner/now/meanwhile.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/early/fewest.hpp"
#include "planner/now/until_judged.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

/// Undo moves asked for per state of the budget, as a change of design counts them.
constexpr long long kTriesPerState = 8;

/// A state without the missing parts that the frame can be completed from.
struct Standing {
  std::vector<char> made;
  int left = 0;  ///< moves from there to the finished frame
};

/// The missing parts go though all of `kept` stays.
bool can_do_without(Undoer& undoer, const std::vector<char>& kept, const std::vector<ContactId>& missing) {
  Peeler peeler(undoer, State(undoer.list()), kept);
  return peeler.run_until_gone(missing);
}

/// Keeps one contact after the other as long as the missing parts still go: nothing more can be made without them.
Standing as_far_as_it_goes(Undoer& undoer, const std::vector<char>& built, const std::vector<ContactId>& missing) {
  std::vector<char> kept = built;
  std::vector<char> is_missing(built.size(), 0);
  for (const ContactId c : missing) is_missing[at(c)] = 1;
  for (bool more = true; more;) {  // what goes in one move with a later one may stay once that is kept
    more = false;
    for (std::size_t c = 0; c < kept.size(); ++c) {
      if (kept[c] != 0 || is_missing[c] != 0) continue;
      kept[c] = 1;
      if (can_do_without(undoer, kept, missing)) {
        more = true;
      } else {
        kept[c] = 0;
      }
    }
  }
  Standing standing;
  Peeler peeler(undoer, State(undoer.list()), kept);
  std::vector<Move> moves;
  peeler.run(&moves);
  standing.made = peeler.state().all();
  standing.left = static_cast<int>(moves.size());
  return standing;
}

/// The better of what goes one by one and what the fewest moves leave that keep all that is built.
Standing latest(Undoer& undoer, const std::vector<char>& built, const std::vector<ContactId>& missing,
                const NowOptions& options, Bounded& left) {
  Standing best = as_far_as_it_goes(undoer, built, missing);
  const FewestMoves fewest = fewest_moves(undoer, State(undoer.list()), Wanted{missing, {}, {}, built},
                                          options.budget * kTriesPerState, nullptr, options.foreman);
  if (fewest.possible && fewest.cost < best.left) {
    std::vector<char> made(built.size(), 1);
    for (const Move& move : fewest.moves) {
      for (const ContactId c : move.contacts) made[at(c)] = 0;
    }
    best = as_far_as_it_goes(undoer, made, missing);
    best.left = std::min(best.left, fewest.cost);
  }
  left = {static_cast<double>(std::min(fewest.at_least, best.left)), static_cast<double>(best.left)};
  return best;
}

Meanwhile search_meanwhile(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                           const std::vector<ContactId>& missing, const NowOptions& options) {
  Meanwhile plan;
  Undoer undoer(frame, list);
  if (!can_do_without(undoer, built, missing)) return plan;
  const Standing standing = latest(undoer, built, missing, options, plan.left);
  UndoCost cost(undoer, options.people);
  const WayBetween now =
      way_between(undoer, cost, built, standing.made, options.order, options.weighing, options.foreman);
  const WayBetween later = way_between(undoer, cost, standing.made, std::vector<char>(built.size(), 1), options.order,
                                       options.weighing, options.foreman);
  plan.possible = now.possible && later.possible;
  if (!plan.possible) return plan;
  plan.now = steps_of(frame, list, now.moves);
  plan.later = steps_of(frame, list, later.moves);
  for (Step& step : plan.later) step.number += static_cast<int>(plan.now.size());
  plan.effort = {now.effort.at_least + later.effort.at_least, now.effort.at_most + later.effort.at_most};
  return plan;
}

}  // namespace

Meanwhile meanwhile(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                    const std::vector<ContactId>& missing, const NowOptions& options) {
  return until_judged(
      list, "an order", [&](const ContactList& open) { return search_meanwhile(frame, open, built, missing, options); },
      [&](const Meanwhile& plan, std::string& why) -> std::optional<StruckOut> {
        if (!plan.possible) return std::nullopt;
        std::vector<Step> steps = plan.now;
        steps.insert(steps.end(), plan.later.begin(), plan.later.end());
        std::vector<char> made = built;
        return judged(frame, list, made, {}, steps, &why);
      });
}

}  // namespace dryfit::planner

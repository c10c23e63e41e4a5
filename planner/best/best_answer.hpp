#pragma once
/// The best order as data: what was asked for, the moves, their effort and how sure it is.
#include "planner/base/foreman.hpp"
#include "planner/best/pose_plan.hpp"
#include "planner/order/order.hpp"

namespace dryfit::planner {

struct BestOptions {
  int people = 2;                    ///< hands at work
  long long budget = 200'000;        ///< undo moves asked for; beyond it the search goes straight down
  std::size_t search_limit = 2'000;  ///< frames of more contacts than this get the greedy order at once
  PosePreference pose = PosePreference::free;
  Foreman* foreman = nullptr;  ///< told of undo moves asked for; when he ends the search the rest goes as it comes
};

/// The effort of an order and how sure it is that none is better. Seconds of easy work, see effort.hpp.
struct EffortReport {
  double value = 0.0;
  double base = 0.0;         ///< share of it that every order pays
  double handling = 0.0;     ///< share of it for turning the work, for awkward poses and for props
  double unwanted = 0.0;     ///< not in it: what weighs against poses that a person did not want
  double lower_bound = 0.0;  ///< no order costs less, or goes less against what is wanted
  bool proven = false;       ///< value is the least
  bool heavy_counts = true;  ///< false: the rate `heavy-before-feet` was left out, see find_best_order
  bool stopped = false;      ///< the foreman ended the search
  long long states = 0;      ///< clusters in which moves were weighed against each other
  long long cache_hits = 0;  ///< clusters met again
  long long moves_tried = 0;
  long long clearance_tests = 0;
};

/// What a step cost and what else could have been done at its place, for explanations.
struct StepChoice {
  Extra extra;
  bool weighed = false;            ///< the search had to choose here
  double runner_up = 0.0;          ///< what the second best move here would have cost more at least
  std::vector<ContactId> instead;  ///< contacts of that move
};

struct BestOrder {
  Order order;                      ///< legal steps, or the knot
  std::vector<Move> undo_moves;     ///< first undone first; the steps are made of these
  std::vector<StepChoice> choices;  ///< one per undo move
  PosePlan poses;                   ///< of the undo moves; empty for a frame too large to be priced
  EffortReport effort;              ///< of a buildable frame
  bool greedy = false;              ///< the frame was too large to search
};

}  // namespace dryfit::planner

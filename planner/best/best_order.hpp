#pragma once
/// The order with the least effort, found by search and proven as far as the budget goes.
///
/// The search goes backwards, from the finished frame, over undo moves (see moves.hpp) and over turning the work into
/// another pose (see handling.hpp). Three facts keep it small:
/// 1. Clusters do not meet: once a move has parted two pieces, each is a problem of its own (AND), and only the choice
///    of the next move within a cluster, or of another pose, is open (OR). Each cluster is solved once in each pose and
///    kept.
/// 2. Whatever takes one bare part off at no extra and without trouble in the pose is undone at once. It stays
/// possible,
///    it stays free, and without the part no other move becomes dearer: burdens only shrink, and the part, which hung
///    by one contact, by holes or by rests, held no two pieces of work together (effort.hpp); nor does a turn. So only
///    moves of what is made up already, awkward ones, and turns are branched on.
/// 3. Work may stop standing by itself, or begin to, when a part goes. So the search leaves out the props that depend
/// on
///    the shape of the work: what it finds is a lower bound, proven, and the order's poses are chosen afterwards with
///    all props counted (pose_plan.hpp). Where the two agree the order is best.
/// Pieces that are images of each other under a symmetry of the frame cost the same (symmetry.hpp): what is known of
/// one bounds the other. Bound of a cluster: freeze a contact and peel all else: what is left must be made before it,
/// so it costs at least what it costs there. Every thread pays that; of the nuts and flanges under boards at least a
/// spanning tree does.
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

/// Deterministic but for the foreman; the work is bounded by `options.budget`. Memory O(states * contacts).
[[nodiscard]] BestOrder find_best_order(const model::Frame& frame, const ContactList& list,
                                        const BestOptions& options = {});

}  // namespace dryfit::planner

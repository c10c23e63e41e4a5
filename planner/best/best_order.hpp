#pragma once
/// The order with the least effort, found by search and proven as far as the budget goes.
///
/// The search goes backwards, from the finished frame, over undo moves (see moves.hpp) and over turning the work into
/// another pose (see handling.hpp). Three facts keep it small:
/// 1. Clusters do not meet: once a move has parted two pieces, each is a problem of its own (AND), and only the choice
///    of the next move within a cluster, or of another pose, is open (OR). Each cluster is solved once in each pose and
///    kept.
/// 2. Whatever takes one bare part off at no extra and without trouble in the pose is undone at once. It stays
///    possible, it stays free, and without the part no other move becomes dearer: burdens only shrink, and the part,
///    which hung by one contact, by holes or by rests, held no two pieces of work together (effort.hpp); nor does a
///    turn. So only moves of what is made up already, awkward ones, and turns are branched on.
/// 3. Work may stop standing by itself, or begin to, when a part goes. So the search leaves out the props that
///    depend on the shape of the work: what it finds is a lower bound, proven, and the order's poses are chosen
///    afterwards with all props counted (pose_plan.hpp). Where the two agree the order is best.
/// Pieces that are images of each other under a symmetry of the frame cost the same (symmetry.hpp): what is known of
/// one bounds the other. Bound of a cluster: freeze a contact and peel all else: what is left must be made before it,
/// so it costs at least what it costs there. Every thread pays that; of the nuts and flanges under boards at least a
/// spanning tree does.
#include "planner/best/best_answer.hpp"

namespace dryfit::planner {

/// When heavy boards go on (heavy_last.hpp) is weighed in frames of up to HeavyLast::kLookedAt contacts, and where that
/// settles it within a fifth of the budget; else their rate is left out of the search and of the effort that is told.
/// Deterministic but for the foreman; the work is bounded by `options.budget`. Memory O(states * contacts).
[[nodiscard]] BestOrder find_best_order(const model::Frame& frame, const ContactList& list,
                                        const BestOptions& options = {});

}  // namespace dryfit::planner

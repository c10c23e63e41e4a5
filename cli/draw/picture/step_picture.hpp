#pragma once
/// The picture for one step of an order: the work as it stands, the piece that moves, and how.
#include <vector>

#include "cli/draw/picture/how_it_stands.hpp"
#include "cli/draw/picture/picture.hpp"
#include "planner/order/order.hpp"

namespace dryfit::cli {

/// Shown: everything that the steps up to `step` (from 1) have joined to the parts of that step; other
/// sub-assemblies lie elsewhere on the bench and are left out. Emphasised: what moves, or the ends of what is screwed
/// down, strapped or closed by a nut. Arrow: a right-handed turn in the sense in which the thread goes home, or the way
/// of a slide; none for screws and nuts. Labelled: what moves, what is held, and the boards. Of the room there is what
/// the work is screwed to by then, and the floor when the work stands on it; of straps and clips those that are on.
/// What the step screws to is named; a strap or clip that it puts on is emphasised. What moves is drawn where it comes
/// from: a thread out of its joint, a board off its pipes, a piece apart from what it is joined to. Help that the step
/// needs is drawn, see step_help.hpp. Throws DrawError
/// when there is no such step. O(contacts + surfaces * parts).
[[nodiscard]] PictureOptions step_picture(const model::Frame& frame, const planner::ContactList& list,
                                          const std::vector<planner::Step>& steps, int step,
                                          const HowItStands& how = {});

/// What the steps up to `step` have joined to the parts of that step, ascending.
[[nodiscard]] std::vector<model::PartId> work_at(const model::Frame& frame, const planner::ContactList& list,
                                                 const std::vector<planner::Step>& steps, int step);

}  // namespace dryfit::cli

#pragma once
/// Help that a step needs, in its picture: who holds what, what is tied, where a prop goes.
#include "cli/draw/picture/how_it_stands.hpp"
#include "cli/draw/picture/picture.hpp"
#include "planner/state/step.hpp"

namespace dryfit::cli {

/// Adds figures and a prop to `out`, whose shown parts are known. A prop goes under what hangs out farthest to the side
/// that the work falls to; where nothing hangs out, a second person steadies the top. O(bodies shown).
void add_help(const model::Frame& frame, const planner::Step& step, const HowItStands& how, PictureOptions& out);

}  // namespace dryfit::cli

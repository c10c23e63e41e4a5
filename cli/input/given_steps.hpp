#pragma once
/// An order that somebody wrote: the same JSON as `order --json` prints, of which only little is required.
#include <string>
#include <string_view>
#include <vector>

#include "planner/judge/replay.hpp"

namespace dryfit::cli {

/// Reads {"steps": [{"action", "contacts", "moving"?}, ...]} or the bare list. Other fields are let pass, so that what
/// `order` printed can be edited and given back. Throws model::InputError with every fault: what is no JSON (line and
/// column), an unknown action, contact or part (with the nearest known one).
[[nodiscard]] std::vector<planner::GivenStep> read_steps(std::string_view bytes, const std::string& file,
                                                         const model::Frame& frame, const planner::ContactList& list);

/// A computed order in the form that the independent judge takes.
[[nodiscard]] std::vector<planner::GivenStep> as_given(const std::vector<planner::Step>& steps);

}  // namespace dryfit::cli

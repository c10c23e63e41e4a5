#pragma once
/// What the planner has to tell, in the language that is spoken.
#include <string>
#include <vector>

#include "model/frame/frame.hpp"
#include "planner/base/remark.hpp"

namespace dryfit::cli {

/// Measures as Lengths has them; names as a list, of more than six the first five.
[[nodiscard]] std::string told(const planner::Remark& remark, model::Units units);
[[nodiscard]] std::vector<std::string> told(const std::vector<planner::Remark>& remarks, model::Units units);

}  // namespace dryfit::cli

#pragma once
/// How many people a lift takes, in words.
#include <string>

#include "model/frame/frame.hpp"
#include "planner/order/order.hpp"

namespace dryfit::cli {

/// "Two people lift this: it weighs 59 lb. Held 22 in from the body, one person may lift 23 lb." For two and more.
[[nodiscard]] std::string lift_text(const planner::Lift& lift, model::Units units);

/// "two people", "3 people".
[[nodiscard]] std::string people_text(int people);

}  // namespace dryfit::cli

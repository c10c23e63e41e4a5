#pragma once
/// Two numbers as near as a table prints them, or a rule can be read.
#include <cmath>

namespace dryfit::tests {

[[nodiscard]] inline bool near(double a, double b, double within = 0.01) { return std::abs(a - b) <= within; }

}  // namespace dryfit::tests

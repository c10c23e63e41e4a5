#pragma once
/// When two designs have something in the same place.
#include <cmath>

#include "model/geometry/vec.hpp"

namespace dryfit::planner {

/// Positions that differ by less are the same place, mm. Far below what a turn of a thread moves.
inline constexpr double kOnePlace = 0.05;

[[nodiscard]] inline bool near(double a, double b) { return std::abs(a - b) < kOnePlace; }
[[nodiscard]] inline bool near(model::Vec3 a, model::Vec3 b) { return norm(a - b) < kOnePlace; }

}  // namespace dryfit::planner

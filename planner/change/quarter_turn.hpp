#pragma once
/// The 24 turns that carry the axes onto each other: how a piece can lie otherwise and still lie square.
#include <array>
#include <vector>

#include "model/geometry/at.hpp"
#include "model/geometry/vec.hpp"

namespace dryfit::planner {

struct QuarterTurn {
  std::array<int, 3> to{};    ///< axis i goes to axis to[i] ...
  std::array<int, 3> sign{};  ///< ... times sign[i]
  [[nodiscard]] model::Vec3 of(model::Vec3 v) const {
    model::Vec3 r;
    for (int i = 0; i < 3; ++i) r[to[at(i)]] = sign[at(i)] * v[i];
    return r;
  }
  [[nodiscard]] bool still() const { return of({1, 2, 3}) == model::Vec3{1, 2, 3}; }
};

/// All of them, no mirrors; the one that turns nothing first.
[[nodiscard]] const std::vector<QuarterTurn>& quarter_turns();

}  // namespace dryfit::planner

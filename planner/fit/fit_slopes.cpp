#include "planner/fit/fit_slopes.hpp"

#include <algorithm>
#include <cmath>
#include <optional>

namespace dryfit::planner {

namespace {

constexpr double kNarrow = 25.0;  ///< mm: three supports nearer to one line are taken for two
constexpr std::size_t kMost = 32;
constexpr double kPerMetre = 1000.0;
constexpr double kRounding = 1e-6;

/// What a millimetre at each corner adds to the lean. The plane h = a x + b y + c through three points has (a, b) as
/// the sum of their heights times the opposite sides, turned by a quarter and divided by twice the area (Cramer's
/// rule).
std::optional<Resting> plane_of(const std::vector<FlatSupport>& all, const std::array<std::size_t, 3>& on) {
  Resting out;
  out.on = on;
  const FlatSupport &p = all[on[0]], &q = all[on[1]], &r = all[on[2]];
  const double twice_area = (q.x - p.x) * (r.y - p.y) - (r.x - p.x) * (q.y - p.y);
  const double longest =
      std::max({std::hypot(q.x - p.x, q.y - p.y), std::hypot(r.x - q.x, r.y - q.y), std::hypot(p.x - r.x, p.y - r.y)});
  if (longest <= 0.0 || std::abs(twice_area) / longest < kNarrow) return std::nullopt;
  double a = 0.0;
  double b = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    const FlatSupport &next = all[on[(i + 1) % 3]], &last = all[on[(i + 2) % 3]];
    out.per_mm[i] = {(next.y - last.y) / twice_area, (last.x - next.x) / twice_area};
    a += all[on[i]].height * out.per_mm[i][0];
    b += all[on[i]].height * out.per_mm[i][1];
  }
  out.slope = std::hypot(a, b) * kPerMetre;
  for (const FlatSupport& other : all) {
    const double below = p.height + a * (other.x - p.x) + b * (other.y - p.y) - other.height;
    if (below < -kRounding) return std::nullopt;
    out.rock = std::max(out.rock, below);
  }
  return out;
}

}  // namespace

std::size_t Resting::corner(std::size_t i) const {
  return static_cast<std::size_t>(std::find(on.begin(), on.end(), i) - on.begin());
}

double Resting::at_worst(const std::array<double, 3>& off) const {
  double worst = 0.0;
  for (const double second : {1.0, -1.0}) {
    for (const double third : {1.0, -1.0}) {
      const std::array<double, 3> way{off[0], second * off[1], third * off[2]};
      double a = 0.0;
      double b = 0.0;
      for (std::size_t i = 0; i < 3; ++i) {
        a += way[i] * per_mm[i][0];
        b += way[i] * per_mm[i][1];
      }
      worst = std::max(worst, std::hypot(a, b));
    }
  }
  return worst * kPerMetre;
}

double Resting::likely(const std::array<double, 3>& off) const {
  double squares = 0.0;
  for (std::size_t i = 0; i < 3; ++i) {
    squares += off[i] * off[i] * (per_mm[i][0] * per_mm[i][0] + per_mm[i][1] * per_mm[i][1]);
  }
  return std::sqrt(squares) * kPerMetre;
}

std::vector<Resting> restings_of(const std::vector<FlatSupport>& supports) {
  std::vector<Resting> out;
  if (supports.size() > kMost) return out;
  for (std::size_t i = 0; i < supports.size(); ++i) {
    for (std::size_t j = i + 1; j < supports.size(); ++j) {
      for (std::size_t k = j + 1; k < supports.size(); ++k) {
        if (const auto plane = plane_of(supports, {i, j, k})) out.push_back(*plane);
      }
    }
  }
  return out;
}

}  // namespace dryfit::planner

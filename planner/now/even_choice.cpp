#include "planner/now/even_choice.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

constexpr double kLongAgain = 1.5;
constexpr double kSameStretch = 1e-9;
constexpr double kNoWay = std::numeric_limits<double>::infinity();

/// Cost, then the longest stretch.
using Weight = std::pair<double, double>;

/// The best `count` places by weight, none of whose stretches is longer than `most`; empty when there are none. Less
/// cost and a shorter longest stretch are never worse later on, so the best way to each place is all that counts.
std::vector<std::size_t> chosen(const std::vector<EvenPlace>& places, double end, std::size_t count, double most,
                                bool by_cost, double& longest) {
  const std::size_t n = places.size();
  std::vector<std::vector<Weight>> best(count, std::vector<Weight>(n, {kNoWay, kNoWay}));
  std::vector<std::vector<std::size_t>> from(count, std::vector<std::size_t>(n, 0));
  const auto cost = [&](std::size_t i) { return by_cost ? static_cast<double>(places[i].cost) : 0.0; };
  for (std::size_t i = 0; i < n; ++i) {
    if (places[i].at <= most + kSameStretch) best[0][i] = {cost(i), places[i].at};
  }
  for (std::size_t k = 1; k < count; ++k) {
    for (std::size_t i = k; i < n; ++i) {
      for (std::size_t j = k - 1; j < i; ++j) {
        const double stretch = places[i].at - places[j].at;
        if (stretch > most + kSameStretch || best[k - 1][j].first == kNoWay) continue;
        const Weight weight{best[k - 1][j].first + cost(i), std::max(best[k - 1][j].second, stretch)};
        if (weight >= best[k][i]) continue;
        best[k][i] = weight;
        from[k][i] = j;
      }
    }
  }
  Weight least{kNoWay, kNoWay};
  std::size_t last = n;
  for (std::size_t i = 0; i < n; ++i) {
    const double stretch = end - places[i].at;
    if (stretch > most + kSameStretch || best[count - 1][i].first == kNoWay) continue;
    const Weight weight{best[count - 1][i].first, std::max(best[count - 1][i].second, stretch)};
    if (weight >= least) continue;
    least = weight;
    last = i;
  }
  longest = least.second;
  if (last == n) return {};
  std::vector<std::size_t> places_chosen(count, last);
  for (std::size_t k = count; k-- > 1;) places_chosen[k - 1] = from[k][places_chosen[k]];
  return places_chosen;
}

}  // namespace

std::optional<std::vector<std::size_t>> even_choice(const std::vector<EvenPlace>& places, double end, int count) {
  const std::size_t wanted = at(count);
  if (wanted == 0 || places.size() < wanted) return std::nullopt;
  double longest = 0.0;
  static_cast<void>(chosen(places, end, wanted, kNoWay, false, longest));
  return chosen(places, end, wanted, kLongAgain * longest, true, longest);
}

}  // namespace dryfit::planner

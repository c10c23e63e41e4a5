#include "cli/draw/picture/choose_view.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "cli/draw/paint/number_grid.hpp"
#include "cli/draw/picture/fit_page.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// The usual view first, then others by how little they surprise: the other side, higher, lower, then from the back.
constexpr std::array<View, 14> kViews{{{28, 24},
                                       {-28, 24},
                                       {28, 48},
                                       {-28, 48},
                                       {58, 24},
                                       {-58, 24},
                                       {10, 30},
                                       {28, -20},
                                       {-28, -20},
                                       {152, 24},
                                       {-152, 24},
                                       {152, 48},
                                       {-152, 48},
                                       {28, 72}}};
constexpr double kEnough = 0.6;

double seen_length(Vec3 move, const View& view) {
  const Projection projection(view);
  return std::hypot(projection.u(move), projection.v(move)) / norm(move);
}

}  // namespace

double visible_share(const DepthTree& tree, const std::vector<bool>& emphasised, const View& view) {
  constexpr RectMm kPage{0.0, 0.0, 240.0, 240.0};
  const PageMap map = fit_page(tree.pieces(), view, kPage);
  const NumberGrid all = grid_of(tree, map, kPage, 1.0);
  const NumberGrid alone = grid_of(tree, map, kPage, 1.0, emphasised);
  double seen = 0.0;
  double outline = 0.0;
  for (std::size_t i = 0; i < alone.cells.size(); ++i) {
    if (alone.cells[i] < 0) continue;
    outline += 1.0;
    if (all.cells[i] >= 0 && emphasised[at(all.cells[i])]) seen += 1.0;
  }
  return outline == 0.0 ? 0.0 : seen / outline;
}

ChosenView choose_view(const DepthTree& tree, const std::vector<bool>& emphasised, std::optional<Vec3> move,
                       std::optional<Vec3> surface) {
  if (std::find(emphasised.begin(), emphasised.end(), true) == emphasised.end()) return {kViews[0], false, 1.0};
  ChosenView best;
  double best_value = -1e300;
  for (std::size_t i = 0; i < kViews.size(); ++i) {
    const double share = visible_share(tree, emphasised, kViews[i]);
    const double length = move && norm(*move) > 1e-9 ? seen_length(*move, kViews[i]) : 1.0;
    const bool behind = surface && dot(*surface, Projection(kViews[i]).toward) < 0.1;
    if (share >= kEnough && length >= 0.25 && !behind) return {kViews[i], i != 0, share};
    const double value = share - (length < 0.25 ? 0.3 : 0.0) - (behind ? 0.3 : 0.0) - 0.01 * static_cast<double>(i);
    if (value > best_value) {
      best_value = value;
      best = {kViews[i], i != 0, share};
    }
  }
  return best;
}

}  // namespace dryfit::cli

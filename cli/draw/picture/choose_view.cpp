#include "cli/draw/picture/choose_view.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

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

namespace {

/// How well a picture is seen from one place.
struct SeenFrom {
  double share = 1.0;
  bool move = true;   ///< the way of the move shows
  bool front = true;  ///< the surface is seen from the room
  [[nodiscard]] bool good(double enough) const { return share >= enough && move && front; }
  [[nodiscard]] double value() const { return share - (move ? 0.0 : 0.3) - (front ? 0.0 : 0.3); }
};

SeenFrom seen_from(const Sight& sight, std::size_t view_index) {
  const SightWish& wish = *sight.wish;
  SeenFrom out;
  if (std::find(wish.emphasised.begin(), wish.emphasised.end(), true) == wish.emphasised.end()) return out;
  View view = kViews[view_index];
  view.lies = wish.lies;
  out.share = visible_share(*sight.tree, wish.emphasised, view);
  if (wish.move && norm(*wish.move) > 1e-9) out.move = seen_length(*wish.move, view) >= 0.25;
  if (wish.surface) out.front = dot(*wish.surface, Projection(view).toward) >= 0.1;
  return out;
}

ChosenView chosen(std::size_t view_index, const SeenFrom& seen, const model::Attitude& lies) {
  ChosenView out{kViews[view_index], view_index != 0, seen.share};
  out.view.lies = lies;
  return out;
}

/// What is known of each picture in each view; asked once each.
class SightTable {
 public:
  SightTable(std::size_t count, const std::function<Sight(std::size_t)>& sight) : sight_(sight), known_(count) {}
  const SeenFrom& operator()(std::size_t picture, std::size_t view) {
    std::optional<SeenFrom>& entry = known_[picture][view];
    if (!entry) entry = seen_from(sight_(picture), view);
    return *entry;
  }

 private:
  const std::function<Sight(std::size_t)>& sight_;
  std::vector<std::array<std::optional<SeenFrom>, kViews.size()>> known_;
};

}  // namespace

double turn_between(const View& a, const View& b) {
  const Vec3 from = Projection({a.azimuth_deg, a.elevation_deg, {}}).toward;
  const Vec3 to = Projection({b.azimuth_deg, b.elevation_deg, {}}).toward;
  return std::acos(std::clamp(dot(from, to), -1.0, 1.0)) * 180.0 / std::numbers::pi;
}

ChosenView choose_view(const DepthTree& tree, const SightWish& wish) {
  const Sight sight{&tree, &wish};
  std::size_t best = 0;
  SeenFrom best_seen;
  double best_value = -1e300;
  for (std::size_t i = 0; i < kViews.size(); ++i) {
    const SeenFrom seen = seen_from(sight, i);
    if (seen.good(kEnough)) return chosen(i, seen, wish.lies);
    const double value = seen.value() - 0.01 * static_cast<double>(i);
    if (value <= best_value) continue;
    best_value = value;
    best = i;
    best_seen = seen;
  }
  return chosen(best, best_seen, wish.lies);
}

std::vector<ChosenView> choose_views(std::size_t count, const std::function<Sight(std::size_t)>& sight) {
  constexpr double kStay = 0.4;         // less than is asked of a new view: a change costs the reader more
  constexpr double kPerDegree = 0.003;  // what a turn must gain where no view is good
  SightTable seen(count, sight);
  std::vector<ChosenView> out;
  std::size_t now = 0;
  for (std::size_t i = 0; i < count; ++i) {
    if (!seen(i, now).good(kStay)) {
      std::size_t next = now;
      std::size_t longest = 0;
      for (std::size_t v = 0; v < kViews.size(); ++v) {
        if (v == now || !seen(i, v).good(kEnough)) continue;
        std::size_t run = 1;
        while (run < kPicturesAhead && i + run < count && seen(i + run, v).good(kStay)) ++run;
        const bool nearer = turn_between(kViews[v], kViews[now]) < turn_between(kViews[next], kViews[now]) - 0.5;
        if (run > longest || (run == longest && nearer)) {
          longest = run;
          next = v;
        }
      }
      if (longest == 0) {
        double best = seen(i, now).value();
        for (std::size_t v = 0; v < kViews.size(); ++v) {
          const double value = seen(i, v).value() - kPerDegree * turn_between(kViews[v], kViews[now]);
          if (value <= best) continue;
          best = value;
          next = v;
        }
      }
      now = next;
    }
    out.push_back(chosen(now, seen(i, now), sight(i).wish->lies));
  }
  return out;
}

}  // namespace dryfit::cli

#include "cli/draw/picture/labels.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "cli/draw/picture/cell_sums.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using Point = PageMap::Point;

constexpr double kGap = 0.35;     // mm of free paper round a label
constexpr double kNearest = 0.9;  // mm from anchor to box
constexpr std::array<double, 11> kRings{kNearest, 1.6, 2.5, 3.6, 5.0, 7.0, 9.5, 13.0, 18.0, 25.0, 35.0};
constexpr double kLongest = 0.45;  // of the picture's shorter side: what a leader may cost, see leader_of
constexpr int kDirections = 24;

RectMm grown(RectMm box, double by) { return {box.x - by, box.y - by, box.width + 2 * by, box.height + 2 * by}; }

bool contains(const RectMm& box, Point p) {
  return p.x >= box.x && p.y >= box.y && p.x <= box.x + box.width && p.y <= box.y + box.height;
}

double cross_of(Point a, Point b, Point c) { return (b.x - a.x) * (c.y - a.y) - (b.y - a.y) * (c.x - a.x); }

bool segments_cross(Point a, Point b, Point c, Point d) {
  return cross_of(a, b, c) * cross_of(a, b, d) < 0.0 && cross_of(c, d, a) * cross_of(c, d, b) < 0.0;
}

/// Both ends lie on the same side of the box: nothing between them meets it. By a margin that no rounding takes away.
inline bool passes_beside(const RectMm& box, Point a, Point b) {
  constexpr double kMargin = 1e-6;
  return std::max(a.x, b.x) < box.x - kMargin || std::min(a.x, b.x) > box.x + box.width + kMargin ||
         std::max(a.y, b.y) < box.y - kMargin || std::min(a.y, b.y) > box.y + box.height + kMargin;
}

bool meets_box(const RectMm& box, Point a, Point b) {
  if (contains(box, a) || contains(box, b)) return true;
  const Point p{box.x, box.y};
  const Point q{box.x + box.width, box.y};
  const Point r{box.x + box.width, box.y + box.height};
  const Point s{box.x, box.y + box.height};
  return segments_cross(a, b, p, q) || segments_cross(a, b, q, r) || segments_cross(a, b, r, s) ||
         segments_cross(a, b, s, p);
}

inline bool segment_meets(const RectMm& box, Point a, Point b) {
  return !passes_beside(box, a, b) && meets_box(box, a, b);
}

Point nearest_on(const RectMm& box, Point p) {
  return {std::clamp(p.x, box.x, box.x + box.width), std::clamp(p.y, box.y, box.y + box.height)};
}

/// Cosine and sine of each direction that a label may stand in.
const std::array<Point, kDirections>& directions() {
  static const auto ways = [] {
    std::array<Point, kDirections> out;
    for (int d = 0; d < kDirections; ++d) {
      const double angle = 2.0 * std::numbers::pi * d / kDirections;
      out[at(d)] = {std::cos(angle), std::sin(angle)};
    }
    return out;
  }();
  return ways;
}

double length(Point a, Point b) { return std::hypot(a.x - b.x, a.y - b.y); }

/// Steps from each cell of a wanted part to the nearest cell of another number, at most 255 (two sweeps, city-block
/// steps).
std::vector<int> depths_of(const NumberGrid& grid, const std::vector<bool>& wanted) {
  const auto w = at(grid.width);
  std::vector<int> depth(grid.cells.size(), 255);
  const auto relax = [&](int x, int y, int dx, int dy) {
    const std::size_t i = at(y) * w + at(x);
    if (grid.cells[i] < 0 || !wanted[at(grid.cells[i])]) return;
    const int nx = x + dx;
    const int ny = y + dy;
    const bool outside = nx < 0 || ny < 0 || nx >= grid.width || ny >= grid.height;
    if (outside || grid.at(nx, ny) != grid.cells[i]) {
      depth[i] = 1;
      return;
    }
    const int there = depth[at(ny) * w + at(nx)];
    depth[i] = std::min(depth[i], there + 1);
  };
  for (int y = 0; y < grid.height; ++y) {
    for (int x = 0; x < grid.width; ++x) {
      relax(x, y, -1, 0);
      relax(x, y, 0, -1);
    }
  }
  for (int y = grid.height - 1; y >= 0; --y) {
    for (int x = grid.width - 1; x >= 0; --x) {
      relax(x, y, 1, 0);
      relax(x, y, 0, 1);
    }
  }
  return depth;
}

struct Cell {
  int x = 0;
  int y = 0;
  int depth = 0;
};

class Placer {
 public:
  Placer(const NumberGrid& grid, const std::vector<LabelWish>& wishes, const std::vector<RectMm>& taken,
         const std::vector<RectMm>& written)
      : grid_(grid), wishes_(wishes), taken_(taken), written_(written), busy_(grid, [](model::PartId id) {
          return id >= 0;
        }) {
    std::size_t most = 0;
    for (const LabelWish& wish : wishes) {
      for (const model::PartId id : wish.parts) most = std::max(most, at(id) + 1);
    }
    for (const model::PartId id : grid.cells) most = std::max(most, at(id + 1));
    seen_.resize(most);
    std::vector<bool> wanted(most, false);
    for (const LabelWish& wish : wishes) {
      for (const model::PartId id : wish.parts) wanted[at(id)] = true;
    }
    const std::vector<int> depths = depths_of(grid, wanted);
    for (int y = 0; y < grid.height; ++y) {
      for (int x = 0; x < grid.width; ++x) {
        const model::PartId id = grid.at(x, y);
        if (id < 0 || !wanted[at(id)]) continue;
        const auto i = at(y) * at(grid.width) + at(x);
        seen_[at(id)].push_back({x, y, depths[i]});
      }
    }
    for (const LabelWish& wish : wishes) anchors_.push_back(anchors_for(wish));
    constexpr double kStep = 1.5;
    for (double x = grid.left; x < grid.left + grid.width / grid.per_mm; x += kStep) columns_.push_back(x);
    for (double y = grid.top; y < grid.top + grid.height / grid.per_mm; y += kStep) rows_.push_back(y);
  }

  Labelling place() {
    best_.resize(wishes_.size());
    costs_.resize(wishes_.size());
    for (std::size_t i = 0; i < wishes_.size(); ++i) best_[i] = find(i);
    // Each was placed beside those before it. The second time all others stand too, so nothing became cheaper as long
    // as none before it has moved: what costs as much as it did is found again.
    bool moved = false;
    for (std::size_t i = 0; i < wishes_.size(); ++i) {
      const std::optional<PlacedLabel> before = std::exchange(best_[i], std::nullopt);
      best_[i] = !moved && stands_as_well(i, before) ? before : find(i);
      moved = moved || !alike(before, best_[i]);
    }
    Labelling out;
    for (std::size_t i = 0; i < wishes_.size(); ++i) {
      if (best_[i]) {
        out.placed.push_back(*best_[i]);
      } else {
        (anchors_[i].empty() ? out.hidden : out.left_out).push_back(i);
      }
    }
    return out;
  }

 private:
  [[nodiscard]] Point middle(const Cell& cell) const {
    return {grid_.left + (cell.x + 0.5) / grid_.per_mm, grid_.top + (cell.y + 0.5) / grid_.per_mm};
  }

  /// Up to eight visible spots, well inside the part and well apart; the one nearest the middle first.
  [[nodiscard]] std::vector<Cell> anchors_for(const LabelWish& wish) const {
    std::vector<Cell> cells;
    for (const model::PartId id : wish.parts) {
      const auto& own = seen_[at(id)];
      cells.insert(cells.end(), own.begin(), own.end());
    }
    if (cells.empty()) return {};
    double x = 0.0;
    double y = 0.0;
    int deepest = 0;
    for (const Cell& cell : cells) {
      x += cell.x;
      y += cell.y;
      deepest = std::max(deepest, cell.depth);
    }
    x /= static_cast<double>(cells.size());
    y /= static_cast<double>(cells.size());
    // Deep enough is good enough: on a long pipe all of the middle line is.
    const int enough = std::max(1, std::min(deepest * 3 / 4, static_cast<int>(1.2 * grid_.per_mm)));
    std::vector<Cell> good;
    for (const Cell& cell : cells) {
      if (cell.depth >= enough) good.push_back(cell);
    }
    std::vector<Cell> out;
    std::vector<double> away(good.size(), 1e300);
    std::size_t next = 0;
    for (std::size_t i = 1; i < good.size(); ++i) {
      if (std::hypot(good[i].x - x, good[i].y - y) < std::hypot(good[next].x - x, good[next].y - y)) next = i;
    }
    while (out.size() < 8) {
      out.push_back(good[next]);
      std::size_t farthest = next;
      for (std::size_t i = 0; i < good.size(); ++i) {
        away[i] = std::min(away[i], std::hypot(good[i].x - good[next].x, good[i].y - good[next].y));
        if (away[i] > away[farthest]) farthest = i;
      }
      if (away[farthest] < 2.0 * grid_.per_mm) break;
      next = farthest;
    }
    return out;
  }

  [[nodiscard]] bool inside(const RectMm& box) const {
    return box.x >= grid_.left && box.y >= grid_.top && box.x + box.width <= grid_.left + grid_.width / grid_.per_mm &&
           box.y + box.height <= grid_.top + grid_.height / grid_.per_mm;
  }

  /// Gathers the labels that have a place now. The one that is looked for has none meanwhile.
  void look_at_others() {
    others_.clear();
    for (const auto& other : best_) {
      if (other) others_.push_back({other->box, grown(other->box, 0.2), other->foot, other->anchor, other->on_part});
    }
  }

  [[nodiscard]] bool clear_of_others(const RectMm& box) const {
    const RectMm wide = grown(box, kGap);
    const RectMm rim = grown(box, 0.2);
    for (const RectMm& area : taken_) {
      if (overlap(wide, area)) return false;
    }
    return std::none_of(others_.begin(), others_.end(), [&](const Standing& other) {
      return overlap(wide, other.box) || (!other.on_part && segment_meets(rim, other.foot, other.anchor));
    });
  }

  [[nodiscard]] bool clear(const RectMm& box) const { return busy_.in(grown(box, kGap)) == 0 && clear_of_others(box); }

  static bool alike(const std::optional<PlacedLabel>& a, const std::optional<PlacedLabel>& b) {
    if (!a || !b) return a.has_value() == b.has_value();
    return a->box.x == b->box.x && a->box.y == b->box.y && a->on_part == b->on_part && a->anchor.x == b->anchor.x &&
           a->anchor.y == b->anchor.y;
  }

  /// Whether a place found beside some of the others is the best beside all of them: as clear, and no dearer.
  [[nodiscard]] bool stands_as_well(std::size_t i, const std::optional<PlacedLabel>& before) {
    if (!before) return true;
    look_at_others();
    if (!clear_of_others(before->box)) return false;
    if (before->on_part) return true;
    const double extra = costs_[i].extra;
    const auto leader = leader_of(i, before->foot, before->anchor, extra, kUnbounded);
    // Where every place close by is gone by now, no more is spent on a leader than for a first one.
    return leader && leader->cost + extra == costs_[i].whole && costs_[i].whole < longest();
  }

  [[nodiscard]] double longest() const { return kLongest * std::min(grid_.width, grid_.height) / grid_.per_mm; }

  struct Leader {
    double cost = 0.0;
    double over = 0.0;  ///< mm of other parts that it runs over
    bool over_words = false;
  };

  /// None when it would run over a label, or costs more than `most`, with `extra` on top.
  [[nodiscard]] std::optional<Leader> leader_of(std::size_t wish, Point foot, Point anchor, double extra,
                                                double most) const {
    const double run = length(foot, anchor);
    double cost = 0.0;
    bool over_words = false;
    // What it costs only grows: it is given up as soon as that is too much.
    const auto dear = [&] { return cost + run + extra > most; };
    if (dear()) return std::nullopt;
    for (const RectMm& area : written_) {
      if (!segment_meets(area, foot, anchor)) continue;
      cost += 60.0;
      over_words = true;
      if (dear()) return std::nullopt;
    }
    for (const Standing& other : others_) {
      if (segment_meets(other.rim, foot, anchor)) return std::nullopt;
      if (!other.on_part && segments_cross(foot, anchor, other.foot, other.anchor)) {
        cost += 12.0;
        if (dear()) return std::nullopt;
      }
    }
    for (const RectMm& area : taken_) {
      if (!segment_meets(area, foot, anchor)) continue;
      cost += 6.0;
      if (dear()) return std::nullopt;
    }
    const int steps = static_cast<int>(std::ceil(run * grid_.per_mm));
    const auto& own = wishes_[wish].parts;
    int over = 0;
    for (int k = 0; k <= steps; ++k) {
      const double t = steps == 0 ? 0.0 : static_cast<double>(k) / steps;
      const model::PartId id =
          grid_.at(grid_.column(foot.x + t * (anchor.x - foot.x)), grid_.row(foot.y + t * (anchor.y - foot.y)));
      if (id < 0 || std::find(own.begin(), own.end(), id) != own.end()) continue;
      ++over;
      if (cost + run + 3.0 * (over / grid_.per_mm) + extra > most) return std::nullopt;
    }
    const double over_mm = over / grid_.per_mm;
    return Leader{cost + run + 3.0 * over_mm, over_mm, over_words};
  }

  /// On the part itself: the box and a rim must show nothing but this part.
  [[nodiscard]] std::optional<PlacedLabel> on_part(std::size_t i) const {
    const LabelWish& wish = wishes_[i];
    std::optional<PlacedLabel> best;
    for (const model::PartId id : wish.parts) {
      const auto& own = seen_[at(id)];
      const double area = (wish.width + 1.6) * (wish.height + 1.2) * grid_.per_mm * grid_.per_mm;
      if (static_cast<double>(own.size()) < 2.5 * area) continue;
      const CellSums mine(grid_, [id](model::PartId cell) { return cell == id; });
      double x = 0.0;
      double y = 0.0;
      for (const Cell& cell : own) {
        x += cell.x;
        y += cell.y;
      }
      x /= static_cast<double>(own.size());
      y /= static_cast<double>(own.size());
      double best_cost = 1e300;
      for (std::size_t k = 0; k < own.size(); k += 3) {
        if (own[k].depth < static_cast<int>(wish.height / 2.0 * grid_.per_mm)) continue;
        const Point p = middle(own[k]);
        const RectMm box{p.x - wish.width / 2.0, p.y - wish.height / 2.0, wish.width, wish.height};
        const double cost = std::hypot(own[k].x - x, own[k].y - y) / grid_.per_mm;
        if (cost >= best_cost || !inside(box) || !clear_of_others(box)) continue;
        const RectMm wide = grown(box, 0.6);
        const int cells = (grid_.column(wide.x + wide.width) + 1 - grid_.column(wide.x)) *
                          (grid_.row(wide.y + wide.height) + 1 - grid_.row(wide.y));
        if (mine.in(wide) < cells) continue;
        best_cost = cost;
        best = {i, box, true, p, p, 0.0, false};
      }
    }
    return best;
  }

  /// The best so far of all places that a label may stand in: the cheapest, and of equals the first.
  struct Best {
    std::optional<PlacedLabel> label;
    double cost = kUnbounded;
    double extra = 0.0;
    std::size_t order = 0;
  };

  void take(std::size_t i, const RectMm& box, Point anchor, double extra, std::size_t order, Best& best) const {
    const Point foot = nearest_on(box, anchor);
    const std::optional<Leader> leader = leader_of(i, foot, anchor, extra, best.cost);
    if (!leader) return;
    const double cost = leader->cost + extra;
    if (cost > best.cost || (cost == best.cost && order >= best.order)) return;
    best = {PlacedLabel{i, box, false, anchor, foot, leader->over, leader->over_words}, cost, extra, order};
  }

  /// In rings round each spot of the part.
  void look_close_by(std::size_t i, Best& best) const {
    const LabelWish& wish = wishes_[i];
    for (const Cell& cell : anchors_[i]) {
      const Point anchor = middle(cell);
      // Spots away from the middle of the part are second best.
      const double extra = 0.4 * length(anchor, middle(anchors_[i].front()));
      for (const double ring : kRings) {
        for (const Point& way : directions()) {
          const Point centre{anchor.x + way.x * (ring + wish.width / 2.0),
                             anchor.y - way.y * (ring + wish.height / 2.0)};
          const RectMm box{centre.x - wish.width / 2.0, centre.y - wish.height / 2.0, wish.width, wish.height};
          // The length alone may cost as much already: most candidates end here, before the box is looked at.
          if (extra + length(nearest_on(box, anchor), anchor) >= best.cost) continue;
          if (inside(box) && clear(box)) take(i, box, anchor, extra, 0, best);
        }
      }
    }
  }

  struct Spot {
    double squared = 0.0;  ///< from the nearest anchor
    std::size_t order = 0;
    RectMm box;
    /// For a heap with the nearest on top.
    bool operator<(const Spot& other) const { return squared > other.squared; }
  };

  /// Anywhere on the page: near spots first, so that few leaders are looked at before none can cost less. What wins is
  /// what wins in reading order.
  void look_everywhere(std::size_t i, Best& best) const {
    const LabelWish& wish = wishes_[i];
    constexpr double kRounding = 1.0 + 1e-9;
    std::vector<Point> anchors;
    for (const Cell& cell : anchors_[i]) anchors.push_back(middle(cell));
    const double limit = best.cost * best.cost * kRounding;
    std::vector<Spot> spots;
    std::vector<double> aside(anchors.size());
    for (std::size_t row = 0; row < rows_.size(); ++row) {
      double nearest = limit;
      for (std::size_t k = 0; k < anchors.size(); ++k) {
        const double dy = std::clamp(anchors[k].y, rows_[row], rows_[row] + wish.height) - anchors[k].y;
        aside[k] = dy * dy;
        nearest = std::min(nearest, aside[k]);
      }
      if (nearest >= limit) continue;
      for (std::size_t column = 0; column < columns_.size(); ++column) {
        double squared = limit;
        for (std::size_t k = 0; k < anchors.size(); ++k) {
          const double dx = std::clamp(anchors[k].x, columns_[column], columns_[column] + wish.width) - anchors[k].x;
          squared = std::min(squared, dx * dx + aside[k]);
        }
        const RectMm box{columns_[column], rows_[row], wish.width, wish.height};
        if (squared >= limit || !inside(box) || busy_.in(grown(box, kGap)) != 0) continue;
        spots.push_back({squared, 1 + (row * columns_.size() + column) * anchors.size(), box});
      }
    }
    std::make_heap(spots.begin(), spots.end());
    while (!spots.empty() && spots.front().squared <= best.cost * best.cost * kRounding) {
      std::pop_heap(spots.begin(), spots.end());
      const Spot spot = spots.back();
      spots.pop_back();
      if (!clear_of_others(spot.box)) continue;
      for (std::size_t k = 0; k < anchors.size(); ++k) take(i, spot.box, anchors[k], 0.0, spot.order + k, best);
    }
  }

  [[nodiscard]] std::optional<PlacedLabel> find(std::size_t i) {
    if (anchors_[i].empty()) return std::nullopt;
    look_at_others();
    if (wishes_[i].may_stand_on_part) {
      if (auto placed = on_part(i)) return placed;
    }
    constexpr double kGood = 12.0;
    Best best;
    look_close_by(i, best);
    if (!best.label || best.cost > kGood) {
      // With a long leader rather than no label; but no web of lines across a small picture.
      if (!best.label) best.cost = longest();
      look_everywhere(i, best);
    }
    costs_[i] = {best.cost, best.extra};
    return best.label;
  }

  static constexpr double kUnbounded = 1e300;

  struct Standing {
    RectMm box;
    RectMm rim;  ///< where no leader goes
    Point foot;
    Point anchor;
    bool on_part = false;
  };
  struct Cost {
    double whole = 0.0;
    double extra = 0.0;
  };

  const NumberGrid& grid_;
  const std::vector<LabelWish>& wishes_;
  const std::vector<RectMm>& taken_;
  const std::vector<RectMm>& written_;
  CellSums busy_;
  std::vector<std::vector<Cell>> seen_;     // per part
  std::vector<std::vector<Cell>> anchors_;  // per wish
  std::vector<std::optional<PlacedLabel>> best_;
  std::vector<Cost> costs_;       // per wish, of the leader and where it leads
  std::vector<Standing> others_;  // while one is looked for
  std::vector<double> columns_;   // left and upper edges of boxes anywhere on the page
  std::vector<double> rows_;
};

}  // namespace

bool overlap(const RectMm& a, const RectMm& b) {
  return a.x < b.x + b.width && b.x < a.x + a.width && a.y < b.y + b.height && b.y < a.y + a.height;
}

Labelling place_labels(const NumberGrid& grid, const std::vector<LabelWish>& wishes, const std::vector<RectMm>& taken,
                       const std::vector<RectMm>& written) {
  return Placer(grid, wishes, taken, written).place();
}

}  // namespace dryfit::cli

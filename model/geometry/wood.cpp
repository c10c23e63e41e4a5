#include "model/geometry/wood.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

namespace dryfit::model {
namespace {

/// A range of the coordinate across the strips.
struct Range {
  double lo = 0.0;
  double hi = 0.0;
};

/// The plane of a board: strips are cut along `u`, each runs along `v`.
struct Plane {
  int u = 0;
  int v = 1;
};

Plane plane_of(const Wood& wood) {
  const int i = (wood.normal + 1) % 3, j = (wood.normal + 2) % 3;
  // Holes are mostly spread over the length, so that strips across it meet few of them.
  return wood.hi[i] - wood.lo[i] >= wood.hi[j] - wood.lo[j] ? Plane{i, j} : Plane{j, i};
}

/// One opening, made larger, in the plane.
class Outline {
 public:
  Outline(const Opening& opening, const Wood& wood, const Plane& plane, double by)
      : u_(opening.centre[plane.u]), v_(opening.centre[plane.v]), r_(opening.radius + by) {
    ends_ = {u_ - r_, u_ + r_};
    if (!opening.open.valid()) return;
    const Vec3 way = opening.open.unit();
    along_ = way[plane.u];
    across_ = way[plane.v];
    if (along_ > 0) ends_.hi = std::max(ends_.hi, wood.hi[plane.u] + 1.0);
    if (along_ < 0) ends_.lo = std::min(ends_.lo, wood.lo[plane.u] - 1.0);
  }

  [[nodiscard]] Range ends() const { return ends_; }
  [[nodiscard]] Range bounds_across() const {
    const double far = std::numeric_limits<double>::infinity();
    return {across_ < 0 ? -far : v_ - r_, across_ > 0 ? far : v_ + r_};
  }
  /// Where it is open on the line at `u`, which lies between the ends.
  [[nodiscard]] Range at(double u) const {
    const bool straight = (along_ > 0 && u >= u_) || (along_ < 0 && u <= u_);
    const double off = straight ? 0.0 : u - u_;
    const double half = std::sqrt(std::max(0.0, r_ * r_ - off * off));
    Range open{v_ - half, v_ + half};
    if (across_ > 0) open.hi = std::numeric_limits<double>::infinity();
    if (across_ < 0) open.lo = -std::numeric_limits<double>::infinity();
    return open;
  }
  /// Corners of the outline along u: near enough for the chords between them to stay within kRound of the arc.
  void corners(std::vector<double>& cuts) const {
    // R - R cos(angle / 2) <= kRound, with 1 - cos(x) at most x^2 / 2.
    const double angle = 2.0 * std::sqrt(2.0 * kRound / std::max(r_, 1.0));
    const int n = std::clamp(static_cast<int>(std::ceil(std::numbers::pi / angle)), 8, 400);
    for (int i = 0; i <= n; ++i) cuts.push_back(u_ - r_ * std::cos(std::numbers::pi * i / n));
    cuts.push_back(ends_.lo);
    cuts.push_back(ends_.hi);
  }

 private:
  double u_, v_, r_;
  double along_ = 0.0, across_ = 0.0;  ///< a slot: the way it opens
  Range ends_;
};

/// The strip of wood from u0 to u1, cut into pieces by the openings that cross it.
struct Strip {
  const Wood& wood;  ///< made smaller already, its openings apart
  const Plane& plane;
  double u0, u1;

  void piece(double from0, double to0, double from1, double to1, std::vector<Solid>& pieces) const {
    if (to0 <= from0 && to1 <= from1) return;
    to0 = std::max(to0, from0);
    to1 = std::max(to1, from1);
    Vec3 a = wood.lo, b = wood.hi;
    a[plane.u] = u0;
    b[plane.u] = u1;
    a[plane.v] = std::min(from0, from1);
    b[plane.v] = std::max(to0, to1);
    if (from0 == from1 && to0 == to1) {
      pieces.push_back(box(a, b));
    } else {
      pieces.push_back(wedge(a, b, wood.normal, plane.u, {from0, to0, from1, to1}));
    }
  }

  void cut(const std::vector<Outline>& outlines, std::vector<Solid>& pieces) const {
    struct Gap {
      Range left, right;
    };
    std::vector<Gap> gaps;
    for (const Outline& o : outlines) {
      if (o.ends().lo > u0 + 1e-9 || o.ends().hi < u1 - 1e-9) continue;
      gaps.push_back({o.at(std::max(u0, o.ends().lo)), o.at(std::min(u1, o.ends().hi))});
    }
    std::sort(gaps.begin(), gaps.end(), [](const Gap& p, const Gap& q) {
      return p.left.lo != q.left.lo ? p.left.lo < q.left.lo : p.right.lo < q.right.lo;
    });
    const double lo = wood.lo[plane.v], hi = wood.hi[plane.v];
    double left = lo, right = lo;
    for (const Gap& gap : gaps) {
      piece(left, std::min(gap.left.lo, hi), right, std::min(gap.right.lo, hi), pieces);
      left = std::clamp(gap.left.hi, left, hi);
      right = std::clamp(gap.right.hi, right, hi);
    }
    piece(left, hi, right, hi, pieces);
  }
};

double area(const Solid& s) { return (s.b.x - s.a.x) * (s.b.y - s.a.y) * (s.b.z - s.a.z); }

}  // namespace

std::vector<Solid> pieces_of(const Wood& wood, double by, const Bounds& region) {
  const Plane plane = plane_of(wood);
  const Solid small = shrunk(box(wood.lo, wood.hi), by);
  const Wood rest{small.a, small.b, wood.normal, {}};
  std::vector<Outline> outlines;
  std::vector<double> cuts{rest.lo[plane.u], rest.hi[plane.u]};
  for (const Opening& opening : wood.openings) {
    const Outline outline(opening, wood, plane, by);
    const Range along = outline.ends(), across = outline.bounds_across();
    if (along.hi < region.lo[plane.u] || along.lo > region.hi[plane.u]) continue;
    if (across.hi < region.lo[plane.v] || across.lo > region.hi[plane.v]) continue;
    outlines.push_back(outline);
    outline.corners(cuts);
  }
  if (outlines.empty()) return {small};
  for (double& cut : cuts) cut = std::clamp(cut, rest.lo[plane.u], rest.hi[plane.u]);
  std::sort(cuts.begin(), cuts.end());
  std::vector<Solid> pieces;
  for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
    if (cuts[i + 1] - cuts[i] < 1e-9) continue;
    Strip{rest, plane, cuts[i], cuts[i + 1]}.cut(outlines, pieces);
  }
  std::stable_sort(pieces.begin(), pieces.end(), [](const Solid& p, const Solid& q) { return area(p) > area(q); });
  return pieces;
}

}  // namespace dryfit::model

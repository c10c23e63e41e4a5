#include "cli/draw/body/block.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

int index_of(std::size_t n) { return static_cast<int>(n); }
const Vec3& point(const Block& block, int i) { return block.points[at(i)]; }

/// Drops points that no face uses, keeps the order of the rest.
void compact(Block& block) {
  std::vector<int> renamed(block.points.size(), -1);
  std::vector<Vec3> kept;
  for (Face& face : block.faces) {
    for (int& i : face.loop) {
      int& name = renamed[at(i)];
      if (name < 0) {
        name = index_of(kept.size());
        kept.push_back(point(block, i));
      }
      i = name;
    }
  }
  block.points = std::move(kept);
}

/// Orders points of a convex polygon counterclockwise about `normal`.
void sort_around(std::vector<int>& loop, const std::vector<Vec3>& points, Vec3 normal) {
  Vec3 middle;
  for (const int i : loop) middle += points[at(i)];
  middle = middle * (1.0 / static_cast<double>(loop.size()));
  const Basis basis = basis_around(normal);
  std::vector<std::pair<double, int>> by_angle;
  for (const int i : loop) {
    const Vec3 d = points[at(i)] - middle;
    by_angle.emplace_back(std::atan2(dot(d, basis.second), dot(d, basis.first)), i);
  }
  std::sort(by_angle.begin(), by_angle.end());
  for (std::size_t k = 0; k < loop.size(); ++k) loop[k] = by_angle[k].second;
}

/// A block while it is cut: both halves share the block's points and those where edges cross the plane.
class BlockCut {
 public:
  /// `side`: the distance of each point of `block` from the plane, 0 where it lies on it.
  BlockCut(const Block& block, std::vector<double> side) : block_(&block), side_(std::move(side)) {
    out_.front.points = out_.back.points = block.points;
    for (std::size_t i = 0; i < side_.size(); ++i) {
      if (side_[i] == 0.0) rim_.push_back(index_of(i));
    }
  }

  /// Gives each half what it gets of a face.
  void part(const Face& face) {
    Face front{{}, face.normal, face.kind, face.id};
    Face back = front;
    bool before = false;  // some point truly in front
    bool behind = false;
    for (std::size_t k = 0; k < face.loop.size(); ++k) {
      const int a = face.loop[k];
      const int b = face.loop[(k + 1) % face.loop.size()];
      const double sa = side_[at(a)];
      const double sb = side_[at(b)];
      before = before || sa > 0.0;
      behind = behind || sa < 0.0;
      if (sa >= 0.0) front.loop.push_back(a);
      if (sa <= 0.0) back.loop.push_back(a);
      if ((sa > 0.0 && sb < 0.0) || (sa < 0.0 && sb > 0.0)) {
        const int c = crossing_of(a, b);
        front.loop.push_back(c);
        back.loop.push_back(c);
      }
    }
    if (before && front.loop.size() >= 3) out_.front.faces.push_back(std::move(front));
    if (behind && back.loop.size() >= 3) out_.back.faces.push_back(std::move(back));
  }

  /// Both halves with the cut face on them; the cut is used up.
  Halves closed(Vec3 normal, FaceKind kind, int id) {
    if (rim_.size() >= 3) {
      sort_around(rim_, out_.front.points, normal);
      out_.back.faces.push_back({rim_, normal, kind, id});
      std::reverse(rim_.begin(), rim_.end());
      out_.front.faces.push_back({std::move(rim_), -normal, kind, id});
    }
    compact(out_.front);
    compact(out_.back);
    return std::move(out_);
  }

 private:
  /// The point where the edge from `a` to `b` crosses the plane; one for both faces of the edge.
  int crossing_of(int a, int b) {
    const auto key = std::minmax(a, b);
    const auto [place, fresh] = crossing_.try_emplace({key.first, key.second}, index_of(out_.front.points.size()));
    if (fresh) {
      const double sa = side_[at(key.first)];
      const double sb = side_[at(key.second)];
      const Vec3 from = point(*block_, key.first);
      const Vec3 p = from + (sa / (sa - sb)) * (point(*block_, key.second) - from);
      out_.front.points.push_back(p);
      out_.back.points.push_back(p);
      rim_.push_back(place->second);
    }
    return place->second;
  }

  const Block* block_;
  std::vector<double> side_;
  Halves out_;
  std::vector<int> rim_;  // points of the cut face
  std::map<std::pair<int, int>, int> crossing_;
};

}  // namespace

Block::Range Block::range_along(Vec3 direction) const {
  Range out{1e300, -1e300};
  for (const Vec3& p : points) {
    const double t = dot(direction, p);
    out.lo = std::min(out.lo, t);
    out.hi = std::max(out.hi, t);
  }
  return out;
}

Basis basis_around(Vec3 axis) {
  // The helper is the axis that `axis` leans on least, so the cross product never vanishes.
  const double ax = std::abs(axis.x);
  const double ay = std::abs(axis.y);
  const double az = std::abs(axis.z);
  const Vec3 helper = az <= ax && az <= ay ? Vec3{0, 0, 1} : ax <= ay ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
  Vec3 first = cross(helper, axis);
  first = first * (1.0 / norm(first));
  return {first, cross(axis, first)};
}

Block extruded(const std::vector<Vec3>& outline, Vec3 sweep, FaceKind sides, FaceKind start, FaceKind end) {
  Block out;
  const int n = index_of(outline.size());
  out.points = outline;
  for (const Vec3& p : outline) out.points.push_back(p + sweep);
  const Vec3 along = sweep * (1.0 / norm(sweep));
  Face first{{}, -along, start, 0};
  Face last{{}, along, end, 1};
  for (int i = 0; i < n; ++i) {
    first.loop.push_back(n - 1 - i);
    last.loop.push_back(n + i);
  }
  for (int i = 0; i < n; ++i) {
    const int j = (i + 1) % n;
    Vec3 normal = cross(point(out, j) - point(out, i), sweep);
    normal = normal * (1.0 / norm(normal));
    out.faces.push_back({{i, j, n + j, n + i}, normal, sides, -1});
  }
  out.faces.push_back(std::move(first));
  out.faces.push_back(std::move(last));
  return out;
}

Block round_block(Vec3 from, Vec3 to, double radius, int facets, FaceKind start, FaceKind end) {
  const Vec3 sweep = to - from;
  const Basis basis = basis_around(sweep * (1.0 / norm(sweep)));
  const double half_step = std::numbers::pi / facets;
  // Corners a little outside, middles of facets a little inside the true circle.
  const double corner = radius / std::sqrt(std::cos(half_step));
  std::vector<Vec3> outline;
  for (int i = 0; i < facets; ++i) {
    const double angle = half_step * (2 * i + 1);
    outline.push_back(from + corner * (std::cos(angle) * basis.first + std::sin(angle) * basis.second));
  }
  return extruded(outline, sweep, FaceKind::curved, start, end);
}

Block box_block(Vec3 lo, Vec3 hi) {
  Block out;
  for (int i = 0; i < 8; ++i) {
    out.points.push_back({(i & 1) != 0 ? hi.x : lo.x, (i & 2) != 0 ? hi.y : lo.y, (i & 4) != 0 ? hi.z : lo.z});
  }
  out.faces = {{{0, 4, 6, 2}, {-1, 0, 0}, FaceKind::flat, 0}, {{1, 3, 7, 5}, {1, 0, 0}, FaceKind::flat, 1},
               {{0, 1, 5, 4}, {0, -1, 0}, FaceKind::flat, 2}, {{2, 6, 7, 3}, {0, 1, 0}, FaceKind::flat, 3},
               {{0, 2, 3, 1}, {0, 0, -1}, FaceKind::flat, 4}, {{4, 5, 7, 6}, {0, 0, 1}, FaceKind::flat, 5}};
  return out;
}

Halves cut(const Block& block, const Plane& plane, FaceKind kind, int id) {
  std::vector<double> side;
  double lo = 0.0;
  double hi = 0.0;
  for (const Vec3& p : block.points) {
    double s = plane.side(p);
    lo = std::min(lo, s);
    hi = std::max(hi, s);
    // A point this near lies on the plane, so that no edge is cut twice at one place.
    if (std::abs(s) < 1e-7) s = 0.0;
    side.push_back(s);
  }
  if (lo > -kSliver) return {block, {}};
  if (hi < kSliver) return {{}, block};

  BlockCut at_plane(block, std::move(side));
  for (const Face& face : block.faces) at_plane.part(face);
  return at_plane.closed(plane.normal, kind, id);
}

}  // namespace dryfit::cli

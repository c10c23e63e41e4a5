#include "cli/draw/body/openings.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "cli/draw/body/edge_loops.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

constexpr double kSamePoint = 1e-6;  // mm

/// Points with equal ones merged, and directed edges between them of which opposite ones cancel.
class Net {
 public:
  int add(Vec3 p) {
    for (std::size_t i = 0; i < points_.size(); ++i) {
      if (norm(points_[i] - p) < kSamePoint) return static_cast<int>(i);
    }
    points_.push_back(p);
    return static_cast<int>(points_.size()) - 1;
  }

  /// An edge in pieces, from each point of `points_` that lies on it to the next.
  void add_edge(int from, int to) {
    const Vec3 start = at(from);
    const Vec3 way = at(to) - start;
    const double length = norm(way);
    std::vector<std::pair<double, int>> stops{{0.0, from}, {length, to}};
    for (int i = 0; i < static_cast<int>(points_.size()); ++i) {
      if (i == from || i == to) continue;
      const double along = dot(at(i) - start, way) / length;
      if (along <= 0.0 || along >= length) continue;
      if (norm(at(i) - start - (along / length) * way) < kSamePoint) stops.emplace_back(along, i);
    }
    std::sort(stops.begin(), stops.end());
    for (std::size_t k = 0; k + 1 < stops.size(); ++k) {
      add_or_cancel(edges_, stops[k].second, stops[k + 1].second);
    }
  }

  [[nodiscard]] std::vector<std::vector<Vec3>> loops() const {
    std::vector<std::vector<Vec3>> out;
    for (const std::vector<int>& loop : loops_of(edges_)) {
      out.emplace_back();
      for (const int i : loop) out.back().push_back(at(i));
    }
    return out;
  }

 private:
  [[nodiscard]] Vec3 at(int i) const { return points_[dryfit::at(i)]; }
  std::vector<Vec3> points_;
  DirectedEdges edges_;
};

}  // namespace

std::vector<std::vector<Vec3>> outline_less_openings(const Piece& piece, const Face& face) {
  Net net;
  std::vector<std::vector<int>> loops(1);
  for (const int i : face.loop) loops[0].push_back(net.add(piece.block.points[dryfit::at(i)]));
  for (const Hollow& hollow : piece.hollows) {
    for (const Face& opening : hollow.block.faces) {
      if (opening.id < 0 || opening.id != face.id) continue;
      std::vector<int> loop;
      // Backward: what an opening takes away lies on the other side of its edges.
      for (auto i = opening.loop.rbegin(); i != opening.loop.rend(); ++i) {
        loop.push_back(net.add(hollow.block.points[dryfit::at(*i)]));
      }
      loops.push_back(std::move(loop));
    }
  }
  // All points are known before the first edge is split at them.
  for (const std::vector<int>& loop : loops) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const int from = loop[k];
      const int to = loop[(k + 1) % loop.size()];
      if (from != to) net.add_edge(from, to);
    }
  }
  return net.loops();
}

}  // namespace dryfit::cli

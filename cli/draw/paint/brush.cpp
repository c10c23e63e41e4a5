#include "cli/draw/paint/brush.hpp"

#include <algorithm>

#include "cli/draw/body/openings.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {

void Outline::add(const Face& face) {
  for (std::size_t k = 0; k < face.loop.size(); ++k) {
    add_or_cancel(edges_, face.loop[k], face.loop[(k + 1) % face.loop.size()]);
  }
}

Brush::Brush(OutlineCanvas& canvas, const PageMap& map) : canvas_(canvas), map_(map) {
  const Projection& p = map.projection;
  light_ = -0.50 * p.right + 0.72 * p.up + 0.60 * p.toward;
  light_ = light_ * (1.0 / norm(light_));
}

void Brush::trace(const Block& block, const std::vector<int>& loop) const {
  for (std::size_t k = 0; k < loop.size(); ++k) {
    const PageMap::Point p = map_(block.points[dryfit::at(loop[k])]);
    k == 0 ? canvas_.move_to(p.x, p.y) : canvas_.line_to(p.x, p.y);
  }
  canvas_.close();
}

void Brush::trace(const std::vector<Vec3>& points, bool closed) const {
  for (std::size_t k = 0; k < points.size(); ++k) {
    const PageMap::Point p = map_(points[k]);
    k == 0 ? canvas_.move_to(p.x, p.y) : canvas_.line_to(p.x, p.y);
  }
  if (closed) canvas_.close();
}

void Brush::trace_face(const Piece& piece, const Face& face) const {
  if (piece.hollows.empty()) return trace(piece.block, face.loop);
  for (const auto& loop : outline_less_openings(piece, face)) trace(loop, true);
}

void Brush::trace(const Block& block, const Outline& outline) const {
  for (const auto& loop : loops_of(outline.edges())) trace(block, loop);
}

Outline mouth_of(const Brush& brush, const Hollow& hollow) {
  Outline out;
  for (const Face& face : hollow.block.faces) {
    if (is_opening(face) && brush.faces_viewer(face.normal)) out.add(face);
  }
  return out;
}

std::vector<const Piece*> contents_by_depth(const Hollow& hollow, Vec3 toward) {
  std::vector<const Piece*> out;
  for (const Piece& piece : hollow.contents) out.push_back(&piece);
  std::stable_sort(out.begin(), out.end(), [&](const Piece* a, const Piece* b) {
    return a->block.range_along(toward).hi < b->block.range_along(toward).hi;
  });
  return out;
}

EdgeMap edges_of(const Block& block) {
  EdgeMap out;
  for (const Face& face : block.faces) {
    for (std::size_t k = 0; k < face.loop.size(); ++k) {
      const auto [a, b] = std::minmax(face.loop[k], face.loop[(k + 1) % face.loop.size()]);
      auto& pair = out.try_emplace({a, b}, std::array<const Face*, 2>{nullptr, nullptr}).first->second;
      (pair[0] == nullptr ? pair[0] : pair[1]) = &face;
    }
  }
  return out;
}

void Lines::add(int a, int b) {
  next_[a].push_back(b);
  next_[b].push_back(a);
}

void Lines::trace(const Brush& brush, const Block& block) {
  const auto at = [&](int i) { return brush.map()(block.points[dryfit::at(i)]); };
  // Start at loose ends, so that an open line is one path; what is left then are rings.
  for (const bool loose_ends : {true, false}) {
    for (auto& [start, neighbours] : next_) {
      while (!neighbours.empty() && (!loose_ends || neighbours.size() % 2 == 1)) {
        int here = start;
        brush.canvas().move_to(at(here).x, at(here).y);
        while (!next_[here].empty()) {
          const int to = next_[here].back();
          next_[here].pop_back();
          auto& back = next_[to];
          back.erase(std::find(back.begin(), back.end(), here));
          here = to;
          if (here == start && !loose_ends) {
            brush.canvas().close();
            break;
          }
          brush.canvas().line_to(at(here).x, at(here).y);
        }
      }
    }
  }
}

bool is_line(const Brush& brush, const Face& a, const Face& b) {
  if (a.kind == FaceKind::seam || b.kind == FaceKind::seam) return false;
  const bool seen_a = is_surface(a) && brush.faces_viewer(a.normal);
  const bool seen_b = is_surface(b) && brush.faces_viewer(b.normal);
  if (a.kind == FaceKind::curved && b.kind == FaceKind::curved) return seen_a != seen_b;
  return seen_a || seen_b;
}

}  // namespace dryfit::cli

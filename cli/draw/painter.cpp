#include "cli/draw/painter.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <set>
#include <utility>

#include "cli/draw/openings.hpp"

namespace dryfit::cli {
namespace {

using look::Tone;

Tone lit(Tone tone, double factor) {
  return {std::min(1.0, tone.red * factor), std::min(1.0, tone.green * factor), std::min(1.0, tone.blue * factor)};
}

void use(cairo_t* cairo, Tone tone) { cairo_set_source_rgb(cairo, tone.red, tone.green, tone.blue); }

/// Directed edges of faces; an edge that two of them share cancels, what is left is the outline of all together.
class Outline {
 public:
  void add(const Face& face) {
    for (std::size_t k = 0; k < face.loop.size(); ++k) {
      const int a = face.loop[k];
      const int b = face.loop[(k + 1) % face.loop.size()];
      if (next_.erase({b, a}) == 0) next_.insert({a, b});
    }
  }
  [[nodiscard]] bool empty() const { return next_.empty(); }
  /// Closed loops of point indices.
  [[nodiscard]] std::vector<std::vector<int>> loops() const {
    std::set<std::pair<int, int>> left = next_;
    std::vector<std::vector<int>> out;
    while (!left.empty()) {
      std::vector<int> loop;
      auto edge = left.begin();
      while (edge != left.end()) {
        loop.push_back(edge->first);
        const int to = edge->second;
        left.erase(edge);
        edge = left.lower_bound({to, -1});
        if (edge != left.end() && edge->first != to) edge = left.end();
      }
      out.push_back(std::move(loop));
    }
    return out;
  }

 private:
  std::set<std::pair<int, int>> next_;
};

/// One drawing job: the page, the map and what is asked for.
class Brush {
 public:
  Brush(cairo_t* cairo, const PageMap& map) : cairo_(cairo), map_(map) {
    const Projection& p = map.projection;
    light_ = -0.50 * p.right + 0.72 * p.up + 0.60 * p.toward;
    light_ = light_ * (1.0 / norm(light_));
  }

  [[nodiscard]] cairo_t* cairo() const { return cairo_; }
  [[nodiscard]] const PageMap& map() const { return map_; }
  [[nodiscard]] bool faces_viewer(Vec3 normal) const { return dot(normal, map_.projection.toward) > 1e-6; }
  [[nodiscard]] double light_on(Vec3 normal) const { return dot(normal, light_); }

  void trace(const Block& block, const std::vector<int>& loop) const {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      const PageMap::Point p = map_(block.points[static_cast<std::size_t>(loop[k])]);
      k == 0 ? cairo_move_to(cairo_, p.x, p.y) : cairo_line_to(cairo_, p.x, p.y);
    }
    cairo_close_path(cairo_);
  }
  void trace(const std::vector<Vec3>& points, bool closed) const {
    for (std::size_t k = 0; k < points.size(); ++k) {
      const PageMap::Point p = map_(points[k]);
      k == 0 ? cairo_move_to(cairo_, p.x, p.y) : cairo_line_to(cairo_, p.x, p.y);
    }
    if (closed) cairo_close_path(cairo_);
  }
  void trace_face(const Piece& piece, const Face& face) const {
    if (piece.hollows.empty()) return trace(piece.block, face.loop);
    for (const auto& loop : outline_less_openings(piece, face)) trace(loop, true);
  }
  void trace(const Block& block, const Outline& outline) const {
    for (const auto& loop : outline.loops()) trace(block, loop);
  }

 private:
  cairo_t* cairo_;
  const PageMap& map_;
  Vec3 light_;
};

bool is_surface(const Face& face) { return face.kind == FaceKind::flat || face.kind == FaceKind::curved; }
bool is_opening(const Face& face) { return face.id >= 0; }

/// The openings of a hollow that face the viewer, as one outline.
Outline mouth_of(const Brush& brush, const Hollow& hollow) {
  Outline out;
  for (const Face& face : hollow.block.faces) {
    if (is_opening(face) && brush.faces_viewer(face.normal)) out.add(face);
  }
  return out;
}

/// What passes through a hollow, farthest first. It lies on one axis, so its far ends are in the right order.
std::vector<const Piece*> contents_by_depth(const Hollow& hollow, Vec3 toward) {
  std::vector<const Piece*> out;
  for (const Piece& piece : hollow.contents) out.push_back(&piece);
  std::stable_sort(out.begin(), out.end(), [&](const Piece* a, const Piece* b) {
    return a->block.range_along(toward).hi < b->block.range_along(toward).hi;
  });
  return out;
}

/// Pairs of faces that meet in an edge, keyed by the edge's points (lower first).
using EdgeMap = std::map<std::pair<int, int>, std::array<const Face*, 2>>;
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

/// Lines from edges: edges that meet end to end become one path, so that corners are joined.
class Lines {
 public:
  void add(int a, int b) {
    next_[a].push_back(b);
    next_[b].push_back(a);
  }
  void trace(const Brush& brush, const Block& block) {
    const auto at = [&](int i) { return brush.map()(block.points[static_cast<std::size_t>(i)]); };
    // Start at loose ends, so that an open line is one path; what is left then are rings.
    for (const bool loose_ends : {true, false}) {
      for (auto& [start, neighbours] : next_) {
        while (!neighbours.empty() && (!loose_ends || neighbours.size() % 2 == 1)) {
          int here = start;
          cairo_move_to(brush.cairo(), at(here).x, at(here).y);
          while (!next_[here].empty()) {
            const int to = next_[here].back();
            next_[here].pop_back();
            auto& back = next_[to];
            back.erase(std::find(back.begin(), back.end(), here));
            here = to;
            if (here == start && !loose_ends) {
              cairo_close_path(brush.cairo());
              break;
            }
            cairo_line_to(brush.cairo(), at(here).x, at(here).y);
          }
        }
      }
    }
  }

 private:
  std::map<int, std::vector<int>> next_;
};

/// True when the edge between two faces is a line of the drawing.
bool is_line(const Brush& brush, const Face& a, const Face& b) {
  if (a.kind == FaceKind::seam || b.kind == FaceKind::seam) return false;
  const bool seen_a = is_surface(a) && brush.faces_viewer(a.normal);
  const bool seen_b = is_surface(b) && brush.faces_viewer(b.normal);
  if (a.kind == FaceKind::curved && b.kind == FaceKind::curved) return seen_a != seen_b;
  return seen_a || seen_b;
}

class ShadedPainter {
 public:
  ShadedPainter(const Brush& brush, const std::vector<PartLook>& looks) : brush_(brush), looks_(looks) {}

  void paint(const Piece& piece) const {
    const PartLook& look = looks_[static_cast<std::size_t>(piece.part)];
    fill(piece, look.tone);
    draw_marks(piece, look);
    for (const Hollow& hollow : piece.hollows) look_into(hollow, piece, look);
    draw_edges(piece, look);
  }

 private:
  void fill(const Piece& piece, Tone tone) const {
    const EdgeMap edges = edges_of(piece.block);
    Outline round;
    Outline bright;
    Outline dark;
    for (const Face& face : piece.block.faces) {
      if (!is_surface(face) || !brush_.faces_viewer(face.normal)) continue;
      const double light = brush_.light_on(face.normal);
      if (face.kind == FaceKind::curved) {
        round.add(face);
        if (light > 0.80) bright.add(face);
        if (light < 0.20) dark.add(face);
        continue;
      }
      brush_.trace_face(piece, face);
      use(brush_.cairo(), lit(tone, 0.80 + 0.24 * std::max(0.0, light)));
      fill_and_bleed(piece, edges, [&](const Face& f) { return &f == &face; });
    }
    const auto band = [&](const Outline& outline, double factor, double from, double to) {
      if (outline.empty()) return;
      brush_.trace(piece.block, outline);
      use(brush_.cairo(), lit(tone, factor));
      fill_and_bleed(piece, edges, [&](const Face& f) {
        const double light = brush_.light_on(f.normal);
        return f.kind == FaceKind::curved && brush_.faces_viewer(f.normal) && light > from && light < to;
      });
    };
    band(round, 0.97, -2.0, 2.0);
    band(bright, 1.06, 0.80, 2.0);
    band(dark, 0.80, -2.0, 0.20);
  }

  /// Fills the current path. Where the piece goes on behind a cut a hair of the same tone crosses it, so that no
  /// light line shows between the two halves.
  template <class Wanted>
  void fill_and_bleed(const Piece& piece, const EdgeMap& edges, const Wanted& wanted) const {
    cairo_fill(brush_.cairo());
    bool any = false;
    for (const auto& [edge, faces] : edges) {
      if (faces[1] == nullptr) continue;
      const bool first_cut = faces[0]->kind == FaceKind::seam;
      if (first_cut == (faces[1]->kind == FaceKind::seam)) continue;
      const Face& surface = first_cut ? *faces[1] : *faces[0];
      if (!is_surface(surface) || !wanted(surface)) continue;
      const PageMap::Point a = brush_.map()(piece.block.points[static_cast<std::size_t>(edge.first)]);
      const PageMap::Point b = brush_.map()(piece.block.points[static_cast<std::size_t>(edge.second)]);
      cairo_move_to(brush_.cairo(), a.x, a.y);
      cairo_line_to(brush_.cairo(), b.x, b.y);
      any = true;
    }
    if (!any) return;
    cairo_set_line_width(brush_.cairo(), 0.08);
    cairo_set_line_cap(brush_.cairo(), CAIRO_LINE_CAP_BUTT);
    cairo_stroke(brush_.cairo());
    cairo_set_line_cap(brush_.cairo(), CAIRO_LINE_CAP_ROUND);
  }

  void draw_marks(const Piece& piece, const PartLook& look) const {
    cairo_t* cairo = brush_.cairo();
    constexpr double kTooFine = 0.30;  // page mm
    for (const Mark& mark : piece.marks) {
      if (mark.kind == Mark::Kind::spot) {
        if (!brush_.faces_viewer(mark.normals.front()) || mark.spacing * brush_.map().scale < kTooFine) continue;
        brush_.trace(mark.points, true);
        use(cairo, look::kHole);
        cairo_fill(cairo);
        continue;
      }
      if (mark.spacing * brush_.map().scale < kTooFine) continue;
      bool down = false;
      for (std::size_t k = 0; k + 1 < mark.points.size(); ++k) {
        const bool seen = brush_.faces_viewer(mark.normals[k]);
        if (seen && !down) {
          const PageMap::Point p = brush_.map()(mark.points[k]);
          cairo_move_to(cairo, p.x, p.y);
        }
        if (seen) {
          const PageMap::Point p = brush_.map()(mark.points[k + 1]);
          cairo_line_to(cairo, p.x, p.y);
        }
        down = seen;
      }
      use(cairo, mark.kind == Mark::Kind::grain ? lit(look::kGrain, look.tone.blue < 0.6 ? 0.8 : 1.0) : look::kInk);
      cairo_set_line_width(cairo, look::kFine);
      cairo_stroke(cairo);
    }
  }

  void look_into(const Hollow& hollow, const Piece& board, const PartLook& look) const {
    cairo_t* cairo = brush_.cairo();
    const Outline mouth = mouth_of(brush_, hollow);
    if (mouth.empty()) return;
    cairo_save(cairo);
    brush_.trace(hollow.block, mouth);
    cairo_clip(cairo);
    Outline wall;
    for (const Face& face : hollow.block.faces) {
      if (!is_opening(face) && brush_.faces_viewer(-face.normal)) wall.add(face);
    }
    if (!wall.empty()) {
      brush_.trace(hollow.block, wall);
      use(cairo, lit(looks_[static_cast<std::size_t>(board.part)].tone, 0.55));
      cairo_fill(cairo);
      // The far rim of the hole, seen through it.
      Lines rim;
      for (const auto& [edge, faces] : edges_of(hollow.block)) {
        if (faces[1] == nullptr || is_opening(*faces[0]) == is_opening(*faces[1])) continue;
        const Face& side = is_opening(*faces[0]) ? *faces[1] : *faces[0];
        if (brush_.faces_viewer(-side.normal)) rim.add(edge.first, edge.second);
      }
      rim.trace(brush_, hollow.block);
      stroke(look.outline * 0.7);
    }
    for (const Piece* piece : contents_by_depth(hollow, brush_.map().projection.toward)) paint(*piece);
    cairo_restore(cairo);
    Lines rim;
    for (const auto& [edge, faces] : edges_of(hollow.block)) {
      if (faces[1] == nullptr || is_opening(*faces[0]) == is_opening(*faces[1])) continue;
      const Face& opening = is_opening(*faces[0]) ? *faces[0] : *faces[1];
      if (opening.id < 6 && brush_.faces_viewer(opening.normal)) rim.add(edge.first, edge.second);
    }
    rim.trace(brush_, hollow.block);
    stroke(look.outline);
  }

  void draw_edges(const Piece& piece, const PartLook& look) const {
    Lines lines;
    for (const auto& [edge, faces] : edges_of(piece.block)) {
      if (faces[1] == nullptr || !is_line(brush_, *faces[0], *faces[1])) continue;
      if (!open_slot(piece, edge, *faces[0], *faces[1])) lines.add(edge.first, edge.second);
    }
    lines.trace(brush_, piece.block);
    stroke(look.outline);
  }

  /// Handles an edge of a board that a slot opens: draws what the slot leaves of it.
  bool open_slot(const Piece& piece, std::pair<int, int> edge, const Face& a, const Face& b) const {
    if (piece.hollows.empty() || a.id < 0 || b.id < 0) return false;
    const Vec3 from = piece.block.points[static_cast<std::size_t>(edge.first)];
    const Vec3 way = piece.block.points[static_cast<std::size_t>(edge.second)] - from;
    const double length = norm(way);
    std::vector<std::pair<double, double>> gaps;
    for (const Hollow& hollow : piece.hollows) {
      for (const auto& [ends, faces] : edges_of(hollow.block)) {
        if (faces[1] == nullptr) continue;
        const auto [low, high] = std::minmax(faces[0]->id, faces[1]->id);
        if (low != std::min(a.id, b.id) || high != std::max(a.id, b.id)) continue;
        const double s = dot(hollow.block.points[static_cast<std::size_t>(ends.first)] - from, way) / length;
        const double t = dot(hollow.block.points[static_cast<std::size_t>(ends.second)] - from, way) / length;
        gaps.emplace_back(std::min(s, t), std::max(s, t));
      }
    }
    if (gaps.empty()) return false;
    std::sort(gaps.begin(), gaps.end());
    double at = 0.0;
    gaps.emplace_back(length, length);
    for (const auto& [lo, hi] : gaps) {
      if (lo > at) {
        const PageMap::Point p = brush_.map()(from + (at / length) * way);
        const PageMap::Point q = brush_.map()(from + (lo / length) * way);
        cairo_move_to(brush_.cairo(), p.x, p.y);
        cairo_line_to(brush_.cairo(), q.x, q.y);
      }
      at = std::max(at, hi);
    }
    return true;
  }

  void stroke(double width) const {
    use(brush_.cairo(), look::kInk);
    cairo_set_line_width(brush_.cairo(), width);
    cairo_stroke(brush_.cairo());
  }

  const Brush& brush_;
  const std::vector<PartLook>& looks_;
};

class NumberPainter {
 public:
  NumberPainter(const Brush& brush, const std::vector<bool>& only) : brush_(brush), only_(only) {}

  void paint(const Piece& piece) const {
    const bool wanted = only_.empty() || only_[static_cast<std::size_t>(piece.part)];
    cairo_t* cairo = brush_.cairo();
    if (wanted) {
      number(piece.part);
      Outline round;
      for (const Face& face : piece.block.faces) {
        if (!is_surface(face) || !brush_.faces_viewer(face.normal)) continue;
        if (face.kind == FaceKind::curved) {
          round.add(face);
          continue;
        }
        brush_.trace_face(piece, face);
        cairo_fill(cairo);
      }
      brush_.trace(piece.block, round);
      cairo_fill(cairo);
    }
    for (const Hollow& hollow : piece.hollows) {
      const Outline mouth = mouth_of(brush_, hollow);
      if (mouth.empty()) continue;
      cairo_save(cairo);
      brush_.trace(hollow.block, mouth);
      cairo_clip(cairo);
      Outline wall;
      for (const Face& face : hollow.block.faces) {
        if (wanted && !is_opening(face) && brush_.faces_viewer(-face.normal)) wall.add(face);
      }
      number(piece.part);
      brush_.trace(hollow.block, wall);
      cairo_fill(cairo);
      for (const Piece* inside : contents_by_depth(hollow, brush_.map().projection.toward)) paint(*inside);
      cairo_restore(cairo);
    }
  }

 private:
  void number(model::PartId part) const {
    const unsigned n = static_cast<unsigned>(part) + 1U;
    cairo_set_source_rgb(brush_.cairo(), ((n >> 16U) & 255U) / 255.0, ((n >> 8U) & 255U) / 255.0, (n & 255U) / 255.0);
  }
  const Brush& brush_;
  const std::vector<bool>& only_;
};

}  // namespace

void paint_shaded(cairo_t* cairo, const DepthTree& tree, const PageMap& map, const std::vector<PartLook>& looks) {
  const Brush brush(cairo, map);
  const ShadedPainter painter(brush, looks);
  cairo_save(cairo);
  cairo_set_line_join(cairo, CAIRO_LINE_JOIN_ROUND);
  cairo_set_line_cap(cairo, CAIRO_LINE_CAP_ROUND);
  tree.back_to_front(map.projection.toward, [&](const Piece& piece) { painter.paint(piece); });
  cairo_restore(cairo);
}

void paint_numbers(cairo_t* cairo, const DepthTree& tree, const PageMap& map, const std::vector<bool>& only) {
  const Brush brush(cairo, map);
  const NumberPainter painter(brush, only);
  tree.back_to_front(map.projection.toward, [&](const Piece& piece) { painter.paint(piece); });
}

}  // namespace dryfit::cli

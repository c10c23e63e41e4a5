#include "cli/draw/paint/painter.hpp"

#include <algorithm>
#include <utility>

#include "cli/draw/paint/brush.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using look::Tone;

Tone lit(Tone tone, double factor) {
  return {std::min(1.0, tone.red * factor), std::min(1.0, tone.green * factor), std::min(1.0, tone.blue * factor)};
}

class ShadedPainter {
 public:
  ShadedPainter(Canvas& canvas, const Brush& brush, const std::vector<PartLook>& looks)
      : canvas_(canvas), brush_(brush), looks_(looks) {}

  void paint(const Piece& piece) const {
    const PartLook& look = looks_[dryfit::at(piece.part)];
    const double scale = brush_.map().scale;
    canvas_.begin_body(scale);
    if (is_seen_through(brush_, piece)) {
      outline(piece, look);
    } else {
      // The ground of a board stays the same, whatever stands in its holes.
      const bool drilled = !piece.hollows.empty();
      if (drilled) canvas_.begin_body(scale);
      fill(piece, look.tone);
      draw_marks(piece, look);
      if (drilled) canvas_.end_body();
      for (const Hollow& hollow : piece.hollows) {
        canvas_.begin_body(scale);
        look_into(hollow, piece, look);
        canvas_.end_body();
      }
      draw_edges(piece, look);
    }
    canvas_.end_body();
  }

 private:
  /// Of a patch that is seen from behind: its edge and its hatching.
  void outline(const Piece& piece, const PartLook& look) const {
    Lines lines;
    for (const auto& [edge, faces] : edges_of(piece.block)) {
      if (faces[1] == nullptr || faces[0]->kind == FaceKind::seam || faces[1]->kind == FaceKind::seam) continue;
      const bool front = dot(faces[0]->normal, piece.seen_from) > 0.5 || dot(faces[1]->normal, piece.seen_from) > 0.5;
      if (front) lines.add(edge.first, edge.second);
    }
    lines.trace(brush_, piece.block);
    stroke(look.outline, look.line);
    for (const Mark& mark : piece.marks) brush_.trace(mark.points, false);
    stroke(look::kFine, look.line);
  }

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
      canvas_.use(lit(tone, 0.80 + 0.24 * std::max(0.0, light)));
      fill_and_bleed(piece, edges, [&](const Face& f) { return &f == &face; });
    }
    const auto band = [&](const Outline& outline, double factor, double from, double to) {
      if (outline.empty()) return;
      brush_.trace(piece.block, outline);
      canvas_.use(lit(tone, factor));
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
    canvas_.fill();
    bool any = false;
    for (const auto& [edge, faces] : edges) {
      if (faces[1] == nullptr) continue;
      const bool first_cut = faces[0]->kind == FaceKind::seam;
      if (first_cut == (faces[1]->kind == FaceKind::seam)) continue;
      const Face& surface = first_cut ? *faces[1] : *faces[0];
      if (!is_surface(surface) || !wanted(surface)) continue;
      const PageMap::Point a = brush_.map()(piece.block.points[dryfit::at(edge.first)]);
      const PageMap::Point b = brush_.map()(piece.block.points[dryfit::at(edge.second)]);
      canvas_.move_to(a.x, a.y);
      canvas_.line_to(b.x, b.y);
      any = true;
    }
    if (!any) return;
    canvas_.line_width(0.08);
    canvas_.round_ends(false);
    canvas_.stroke();
    canvas_.round_ends(true);
  }

  void draw_marks(const Piece& piece, const PartLook& look) const {
    constexpr double kTooFine = 0.30;  // page mm
    for (const Mark& mark : piece.marks) {
      if (mark.kind == Mark::Kind::spot) {
        if (!brush_.faces_viewer(mark.normals.front()) || mark.spacing * brush_.map().scale < kTooFine) continue;
        brush_.trace(mark.points, true);
        canvas_.use(look::kHole);
        canvas_.fill();
        continue;
      }
      if (mark.spacing * brush_.map().scale < kTooFine) continue;
      bool down = false;
      for (std::size_t k = 0; k + 1 < mark.points.size(); ++k) {
        const bool seen = brush_.faces_viewer(mark.normals[k]);
        if (seen && !down) {
          const PageMap::Point p = brush_.map()(mark.points[k]);
          canvas_.move_to(p.x, p.y);
        }
        if (seen) {
          const PageMap::Point p = brush_.map()(mark.points[k + 1]);
          canvas_.line_to(p.x, p.y);
        }
        down = seen;
      }
      canvas_.use(mark.kind == Mark::Kind::grain   ? lit(look::kGrain, look.tone.blue < 0.6 ? 0.8 : 1.0)
                  : mark.kind == Mark::Kind::hatch ? look.line
                                                   : look::kInk);
      canvas_.line_width(look::kFine);
      canvas_.stroke();
    }
  }

  void look_into(const Hollow& hollow, const Piece& board, const PartLook& look) const {
    const Outline mouth = mouth_of(brush_, hollow);
    if (mouth.empty()) return;
    canvas_.save();
    brush_.trace(hollow.block, mouth);
    canvas_.clip();
    Outline wall;
    for (const Face& face : hollow.block.faces) {
      if (!is_opening(face) && brush_.faces_viewer(-face.normal)) wall.add(face);
    }
    if (!wall.empty()) {
      brush_.trace(hollow.block, wall);
      canvas_.use(lit(looks_[dryfit::at(board.part)].tone, 0.55));
      canvas_.fill();
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
    canvas_.restore();
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
    stroke(look.outline, look.line);
  }

  /// Handles an edge of a board that a slot opens: draws what the slot leaves of it.
  bool open_slot(const Piece& piece, std::pair<int, int> edge, const Face& a, const Face& b) const {
    if (piece.hollows.empty() || a.id < 0 || b.id < 0) return false;
    const Vec3 from = piece.block.points[dryfit::at(edge.first)];
    const Vec3 way = piece.block.points[dryfit::at(edge.second)] - from;
    const double length = norm(way);
    std::vector<std::pair<double, double>> gaps;
    for (const Hollow& hollow : piece.hollows) {
      for (const auto& [ends, faces] : edges_of(hollow.block)) {
        if (faces[1] == nullptr) continue;
        const auto [low, high] = std::minmax(faces[0]->id, faces[1]->id);
        if (low != std::min(a.id, b.id) || high != std::max(a.id, b.id)) continue;
        const double s = dot(hollow.block.points[dryfit::at(ends.first)] - from, way) / length;
        const double t = dot(hollow.block.points[dryfit::at(ends.second)] - from, way) / length;
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
        canvas_.move_to(p.x, p.y);
        canvas_.line_to(q.x, q.y);
      }
      at = std::max(at, hi);
    }
    return true;
  }

  void stroke(double width, Tone tone = look::kInk) const {
    canvas_.use(tone);
    canvas_.line_width(width);
    canvas_.stroke();
  }

  Canvas& canvas_;
  const Brush& brush_;
  const std::vector<PartLook>& looks_;
};

}  // namespace

void paint_shaded(Canvas& canvas, const DepthTree& tree, const PageMap& map, const std::vector<PartLook>& looks) {
  const Brush brush(canvas, map);
  const ShadedPainter painter(canvas, brush, looks);
  canvas.save();
  canvas.round_corners();
  canvas.round_ends(true);
  tree.back_to_front(map.projection.toward, [&](const Piece& piece) { painter.paint(piece); });
  canvas.restore();
}

}  // namespace dryfit::cli

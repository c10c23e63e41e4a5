#include "cli/draw/paint/brush.hpp"
#include "cli/draw/paint/painter.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

class NumberPainter {
 public:
  NumberPainter(const Brush& brush, const std::vector<bool>& only) : brush_(brush), only_(only) {}

  void paint(const Piece& piece) const {
    if (is_seen_through(brush_, piece)) return;
    const bool wanted = only_.empty() || only_[at(piece.part)];
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

void paint_numbers(cairo_t* cairo, const DepthTree& tree, const PageMap& map, const std::vector<bool>& only) {
  const Brush brush(cairo, map);
  const NumberPainter painter(brush, only);
  tree.back_to_front(map.projection.toward, [&](const Piece& piece) { painter.paint(piece); });
}

}  // namespace dryfit::cli

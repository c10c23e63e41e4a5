#include "cli/draw/paint/brush.hpp"
#include "cli/draw/paint/painter.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

class NumberPainter {
 public:
  NumberPainter(NumberCanvas& canvas, const Brush& brush, const std::vector<bool>& only)
      : canvas_(canvas), brush_(brush), only_(only) {}

  void paint(const Piece& piece) const {
    if (is_seen_through(brush_, piece)) return;
    const bool wanted = only_.empty() || only_[at(piece.part)];
    if (wanted) {
      canvas_.number(piece.part);
      Outline round;
      for (const Face& face : piece.block.faces) {
        if (!is_surface(face) || !brush_.faces_viewer(face.normal)) continue;
        if (face.kind == FaceKind::curved) {
          round.add(face);
          continue;
        }
        brush_.trace_face(piece, face);
        canvas_.fill();
      }
      brush_.trace(piece.block, round);
      canvas_.fill();
    }
    for (const Hollow& hollow : piece.hollows) {
      const Outline mouth = mouth_of(brush_, hollow);
      if (mouth.empty()) continue;
      canvas_.save();
      brush_.trace(hollow.block, mouth);
      canvas_.clip();
      Outline wall;
      for (const Face& face : hollow.block.faces) {
        if (wanted && !is_opening(face) && brush_.faces_viewer(-face.normal)) wall.add(face);
      }
      canvas_.number(piece.part);
      brush_.trace(hollow.block, wall);
      canvas_.fill();
      for (const Piece* inside : contents_by_depth(hollow, brush_.map().projection.toward)) paint(*inside);
      canvas_.restore();
    }
  }

 private:
  NumberCanvas& canvas_;
  const Brush& brush_;
  const std::vector<bool>& only_;
};

}  // namespace

void paint_numbers(NumberCanvas& canvas, const DepthTree& tree, const PageMap& map, const std::vector<bool>& only) {
  const Brush brush(canvas, map);
  const NumberPainter painter(canvas, brush, only);
  tree.back_to_front(map.projection.toward, [&](const Piece& piece) { painter.paint(piece); });
}

}  // namespace dryfit::cli

#include "cli/draw/picture/fit_page.hpp"

#include <algorithm>

namespace dryfit::cli {

PageMap fit_page(const std::vector<Piece>& pieces, const View& view, RectMm area) {
  PageMap map{Projection(view), 1.0, 0.0, 0.0};
  double u0 = 1e300;
  double u1 = -1e300;
  double v0 = 1e300;
  double v1 = -1e300;
  for (const Piece& piece : pieces) {
    for (const Vec3& p : piece.block.points) {
      u0 = std::min(u0, map.projection.u(p));
      u1 = std::max(u1, map.projection.u(p));
      v0 = std::min(v0, map.projection.v(p));
      v1 = std::max(v1, map.projection.v(p));
    }
  }
  if (u1 < u0) return map;
  map.scale = std::min({area.width / std::max(u1 - u0, 1e-6), area.height / std::max(v1 - v0, 1e-6), 1.0});
  map.left = area.x + area.width / 2.0 - map.scale * (u0 + u1) / 2.0;
  map.top = area.y + area.height / 2.0 + map.scale * (v0 + v1) / 2.0;
  return map;
}

}  // namespace dryfit::cli

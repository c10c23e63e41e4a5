#include "cli/draw/paint/number_grid.hpp"

#include <cmath>
#include <cstdint>
#include <cstring>

#include "cli/draw/paint/surface.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {

int NumberGrid::column(double x) const { return static_cast<int>(std::floor((x - left) * per_mm)); }
int NumberGrid::row(double y) const { return static_cast<int>(std::floor((y - top) * per_mm)); }

NumberGrid grid_of(const DepthTree& tree, const PageMap& map, RectMm area, double per_mm,
                   const std::vector<bool>& only) {
  NumberGrid out;
  out.width = std::max(1, static_cast<int>(std::ceil(area.width * per_mm)));
  out.height = std::max(1, static_cast<int>(std::ceil(area.height * per_mm)));
  out.left = area.x;
  out.top = area.y;
  out.per_mm = per_mm;
  const SurfacePtr surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, out.width, out.height));
  check(cairo_surface_status(surface.get()), "numbering the picture");
  {
    const CairoPtr cairo(cairo_create(surface.get()));
    cairo_set_antialias(cairo.get(), CAIRO_ANTIALIAS_NONE);
    cairo_scale(cairo.get(), per_mm, per_mm);
    cairo_translate(cairo.get(), -area.x, -area.y);
    paint_numbers(cairo.get(), tree, map, only);
    check(cairo_status(cairo.get()), "numbering the picture");
  }
  cairo_surface_flush(surface.get());
  const unsigned char* bytes = cairo_image_surface_get_data(surface.get());
  const int stride = cairo_image_surface_get_stride(surface.get());
  out.cells.reserve(at(out.width) * at(out.height));
  for (int row = 0; row < out.height; ++row) {
    const unsigned char* line = bytes + static_cast<std::ptrdiff_t>(row) * stride;
    for (int column = 0; column < out.width; ++column) {
      std::uint32_t cell = 0;
      std::memcpy(&cell, line + 4 * static_cast<std::ptrdiff_t>(column), 4);
      out.cells.push_back(static_cast<model::PartId>(cell & 0xFFFFFFU) - 1);
    }
  }
  return out;
}

}  // namespace dryfit::cli

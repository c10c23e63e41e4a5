#pragma once
/// Where a point of the room is on the page.
#include "cli/draw/body/view.hpp"

namespace dryfit::cli {

/// From room millimetres to the page: x = left + scale * u, y = top - scale * v.
struct PageMap {
  Projection projection;
  double scale = 1.0;
  double left = 0.0;
  double top = 0.0;
  struct Point {
    double x = 0.0;
    double y = 0.0;
  };
  [[nodiscard]] Point operator()(Vec3 p) const {
    return {left + scale * projection.u(p), top - scale * projection.v(p)};
  }
};

}  // namespace dryfit::cli

#include "cli/draw/sheet/tiling.hpp"

#include <algorithm>
#include <cmath>

namespace dryfit::cli {
namespace {

/// How far from the lower left corner something is drilled or sawn, with the arms of its cross.
struct Extent {
  double x = 0.0;
  double y = 0.0;
};
Extent worked_extent(const BoardPlan& plan) {
  Extent out;
  for (const PlanHole& hole : plan.holes) {
    const double reach = hole.diameter / 2.0 + Tiling::kCross;
    out.x = std::max(out.x, hole.notch && hole.open_x > 0 ? plan.width : hole.x + reach);
    out.y = std::max(out.y, hole.notch && hole.open_y > 0 ? plan.height : hole.y + reach);
  }
  return {std::min(out.x, plan.width), std::min(out.y, plan.height)};
}

}  // namespace

Tiling tiling_for(const BoardPlan& plan, double paper_width, double paper_height) {
  Tiling out;
  out.paper_width = paper_width;
  out.paper_height = paper_height;
  out.width = paper_width - 2 * Tiling::kMargin;
  out.height = paper_height - 2 * Tiling::kMargin - Tiling::kFoot;
  const auto count = [](double need, double page) {
    return std::max(1, static_cast<int>(std::ceil((need - Tiling::kOverlap) / (page - Tiling::kOverlap) - 1e-9)));
  };
  const Extent worked = worked_extent(plan);
  out.columns = count(worked.x + 2 * Tiling::kSurround, out.width);
  out.rows = count(worked.y + 2 * Tiling::kSurround, out.height);
  const auto covers = [](int pages, double page, double need) {
    return pages * (page - Tiling::kOverlap) + Tiling::kOverlap - Tiling::kSurround >= need + 0.5;
  };
  out.whole = covers(out.columns, out.width, plan.width) && covers(out.rows, out.height, plan.height);
  return out;
}

}  // namespace dryfit::cli

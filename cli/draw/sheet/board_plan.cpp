#include "cli/draw/sheet/board_plan.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "cli/words/say.hpp"
#include "cli/words/told.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using model::Direction;

/// Names of edges and faces in the words of a workbench.
std::string side_name(Direction d) {
  if (d == model::kUp) return "upper";
  if (d == model::kDown) return "lower";
  return d.name();
}

struct PageAxes {
  Direction right;
  Direction up;
};

PageAxes axes_facing(Direction facing) {
  if (facing == model::kUp) return {model::kRight, model::kBack};
  if (facing == model::kDown) return {model::kRight, model::kFront};
  return {model::square_to(model::kUp, facing), model::kUp};
}

std::vector<PlanSpacing> to_measure(const planner::DrillSheet& sheet, const std::vector<PlanHole>& holes) {
  constexpr std::size_t kMost = 6;
  std::vector<PlanSpacing> out;
  for (const planner::DrillPair& pair : sheet.pairs) {
    if (pair.drop == planner::Drop::free && !pair.measured) continue;
    const auto label = [&](int hole) { return holes[at(hole)].label; };
    out.push_back({say("{0} to {1}", label(pair.first), label(pair.second)), pair.spacing, pair.slack,
                   pair.spread.worst, pair.drop == planner::Drop::binds, pair.measured.has_value()});
  }
  std::stable_sort(out.begin(), out.end(), [](const PlanSpacing& a, const PlanSpacing& b) {
    if (a.binds != b.binds) return a.binds;
    return a.stray - a.slack > b.stray - b.slack + 1e-6;
  });
  if (out.size() > kMost) out.resize(kMost);
  return out;
}

int component(Direction d, int axis) { return axis == 0 ? d.x : axis == 1 ? d.y : d.z; }

}  // namespace

BoardPlan plan_of(const model::Frame& frame, const planner::DrillSheet& sheet) {
  const model::Part& part = frame.part(sheet.board);
  const model::Board& board = frame.board(part.board);
  const PageAxes page = axes_facing(board.facing);
  // Which of the sheet's two axes runs along the page's x.
  const std::size_t u = page.right.axis() == sheet.axes[0] ? 0 : 1;
  const std::size_t v = 1 - u;
  BoardPlan plan;
  plan.label = part.label.empty() ? part.id : part.label;
  plan.width = sheet.size[u];
  plan.height = sheet.size[v];
  plan.thickness = sheet.thickness;
  plan.stock = board.stock;
  plan.face = side_name(board.facing);
  plan.left = side_name(-page.right);
  plan.right = side_name(page.right);
  plan.lower = side_name(-page.up);
  plan.upper = side_name(page.up);
  plan.warnings = told(sheet.warnings, frame.units);
  const bool x_forward = component(page.right, page.right.axis()) > 0;
  const bool y_forward = component(page.up, page.up.axis()) > 0;
  for (const planner::DrillHole& hole : sheet.holes) {
    PlanHole out;
    if (hole.pipe != model::kNone) out.label = frame.part(hole.pipe).label;
    out.x = x_forward ? hole.from_low[u] : hole.from_high[u];
    out.y = y_forward ? hole.from_low[v] : hole.from_high[v];
    out.diameter = hole.hole;
    out.bit = hole.bit;
    out.notch = hole.notch;
    if (hole.notch) {
      out.open_x = model::dot(hole.open, page.right);
      out.open_y = model::dot(hole.open, page.up);
    }
    out.warnings = told(hole.warnings, frame.units);
    plan.holes.push_back(std::move(out));
  }
  plan.to_measure = to_measure(sheet, plan.holes);
  return plan;
}

bool drilled_alike(const BoardPlan& a, const BoardPlan& b) {
  const auto same = [](double x, double y) { return std::abs(x - y) < 0.05; };
  return same(a.width, b.width) && same(a.height, b.height) && a.stock == b.stock && a.face == b.face &&
         a.left == b.left && a.lower == b.lower &&
         std::equal(a.holes.begin(), a.holes.end(), b.holes.begin(), b.holes.end(),
                    [&](const PlanHole& p, const PlanHole& q) {
                      return same(p.x, q.x) && same(p.y, q.y) && same(p.diameter, q.diameter) && p.bit == q.bit &&
                             p.notch == q.notch && p.open_x == q.open_x && p.open_y == q.open_y;
                    });
}

}  // namespace dryfit::cli

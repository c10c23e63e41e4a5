#include "planner/shop/drill.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length.hpp"
#include "planner/fit/confidence.hpp"
#include "planner/fit/fit_equations.hpp"
#include "planner/fit/fit_levels.hpp"
#include "planner/state/no_rest.hpp"

namespace dryfit::planner {

using model::Board;
using model::Direction;
using model::Frame;
using model::Hole;
using model::kNone;
using model::Part;
using model::PartId;
using model::Solid;
using model::Vec3;

namespace {

constexpr double kSameBit = 0.05;
constexpr double kOnAxis = 1.0;  ///< mm: a carrier whose axis is nearer than this to the hole's carries it

Direction axis_direction(int axis, int sign) {
  return {axis == 0 ? sign : 0, axis == 1 ? sign : 0, axis == 2 ? sign : 0};
}

/// Largest body of the part that stands on the hole's axis where the board sits: diameter, or 0.
double face_diameter(const Part& part, const Board& board, Vec3 centre) {
  double best = 0.0;
  for (const Solid& solid : part.solids) {
    if (solid.shape != Solid::Shape::cylinder || solid.along.axis() != board.normal) continue;
    Vec3 off = solid.a - centre;
    off[board.normal] = 0.0;
    if (norm(off) > kOnAxis) continue;
    // Only the body whose end the board touches: a flange's plate may be wider further down.
    const double face =
        board.facing == axis_direction(board.normal, 1) ? board.lo[board.normal] : board.hi[board.normal];
    const double near = std::min(std::abs(solid.a[board.normal] - face), std::abs(solid.b[board.normal] - face));
    if (near < 2.0) best = std::max(best, 2 * solid.radius);
  }
  return best;
}

void find_carrier(const Frame& after, const Board& board, const Hole& hole, DrillHole& out) {
  for (const PartId carrier : board.carriers) {
    const double diameter = face_diameter(after.parts[at(carrier)], board, hole.centre);
    if (diameter <= out.carrier_od || carrier == hole.pipe) continue;
    out.carrier = carrier;
    out.carrier_od = diameter;
  }
  if (out.carrier != kNone) out.bearing = (out.carrier_od - out.hole) / 2;
}

void find_wood(const Board& board, DrillSheet& sheet, std::size_t index) {
  DrillHole& hole = sheet.holes[index];
  double edge = 1e30;
  for (std::size_t i = 0; i < 2; ++i) {
    const Direction low = axis_direction(sheet.axes[i], -1);
    if (!(hole.notch && hole.open == low)) edge = std::min(edge, hole.from_low[i] - hole.hole / 2);
    if (!(hole.notch && hole.open == -low)) edge = std::min(edge, hole.from_high[i] - hole.hole / 2);
  }
  hole.to_edge = edge;
  double nearest = 1e30;
  for (std::size_t j = 0; j < board.holes.size(); ++j) {
    if (j == index) continue;
    const DrillHole& other = sheet.holes[j];
    const double apart = std::hypot(hole.from_low[0] - other.from_low[0], hole.from_low[1] - other.from_low[1]);
    nearest = std::min(nearest, apart - (hole.hole + other.hole) / 2);
  }
  hole.to_hole = board.holes.size() > 1 ? nearest : 0.0;
}

/// The collar of a tee or a cross goes into a wide hole, its arms don't; nor does the wide end of a reducing coupling,
/// or the plate of a flange: how far the board drops onto them.
void find_drop(const Frame& frame, const Board& board, DrillHole& hole) {
  if (passes_its_hole(frame, board, hole.carrier)) return;
  const Vec3 up = board.facing.unit();
  double top = -1e30, arm = -1e30, wide = -1e30;
  for (const model::Solid& solid : frame.part(hole.carrier).solids) {
    const bool along = solid.shape == model::Solid::Shape::cylinder && parallel(solid.along, board.facing);
    const bool passes = along && 2.0 * solid.radius <= hole.hole;
    double& highest = passes ? top : along ? wide : arm;
    highest = std::max(highest, reach_along(solid, up));
  }
  const double stop = std::max(arm, wide);
  if (top == -1e30 || stop == -1e30) return;
  hole.drops = std::max(0.0, top - stop);
  hole.onto_wide_end = wide > arm;
}

void warn_of_hole(const Frame& frame, const DrillHole& hole, bool alone, std::vector<Remark>& out) {
  if (hole.to_edge < 0) {
    out.push_back({remarked("the hole breaks out of the edge"), {}});
  } else if (hole.to_edge < hole.hole) {
    out.push_back({remarked("only {0} of wood to the edge, under one hole diameter of {1}"),
                   {Quantity{hole.to_edge}, Quantity{hole.hole}}});
  }
  if (!alone && hole.to_hole < 0) {
    out.push_back({remarked("the hole runs into the next one"), {}});
  } else if (!alone && hole.to_hole < hole.hole) {
    out.push_back({remarked("only {0} of wood to the next hole, under one hole diameter of {1}"),
                   {Quantity{hole.to_hole}, Quantity{hole.hole}}});
  }
  if (hole.clearance <= 0) {
    out.push_back({remarked("the hole is no larger than the pipe ({})"), {Quantity{hole.pipe_od}}});
  }
  if (hole.carrier == kNone) return;
  const std::string& carrier = frame.part(hole.carrier).id;
  if (hole.bearing <= 0 && hole.bearing > -model::kTouch / 2.0) {
    out.push_back(
        {remarked("{} may stick in the hole or slip through: don't count on it to carry the board"), {carrier}});
  } else if (hole.bearing <= 0) {
    if (hole.drops > 0.0 && hole.onto_wide_end) {
      out.push_back({remarked("the narrow end of {0} goes into the hole: the board drops by {1} onto the wide one"),
                     {carrier, Quantity{hole.drops}}});
    } else if (hole.drops > 0.0) {
      out.push_back(
          {remarked("the collar of {0} goes into the hole: the board drops by {1} until it lies on what sticks "
                    "out of {0} to the side"),
           {carrier, Quantity{hole.drops}}});
    } else {
      out.push_back({remarked("{} slips through the hole and carries nothing"), {carrier}});
    }
  } else if (hole.bearing < kThinRing) {
    out.push_back({remarked("only {1} of board rests on {0} all round, less than {2}: use a washer or a smaller bit"),
                   {carrier, Quantity{hole.bearing, Quantity::As::fine}, Quantity{kThinRing}}});
  }
}

/// Joints whose turns move the second post across the board, seen from the first.
Spread spacing_spread(const Lineage& lineage, PartId first, PartId second, const std::array<int, 2>& axes) {
  const Spread u = spread_of(lineage.difference(second, first, axes[0]));
  const Spread v = spread_of(lineage.difference(second, first, axes[1]));
  return {std::hypot(u.worst, v.worst), std::hypot(u.likely, v.likely), u.threads + v.threads};
}

DrillPair judged_pair(const Frame& frame, const Lineage& lineage, const Frame& after, const Board& board,
                      const DrillSheet& sheet, std::size_t i, std::size_t j) {
  const DrillHole& a = sheet.holes[i];
  const DrillHole& b = sheet.holes[j];
  DrillPair pair;
  pair.first = static_cast<int>(i);
  pair.second = static_cast<int>(j);
  pair.spacing = std::hypot(b.from_low[0] - a.from_low[0], b.from_low[1] - a.from_low[1]);
  Vec3 posts = after.parts[at(b.pipe)].centre - after.parts[at(a.pipe)].centre;
  posts[board.normal] = 0.0;
  pair.posts = norm(posts);
  // A slot gives all it wants along itself; across it counts like a hole.
  pair.slack = (a.clearance + b.clearance) / 2;
  pair.spread = spacing_spread(lineage, a.pipe, b.pipe, sheet.axes);
  for (const int axis : sheet.axes) {
    pair.from_memory = pair.from_memory || rests_on_memory(frame, lineage.difference(b.pipe, a.pipe, axis));
  }
  const double off = std::abs(pair.posts - pair.spacing);
  if (pair.slack <= 0 || off > pair.slack) {
    pair.drop = Drop::binds;
  } else if (off + pair.spread.worst > pair.slack) {
    pair.drop = Drop::measure_first;
  }
  return pair;
}

void judge_pairs(const Frame& frame, const Lineage& lineage, const Frame& after, const Board& board,
                 DrillSheet& sheet) {
  for (std::size_t i = 0; i < sheet.holes.size(); ++i) {
    for (std::size_t j = i + 1; j < sheet.holes.size(); ++j) {
      sheet.pairs.push_back(judged_pair(frame, lineage, after, board, sheet, i, j));
      sheet.drop = std::max(sheet.drop, sheet.pairs.back().drop);
      // The first hole is laid out from the edges that the file gives, the others follow from their posts.
      if (i == 0) sheet.holes[j].place_from_memory = sheet.pairs.back().from_memory;
    }
  }
}

void judge_lean(const Fit& fit, DrillSheet& sheet) {
  for (const LevelFit& level : fit.levels) {
    if (level.part == sheet.board) sheet.lean = level.slope_left;
  }
  sheet.lean_takes = sheet.thickness * sheet.lean / 1000.0;
  double tightest = 1e30;
  for (const DrillHole& hole : sheet.holes) tightest = std::min(tightest, hole.clearance);
  if (sheet.holes.empty() || sheet.lean <= 0) return;
  if (sheet.lean_takes > tightest) {
    sheet.drop = Drop::binds;
    sheet.warnings.push_back(
        {remarked("the board leans by {0}, so its holes are not square to the posts: at {1} thick they bind"),
         {Quantity{sheet.lean, Quantity::As::slope}, Quantity{sheet.thickness}}});
  } else if (sheet.lean > 5.0) {
    sheet.warnings.push_back({remarked("the board leans by {}; its holes are not square to the posts"),
                              {Quantity{sheet.lean, Quantity::As::slope}}});
  }
}

/// Where the box of the board goes through a surface.
void judge_room(const Frame& after, const Board& board, DrillSheet& sheet) {
  for (const model::Surface& surface : after.surfaces) {
    const int axis = surface.normal.axis();
    if (axis < 0) continue;
    const bool faces_up = surface.normal == axis_direction(axis, 1);
    const double over = faces_up ? surface.at - board.lo[axis] : board.hi[axis] - surface.at;
    if (over <= kExact) continue;
    sheet.warnings.push_back({remarked("the board reaches {0} into {1}"), {Quantity{over}, SurfaceName{surface.id}}});
  }
}

DrillSheet sheet_of(const Frame& frame, const Frame& after, const Lineage& lineage, const Fit& fit,
                    const Board& board) {
  DrillSheet sheet;
  sheet.board = board.part;
  int next = 0;
  for (int axis = 0; axis < 3; ++axis) {
    if (axis == board.normal) continue;
    const std::size_t i = at(next++);
    sheet.axes[i] = axis;
    sheet.size[i] = board.hi[axis] - board.lo[axis];
    sheet.low_edges[i] = axis_direction(axis, -1).name();
    sheet.high_edges[i] = axis_direction(axis, 1).name();
  }
  sheet.thickness = board.hi[board.normal] - board.lo[board.normal];
  for (const Hole& hole : board.holes) {
    DrillHole row;
    row.pipe = hole.pipe;
    row.notch = hole.notch;
    row.open = hole.open;
    for (std::size_t i = 0; i < 2; ++i) {
      row.from_low[i] = hole.centre[sheet.axes[i]] - board.lo[sheet.axes[i]];
      row.from_high[i] = board.hi[sheet.axes[i]] - hole.centre[sheet.axes[i]];
    }
    row.hole = hole.diameter;
    row.pipe_od = outside_diameter(frame, hole.pipe);
    row.clearance = row.hole - row.pipe_od;
    row.bit = bit_for(row.hole, frame.units == model::Units::in);
    find_carrier(after, board, hole, row);
    row.pipe_from_memory = band_from_memory(frame, hole.pipe);
    row.carrier_from_memory = band_from_memory(frame, row.carrier);
    sheet.holes.push_back(std::move(row));
  }
  for (std::size_t i = 0; i < sheet.holes.size(); ++i) {
    find_wood(board, sheet, i);
    DrillHole& hole = sheet.holes[i];
    if (hole.carrier != kNone && hole.bearing <= -model::kTouch / 2.0) find_drop(frame, board, hole);
    warn_of_hole(frame, sheet.holes[i], sheet.holes.size() == 1, sheet.holes[i].warnings);
  }
  judge_pairs(frame, lineage, after, board, sheet);
  judge_lean(fit, sheet);
  judge_room(after, board, sheet);
  return sheet;
}

}  // namespace

const char* word_for(Drop drop) {
  switch (drop) {
    case Drop::free: return "free";
    case Drop::measure_first: return "measure-first";
    case Drop::binds: return "binds";
  }
  return "";
}

std::string bit_for(double diameter, bool inch_first) {
  std::string other;
  for (const model::Bit& bit : model::bits()) {
    if (std::abs(bit.diameter - diameter) > kSameBit) continue;
    const std::string text = bit.label + (bit.inch ? " in" : " mm");
    if (bit.inch == inch_first) return text;
    if (other.empty()) other = text;
  }
  return other;
}

double outside_diameter(const Frame& frame, PartId pipe) {
  for (const Solid& solid : frame.part(pipe).solids) {
    if (solid.shape == Solid::Shape::cylinder) return 2 * solid.radius;
  }
  const auto od = model::dimension(frame.standard, frame.part(pipe).size, model::Dimension::pipe_od);
  return od ? od->value : 0.0;
}

std::vector<DrillSheet> drill_sheets(const Frame& frame, const Fit& fit) {
  const Frame after = turned(frame, fit.turns, fit.shift);
  const Lineage lineage(frame);
  std::vector<DrillSheet> out;
  for (std::size_t b = 0; b < frame.boards.size(); ++b) {
    DrillSheet sheet = sheet_of(frame, after, lineage, fit, after.boards[b]);
    if (!sheet.holes.empty() || !sheet.warnings.empty()) out.push_back(std::move(sheet));
  }
  return out;
}

}  // namespace dryfit::planner

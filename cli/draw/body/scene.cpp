#include "cli/draw/body/scene.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <optional>
#include <utility>

#include "cli/draw/body/fixture_pieces.hpp"
#include "cli/draw/body/rods.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using model::Frame;
using model::Part;
using model::PartId;
using model::PartKind;

/// Enough facets that a round body looks round on a page, for a frame `extent` mm across.
int facets_for(double radius, double extent) {
  // Page millimetres if the frame fills 180 mm; the sagitta of a facet is radius/2 * (pi/n)^2 and stays under 0.025.
  const double on_page = radius * 180.0 / std::max(extent, 1.0);
  const double n = std::numbers::pi * std::sqrt(on_page / (2.0 * 0.025));
  return 4 * std::clamp(static_cast<int>(std::ceil(n / 4.0)), 3, 10);
}

std::vector<Vec3> circle(Vec3 centre, Vec3 axis, double radius, int corners) {
  const Basis basis = basis_around(axis);
  std::vector<Vec3> out;
  for (int i = 0; i < corners; ++i) {
    const double angle = 2.0 * std::numbers::pi * i / corners;
    out.push_back(centre + radius * (std::cos(angle) * basis.first + std::sin(angle) * basis.second));
  }
  return out;
}

Mark spot(Vec3 centre, Vec3 normal, double radius) {
  return {Mark::Kind::spot, circle(centre, normal, radius, 24), {normal}, 2.0 * radius};
}

/// A line round a rod, at `along` from its start.
Mark ring(const Rod& rod, double along, Mark::Kind kind, double spacing, int facets) {
  Mark out{kind, {}, {}, spacing};
  const Vec3 centre = rod.from + along * rod.axis;
  out.points = circle(centre, rod.axis, rod.radius, facets);
  out.points.push_back(out.points.front());
  for (std::size_t i = 0; i + 1 < out.points.size(); ++i) {
    const Vec3 outward = 0.5 * (out.points[i] + out.points[i + 1]) - centre;
    out.normals.push_back(outward * (1.0 / norm(outward)));
  }
  return out;
}

/// Threads and bores at the ends of pipes, bands at the ports of fittings, screw holes in flanges. What does not lie
/// on this rod is skipped: a rod may be only a stretch of the body.
void mark_rod(const Rod& rod, const Part& part, int facets, std::vector<Mark>& marks) {
  const auto on_rod = [&rod](Vec3 p) -> std::optional<double> {
    const double along = dot(p - rod.from, rod.axis);
    const bool near_axis = norm(p - rod.from - along * rod.axis) < 0.25 * rod.radius;
    return near_axis && along > -0.1 && along < rod.length + 0.1 ? std::optional(along) : std::nullopt;
  };
  const auto add_ring = [&](Vec3 at, Vec3 facing, double back, Mark::Kind kind, double spacing) {
    const double along = dot(at - rod.from, rod.axis) - back * dot(facing, rod.axis);
    if (along > 0.2 && along < rod.length - 0.2) marks.push_back(ring(rod, along, kind, spacing, facets));
  };
  for (const model::Port& port : part.ports) {
    const Vec3 facing = port.facing.unit();
    if (std::abs(dot(facing, rod.axis)) < 0.999) continue;
    const bool here = on_rod(port.at).has_value();
    if (port.male) {
      // A taper thread is about as long as the pipe is thick, a little more on thin pipe.
      const double pitch = std::max(2.0, rod.radius / 4.0);
      const double thread = 0.8 * rod.radius + 6.0;
      for (double back = pitch; port.threaded && back <= thread; back += pitch) {
        add_ring(port.at, facing, back, Mark::Kind::thread, pitch);
      }
      if (here && part.kind == PartKind::pipe) marks.push_back(spot(port.at, facing, 0.78 * rod.radius));
    } else if (here) {
      if (part.kind != PartKind::flange && part.kind != PartKind::bushing) {
        add_ring(port.at, facing, 0.45 * rod.radius, Mark::Kind::band, 0.45 * rod.radius);
      }
      marks.push_back(spot(port.at, facing, 0.7 * rod.radius));
    }
  }
  if (part.kind == PartKind::flange && !part.ports.empty()) {
    const Vec3 facing = part.ports.front().facing.unit();
    double hub = rod.radius;
    double plate = rod.radius;
    for (const model::Solid& solid : part.solids) {
      hub = std::min(hub, solid.radius);
      plate = std::max(plate, solid.radius);
    }
    if (rod.radius < plate - 0.1 || hub > plate - 4.0) return;
    const double size = std::min(0.07 * plate, 0.35 * (plate - hub));
    const Basis basis = basis_around(rod.axis);
    for (const Vec3 face : {rod.from, rod.to()}) {
      const Vec3 normal = dot(face - (rod.from + 0.5 * rod.length * rod.axis), facing) > 0.0 ? facing : -facing;
      for (int k = 0; k < 4; ++k) {
        const double angle = std::numbers::pi * (0.25 + 0.5 * k);
        const Vec3 outward = std::cos(angle) * basis.first + std::sin(angle) * basis.second;
        marks.push_back(spot(face + 0.5 * (plate + hub) * outward, normal, size));
      }
    }
  }
}

Piece piece_of(const Rod& rod, const Part& part, double extent) {
  const int facets = facets_for(rod.radius, extent);
  Piece piece;
  piece.part = rod.part;
  piece.block = round_block(rod.from, rod.to(), rod.radius, facets, rod.start, rod.end);
  mark_rod(rod, part, facets, piece.marks);
  for (const Mitre& mitre : rod.mitres) {
    PieceHalves halves = cut(piece, mitre.plane, mitre.kind, -1);
    if (!halves.back.block.empty()) piece = std::move(halves.back);
  }
  return piece;
}

/// The outline of a hole or slot on the plane z = lo of the board's thickness, counterclockwise about +normal.
std::vector<Vec3> outline_of(const model::Hole& hole, const model::Board& board, double extent) {
  Vec3 axis;
  axis[board.normal] = 1.0;
  Vec3 centre = hole.centre;
  centre[board.normal] = board.lo[board.normal] - 1.0;
  const double radius = hole.diameter / 2.0;
  const int corners = facets_for(radius, extent);
  if (!hole.notch) return circle(centre, axis, radius, corners);
  const Vec3 open = hole.open.unit();
  const Vec3 aside = cross(axis, open);
  std::vector<Vec3> out;
  for (int i = 0; i <= corners / 2; ++i) {
    const double angle = std::numbers::pi * (0.5 + static_cast<double>(i) * 2.0 / corners);
    out.push_back(centre + radius * (std::cos(angle) * open + std::sin(angle) * aside));
  }
  const double beyond = norm(board.hi - board.lo) + 10.0;
  out.push_back(out.back() + beyond * open);
  out.push_back(out.front() + beyond * open);
  return out;
}

Hollow hollow_of(const model::Hole& hole, const model::Board& board, double extent) {
  Vec3 sweep;
  sweep[board.normal] = board.hi[board.normal] - board.lo[board.normal] + 2.0;
  Block block = extruded(outline_of(hole, board, extent), sweep, FaceKind::curved, FaceKind::flat, FaceKind::flat);
  for (Face& face : block.faces) face.id = -1;
  for (int axis = 0; axis < 3; ++axis) {
    Vec3 normal;
    normal[axis] = 1.0;
    Halves low = cut(block, {normal, board.lo[axis]}, FaceKind::flat, 2 * axis);
    if (!low.front.empty()) block = std::move(low.front);
    Halves high = cut(block, {normal, board.hi[axis]}, FaceKind::flat, 2 * axis + 1);
    if (!high.back.empty()) block = std::move(high.back);
  }
  return {std::move(block), {}};
}

/// Lines along the longest side, with gaps at the holes and of uneven spacing so that they look like wood.
void mark_grain(const model::Board& board, std::vector<Mark>& marks) {
  const Vec3 size = board.hi - board.lo;
  const int first = (board.normal + 1) % 3;
  const int second = (board.normal + 2) % 3;
  const int along = size[first] >= size[second] ? first : second;
  const int across = along == first ? second : first;
  constexpr double kPlaces[] = {0.13, 0.31, 0.42, 0.63, 0.78, 0.9};
  constexpr double kStarts[] = {0.04, 0.30, 0.10, 0.02, 0.45, 0.18};
  constexpr double kEnds[] = {0.55, 0.96, 0.72, 0.40, 0.93, 0.70};
  for (const double face : {board.lo[board.normal], board.hi[board.normal]}) {
    Vec3 normal;
    normal[board.normal] = face == board.hi[board.normal] ? 1.0 : -1.0;
    for (std::size_t k = 0; k < std::size(kPlaces); ++k) {
      const double line = board.lo[across] + kPlaces[k] * size[across];
      std::vector<std::pair<double, double>> gaps;
      for (const model::Hole& hole : board.holes) {
        const double margin = hole.diameter / 2.0 + 2.0;
        if (std::abs(line - hole.centre[across]) > margin && !(hole.notch && hole.open.axis() == across)) continue;
        double lo = hole.centre[along] - margin;
        double hi = hole.centre[along] + margin;
        if (hole.notch && hole.open.axis() == along) {
          if (hole.open.unit()[along] > 0.0) hi = board.hi[along];
          if (hole.open.unit()[along] < 0.0) lo = board.lo[along];
        }
        gaps.emplace_back(lo, hi);
      }
      std::sort(gaps.begin(), gaps.end());
      double at = board.lo[along] + kStarts[k] * size[along];
      const double end = board.lo[along] + kEnds[k] * size[along];
      const auto add = [&](double from, double to) {
        if (to - from < 0.02 * size[along]) return;
        Vec3 a;
        a[board.normal] = face;
        a[across] = line;
        Vec3 b = a;
        a[along] = from;
        b[along] = to;
        marks.push_back({Mark::Kind::grain, {a, b}, {normal}, 0.1 * size[across]});
      };
      for (const auto& [lo, hi] : gaps) {
        if (lo > at) add(at, std::min(lo, end));
        at = std::max(at, hi);
      }
      add(at, end);
    }
  }
}

/// How far a piece sticks out of a hollow, mm; 0 or less when it lies inside.
double sticks_out(const Piece& piece, const Hollow& hollow) {
  double out = -1e300;
  for (const Face& face : hollow.block.faces) {
    const double offset = dot(face.normal, hollow.block.points[dryfit::at(face.loop.front())]);
    out = std::max(out, piece.block.range_along(face.normal).hi - offset);
  }
  return out;
}

/// Moves what passes through the board's holes into them: pieces are cut at both faces of the board.
void pass_through(const model::Board& board, Piece& drawn, std::vector<Piece>& pieces) {
  constexpr double kLoose = 1.5;  // mm: a pipe may lie this far off and still be drawn in its hole
  Vec3 normal;
  normal[board.normal] = 1.0;
  const double lo = board.lo[board.normal];
  const double hi = board.hi[board.normal];
  std::vector<Piece> out;
  for (Piece& piece : pieces) {
    const Block::Range range = piece.block.range_along(normal);
    if (range.hi < lo + kSliver || range.lo > hi - kSliver) {
      out.push_back(std::move(piece));
      continue;
    }
    PieceHalves above = cut(piece, {normal, hi}, FaceKind::seam, -1);
    PieceHalves below = cut(above.back, {normal, lo}, FaceKind::seam, -1);
    Hollow* home = nullptr;
    for (Hollow& hollow : drawn.hollows) {
      if (!below.front.block.empty() && sticks_out(below.front, hollow) < kLoose) home = &hollow;
    }
    if (home == nullptr) {
      out.push_back(std::move(piece));
      continue;
    }
    home->contents.push_back(std::move(below.front));
    if (!above.front.block.empty()) out.push_back(std::move(above.front));
    if (!below.back.block.empty()) out.push_back(std::move(below.back));
  }
  pieces = std::move(out);
}

double extent_of(const Frame& frame, const std::vector<PartId>& shown) {
  Vec3 lo{1e300, 1e300, 1e300};
  Vec3 hi{-1e300, -1e300, -1e300};
  for (const PartId id : shown) {
    for (const model::Solid& solid : frame.part(id).solids) {
      const model::Bounds bounds = bounds_of(solid);
      for (int axis = 0; axis < 3; ++axis) {
        lo[axis] = std::min(lo[axis], bounds.lo[axis]);
        hi[axis] = std::max(hi[axis], bounds.hi[axis]);
      }
    }
  }
  return hi.x < lo.x ? 1.0 : norm(hi - lo);
}

}  // namespace

std::vector<Piece> pieces_of(const Frame& frame, const std::vector<PartId>& shown) {
  const double extent = extent_of(frame, shown);
  std::vector<Piece> pieces;
  for (const Rod& rod : rods_of(frame, shown)) pieces.push_back(piece_of(rod, frame.part(rod.part), extent));
  std::vector<Piece> boards;
  for (const PartId id : shown) {
    const Part& part = frame.part(id);
    for (const model::Solid& solid : part.solids) {
      if (solid.shape != model::Solid::Shape::box) continue;
      Piece drawn;
      drawn.part = id;
      drawn.block = box_block(solid.a, solid.b);
      if (part.board != model::kNone) {
        const model::Board& board = frame.board(part.board);
        for (const model::Hole& hole : board.holes) {
          Hollow hollow = hollow_of(hole, board, extent);
          if (!hollow.block.empty()) drawn.hollows.push_back(std::move(hollow));
        }
        mark_grain(board, drawn.marks);
        if (!drawn.hollows.empty()) pass_through(board, drawn, pieces);
      }
      boards.push_back(std::move(drawn));
    }
  }
  pieces.insert(pieces.end(), std::make_move_iterator(boards.begin()), std::make_move_iterator(boards.end()));
  return pieces;
}

std::vector<Piece> pieces_of(const Frame& frame, const std::vector<PartId>& shown, const std::vector<Fixture>& fixtures,
                             const std::vector<int>& drawn) {
  std::vector<Piece> pieces = pieces_of(frame, shown);
  add_fixtures(frame, fixtures, drawn, extent_of(frame, shown), pieces);
  return pieces;
}

}  // namespace dryfit::cli

#pragma once
/// Where the holes go, with which bit, and whether the board will drop over its posts.
/// Notation: a board's own plane has two axes, u and v, in the order x, y, z; its edges are named by the direction
/// they lie in (left, right, front, back, down, up). Lengths in mm.
#include <array>
#include <optional>
#include <string>
#include <vector>

#include "planner/base/remark.hpp"
#include "planner/fit/fit.hpp"

namespace dryfit::planner {

/// A hole's ring of bearing thinner than this is warned of, mm (1/8 in; common practice, no source).
inline constexpr double kThinRing = 3.175;

struct DrillHole {
  model::PartId pipe = model::kNone;
  bool notch = false;
  model::Direction open;              ///< notch: the edge it runs out to
  std::array<double, 2> from_low{};   ///< centre from the left/front/down edge, along u and v
  std::array<double, 2> from_high{};  ///< centre from the right/back/up edge
  double hole = 0.0;                  ///< diameter, or width of the slot
  double pipe_od = 0.0;
  double clearance = 0.0;                ///< hole less pipe
  std::string bit;                       ///< "1-3/8 in", "35 mm"; "" when no stock bit has that diameter
  model::PartId carrier = model::kNone;  ///< what the board sits on at this hole; kNone: nothing of its own
  double carrier_od = 0.0;               ///< of the face the board sits on
  double bearing = 0.0;              ///< width of the ring between the hole's rim and the carrier's; < 0: falls through
  double drops = 0.0;                ///< the carrier's collar goes into the hole: how far the board drops onto its arms
  bool onto_wide_end = false;        ///< and not onto arms but onto what of it is wider farther down
  double to_edge = 0.0;              ///< wood between the rim and the nearest edge (a notch: the nearest closed edge)
  double to_hole = 0.0;              ///< wood to the nearest other hole's rim; 0 when it is the only one
  bool place_from_memory = false;    ///< its place rests on fittings that no published source confirms
  bool pipe_from_memory = false;     ///< so do the pipe's diameter and the clearance
  bool carrier_from_memory = false;  ///< and the carrier's face and the ring
  std::vector<Remark> warnings;
};

/// Does the board go over its posts?
enum class Drop {
  free,           ///< even with every thread off by a turn
  measure_first,  ///< as drawn, but threads can stray further than the holes give: measure the posts, then drill
  binds           ///< not even as drawn
};
[[nodiscard]] const char* word_for(Drop drop);

/// Two holes of one board against their two posts.
struct DrillPair {
  int first = 0;  ///< indices into DrillSheet::holes
  int second = 0;
  double spacing = 0.0;      ///< centre to centre as drilled
  double posts = 0.0;        ///< centre to centre of the posts as placed, after turning
  double slack = 0.0;        ///< by how much the posts may be off before they bind: mean of the clearances
  Spread spread;             ///< of the posts' spacing, threads off by a turn
  bool from_memory = false;  ///< the posts' spacing rests on fittings that no published source confirms
  Drop drop = Drop::free;
  std::optional<double> measured;  ///< centre to centre of the posts as measured; see measured.hpp
};

struct DrillSheet {
  model::PartId board = model::kNone;
  std::array<int, 2> axes{0, 1};  ///< u and v
  std::array<double, 2> size{};   ///< along u and v
  double thickness = 0.0;
  std::array<std::string, 2> low_edges;   ///< "left", "front", "down"
  std::array<std::string, 2> high_edges;  ///< "right", "back", "up"
  std::vector<DrillHole> holes;           ///< in the board's order
  std::vector<DrillPair> pairs;           ///< every two holes, in order
  Drop drop = Drop::free;                 ///< worst of the pairs and of the lean
  double lean = 0.0;                      ///< slope of the carriers after turning, mm per m
  double lean_takes = 0.0;                ///< clearance that the lean uses up in the tightest hole, mm
  std::vector<Remark> warnings;           ///< about the board as a whole
};

/// One sheet per board with a hole or notch, in file order; boards without holes only when they do not fit the room.
/// Holes are laid out for the posts as they stand after the turns of `fit`.
[[nodiscard]] std::vector<DrillSheet> drill_sheets(const model::Frame& frame, const Fit& fit);

/// The stock bit of that diameter (within 0.05 mm), "" when there is none; inch bits first when `inch_first`.
[[nodiscard]] std::string bit_for(double diameter, bool inch_first);

/// Outside diameter of a pipe by its body, mm.
[[nodiscard]] double outside_diameter(const model::Frame& frame, model::PartId pipe);

}  // namespace dryfit::planner

#include "planner/cure/wider_hole.hpp"

#include <algorithm>
#include <optional>
#include <set>

#include "model/geometry/convex.hpp"
#include "model/standards/standards.hpp"
#include "planner/state/no_rest.hpp"

namespace dryfit::planner {
namespace {

/// mm that printed tables may be off.
constexpr double kPrinted = 0.01;

/// How wide the part is when all of it is round and stands on the hole's line.
std::optional<double> across_on_line(const model::Frame& frame, const model::Part& part, const model::Hole& hole) {
  const model::Direction along = frame.part(hole.pipe).ports[1].facing;
  double across = 0.0;
  for (const model::Solid& solid : part.solids) {
    if (solid.shape != model::Solid::Shape::cylinder || !parallel(solid.along, along)) return std::nullopt;
    if (norm(cross(solid.a - hole.centre, along.unit())) >= model::kTouch) return std::nullopt;
    across = std::max(across, 2.0 * solid.radius);
  }
  return across > 0.0 ? std::optional<double>(across) : std::nullopt;
}

}  // namespace

std::vector<double> wider_bits(const model::Frame& frame, const model::Hole& hole) {
  constexpr std::size_t kMost = 3;
  std::set<double> wanted;
  for (const model::Part& part : frame.parts) {
    const std::optional<double> across = across_on_line(frame, part, hole);
    if (across && *across + model::kTouch > hole.diameter + kPrinted) wanted.insert(*across + model::kTouch);
  }
  std::vector<double> found;
  const bool inch = frame.units == model::Units::in;
  for (const double least : wanted) {
    const auto& all = model::bits();
    const auto bit = std::find_if(all.begin(), all.end(), [&](const model::Bit& b) {
      return b.inch == inch && b.diameter >= least - kPrinted && b.diameter > hole.diameter;
    });
    if (bit == all.end() || found.size() >= kMost) break;
    if (found.empty() || found.back() < bit->diameter) found.push_back(bit->diameter);
  }
  return found;
}

bool still_lies(const model::Frame& frame, const model::Board& board, model::PartId pipe, double diameter) {
  model::Board wider = board;
  for (model::Hole& hole : wider.holes) {
    if (hole.pipe == pipe) hole.diameter = std::max(hole.diameter, diameter);
  }
  return std::none_of(board.carriers.begin(), board.carriers.end(), [&](model::PartId carrier) {
    return play_over_carrier(frame, wider, carrier) && !play_over_carrier(frame, board, carrier);
  });
}

}  // namespace dryfit::planner

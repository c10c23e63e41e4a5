#include "model/frame/frame.hpp"

#include <algorithm>
#include <cassert>

#include "model/geometry/at.hpp"

namespace dryfit::model {
namespace {

template <typename Items>
const auto& item(const Items& items, int index) {
  assert(index >= 0 && at(index) < items.size());
  return items[at(index)];
}

}  // namespace

const char* word_for(PartKind kind) {
  switch (kind) {
    case PartKind::pipe: return "pipe";
    case PartKind::coupling: return "coupling";
    case PartKind::elbow: return "elbow";
    case PartKind::elbow45: return "elbow45";
    case PartKind::street_elbow: return "street-elbow";
    case PartKind::tee: return "tee";
    case PartKind::cross: return "cross";
    case PartKind::side_elbow: return "side-elbow";
    case PartKind::side_tee: return "side-tee";
    case PartKind::cap: return "cap";
    case PartKind::plug: return "plug";
    case PartKind::bushing: return "bushing";
    case PartKind::flange: return "flange";
    case PartKind::union_half: return "union";
    case PartKind::board: return "board";
    case PartKind::foot: return "foot";
    case PartKind::caster: return "caster";
  }
  assert(false);
  return "";
}

PartId Frame::find(const std::string& id) const {
  const auto found = index.find(id);
  return found == index.end() ? kNone : found->second;
}

Wood wood_of(const Board& board) {
  Wood wood{board.lo, board.hi, board.normal, {}};
  for (const Hole& hole : board.holes) {
    wood.openings.push_back({hole.centre, hole.diameter / 2.0, hole.notch ? hole.open : Direction{}});
  }
  return wood;
}

bool Board::lies_over(PartId other) const {
  return std::find(carriers.begin(), carriers.end(), other) != carriers.end() ||
         std::find(sunken.begin(), sunken.end(), other) != sunken.end();
}

std::string joint_name(const Frame& frame, int joint) {
  const Joint& made = item(frame.joints, joint);
  const Part& female = item(frame.parts, made.female);
  return item(frame.parts, made.male).label + '/' + female.label + '.' +
         item(female.ports, made.female_port).facing.name();
}

std::string fastening_name(const Frame& frame, int fastening) {
  const Fastening& made = item(frame.fastenings, fastening);
  const std::string& part = item(frame.parts, made.part).label;
  switch (made.kind) {
    case Fastening::Kind::flange_to_surface:
    case Fastening::Kind::board_to_surface:
    case Fastening::Kind::clip: return part + '/' + item(frame.surfaces, made.surface).id;
    case Fastening::Kind::flange_to_board: return part + '/' + item(frame.parts, made.other).label;
    case Fastening::Kind::strap: return part + '/' + item(frame.parts, made.other).label + " strap";
  }
  assert(false);
  return "";
}

const std::vector<std::string>& nominal_sizes() {
  static const std::vector<std::string> kSizes{"1/8",   "1/4",   "3/8", "1/2",   "3/4", "1",
                                               "1-1/4", "1-1/2", "2",   "2-1/2", "3",   "4"};
  return kSizes;
}

}  // namespace dryfit::model

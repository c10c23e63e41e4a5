/// Placing a frame again with other engagements: walks joint by joint from the roots by the positions of ports.
#include <algorithm>
#include <deque>
#include <optional>
#include <set>

#include "planner/fit.hpp"

namespace dryfit::planner {

using model::Closure;
using model::Fastening;
using model::Frame;
using model::Joint;
using model::kNone;
using model::kRoom;
using model::Part;
using model::PartId;
using model::PartKind;
using model::Port;
using model::Vec3;

namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// Walks a frame whose engagements have been changed and finds how far each part moves.
class Walk {
 public:
  explicit Walk(const Frame& frame)
      : frame_(frame), shift_(frame.parts.size()), known_(frame.parts.size(), {false, false, false}) {
    for (const Closure& closure : frame.closures) {
      if (closure.kind == Closure::Kind::flange_to_board) closing_.insert({closure.part, closure.other});
    }
    flange_boards_.resize(frame.parts.size());
    for (const Fastening& f : frame.fastenings) {
      if (f.kind != Fastening::Kind::flange_to_board) continue;
      if (closing_.contains({f.part, f.other}) || closing_.contains({f.other, f.part})) continue;
      flange_boards_[at(f.part)].push_back(f.other);
      flange_boards_[at(f.other)].push_back(f.part);
    }
    carried_.resize(frame.parts.size());
    for (const model::Board& board : frame.boards) {
      if (!board.carriers.empty()) carried_[at(board.carriers.front())].push_back(board.part);
      if (const PartId guide = guide_of(board); guide != kNone) carried_[at(guide)].push_back(board.part);
    }
  }

  std::vector<Vec3> run() {
    for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
      const Part& part = frame_.parts[at(p)];
      if (frame_.placed_by[at(p)].parent != kNone) continue;
      for (int axis = 0; axis < 3; ++axis) {
        if (part.board == kNone || !follows(part.board, axis)) settle(p, axis, 0.0);
      }
    }
    while (!queue_.empty()) {
      const PartId p = queue_.front();
      queue_.pop_front();
      spread_from(p);
    }
    return shift_;
  }

 private:
  /// What places a board in its own plane: its first pipe, else its first carrier.
  static PartId guide_of(const model::Board& board) {
    for (const model::Hole& hole : board.holes) {
      if (!hole.notch) return hole.pipe;
    }
    if (!board.holes.empty()) return board.holes.front().pipe;
    return board.carriers.empty() ? kNone : board.carriers.front();
  }
  bool by_flange(int board) const {
    const PartId parent = frame_.placed_by[at(frame_.boards[at(board)].part)].parent;
    return parent != kNone && frame_.parts[at(parent)].kind == PartKind::flange;
  }
  /// True when that coordinate of the board is taken from a pipe or a carrier.
  bool follows(int board, int axis) const {
    const model::Board& b = frame_.boards[at(board)];
    if (by_flange(board)) return true;
    if (axis == b.normal) return b.stands_on_carriers && !b.carriers.empty();
    return frame_.placed_by[at(b.part)].parent != kNone && guide_of(b) != kNone;
  }
  void settle(PartId part, int axis, double mm) {
    if (known_[at(part)][at(axis)]) return;
    known_[at(part)][at(axis)] = true;
    shift_[at(part)][axis] = mm;
    queue_.push_back(part);
  }
  bool placed(PartId part) const {
    const auto& k = known_[at(part)];
    return k[0] && k[1] && k[2];
  }
  void settle_all(PartId part, Vec3 mm) {
    for (int axis = 0; axis < 3; ++axis) settle(part, axis, mm[axis]);
  }

  void spread_from(PartId p) {
    const Part& part = frame_.parts[at(p)];
    for (const PartId b : carried_[at(p)]) {
      const model::Board& board = frame_.boards[at(frame_.parts[at(b)].board)];
      if (by_flange(frame_.parts[at(b)].board)) continue;
      for (int axis = 0; axis < 3; ++axis) {
        if (!known_[at(p)][at(axis)] || !follows(frame_.parts[at(b)].board, axis)) continue;
        const PartId giver = axis == board.normal ? board.carriers.front() : guide_of(board);
        if (giver == p) settle(b, axis, shift_[at(p)][axis]);
      }
    }
    if (!placed(p)) return;
    for (const Port& port : part.ports) {
      if (port.joint == kNone || frame_.joints[at(port.joint)].closing) continue;
      const Joint& joint = frame_.joints[at(port.joint)];
      const Port& male = frame_.parts[at(joint.male)].ports[at(joint.male_port)];
      const Port& female = frame_.parts[at(joint.female)].ports[at(joint.female_port)];
      const Vec3 deep = female.facing.unit() * joint.engaged;  // from the tip out to the face
      if (p == joint.male) {
        settle_all(joint.female, male.at + shift_[at(p)] + deep - female.at);
      } else {
        settle_all(joint.male, female.at + shift_[at(p)] - deep - male.at);
      }
    }
    if (part.union_mate != kNone) settle_all(part.union_mate, shift_[at(p)]);
    for (const PartId other : flange_boards_[at(p)]) {
      const PartId board = part.kind == PartKind::board ? p : other;
      if (other == board && !by_flange(frame_.parts[at(board)].board)) continue;
      settle_all(other, shift_[at(p)]);
    }
  }

  const Frame& frame_;
  std::vector<Vec3> shift_;
  std::vector<std::array<bool, 3>> known_;
  std::vector<std::vector<PartId>> carried_;        ///< boards that take a coordinate from that part
  std::vector<std::vector<PartId>> flange_boards_;  ///< flange - board links that are no closures
  std::set<std::pair<PartId, PartId>> closing_;
  std::deque<PartId> queue_;
};

/// Where `other` is less where `part` says it should be, for a joint that closes a ring.
Vec3 joint_gap(const Frame& frame, const Closure& closure) {
  const Joint& joint = frame.joints[at(closure.joint)];
  const Port& male = frame.parts[at(joint.male)].ports[at(joint.male_port)];
  const Port& female = frame.parts[at(joint.female)].ports[at(joint.female_port)];
  const Vec3 off = female.at - (male.at + female.facing.unit() * joint.engaged);
  return closure.part == joint.male ? off : -off;
}

}  // namespace

Frame turned(const Frame& frame, const std::vector<JointTurn>& turns) {
  Frame out = frame;
  for (const JointTurn& turn : turns) {
    Joint& joint = out.joints[at(turn.joint)];
    joint.engaged += turn.turns * joint.pitch;
  }
  const std::vector<Vec3> shift = Walk(out).run();
  for (std::size_t p = 0; p < out.parts.size(); ++p) {
    Part& part = out.parts[p];
    for (Port& port : part.ports) port.at += shift[p];
    for (model::Solid& solid : part.solids) solid = model::moved(solid, shift[p]);
    part.centre += shift[p];
    part.centre_of_mass += shift[p];
  }
  for (model::Board& board : out.boards) {
    const Vec3 by = shift[at(board.part)];
    board.lo += by;
    board.hi += by;
    for (model::Hole& hole : board.holes) {
      for (int axis = 0; axis < 3; ++axis) hole.centre[axis] += (axis == board.normal ? by : shift[at(hole.pipe)])[axis];
    }
  }
  for (Closure& closure : out.closures) {
    Vec3 gap = closure.gap;
    if (closure.kind == Closure::Kind::joint && closure.joint != kNone) {
      gap = joint_gap(out, closure);
    } else {
      gap -= shift[at(closure.part)];
      if (closure.other != kRoom) gap += shift[at(closure.other)];
    }
    for (int axis = 0; axis < 3; ++axis) closure.gap[axis] = closure.binds[at(axis)] ? gap[axis] : 0.0;
  }
  return out;
}

}  // namespace dryfit::planner

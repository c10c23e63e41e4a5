#include "planner/fit/fit_replace.hpp"

#include <deque>

#include "model/geometry/at.hpp"
#include "model/measure/sunken.hpp"

namespace dryfit::planner {

using model::Closure;
using model::Frame;
using model::Joint;
using model::kNone;
using model::kRoom;
using model::Part;
using model::PartId;
using model::Port;
using model::Vec3;

namespace {

/// Walks a frame whose engagements have been changed, joint by joint from the roots by the positions of ports, and
/// finds how far each part moves.
class Walk {
 public:
  explicit Walk(const Frame& frame)
      : frame_(frame),
        shift_(frame.parts.size()),
        known_(frame.parts.size(), {false, false, false}),
        gives_(frame.parts.size()),
        hangs_(frame.parts.size()) {
    for (const model::Board& board : frame.boards) {
      for (const PartId giver : board.given_by) {
        if (giver != kNone) gives_[at(giver)].push_back(board.part);
      }
    }
    for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
      const PartId parent = frame.placed_by[at(p)].parent;
      if (parent != kNone && frame.part(parent).board != kNone) hangs_[at(parent)].push_back(p);
    }
  }

  /// `shift`: how far a root moves along the axes that the file leaves open.
  std::vector<Vec3> run(Vec3 shift) {
    for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
      const Part& part = frame_.part(p);
      const model::PlacedBy& by = frame_.placed_by[at(p)];
      for (int axis = 0; axis < 3; ++axis) {
        if (part.board != kNone) {
          if (frame_.board(part.board).given_by[at(axis)] == kNone) settle(p, axis, 0.0);
        } else if (by.parent == kNone) {
          settle(p, axis, by.loose[at(axis)] ? shift[axis] : 0.0);
        }
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
    const Part& part = frame_.part(p);
    for (const PartId b : gives_[at(p)]) {
      const model::Board& board = frame_.board_of(b);
      for (int axis = 0; axis < 3; ++axis) {
        if (known_[at(p)][at(axis)] && board.given_by[at(axis)] == p) settle(b, axis, shift_[at(p)][axis]);
      }
    }
    if (!placed(p)) return;
    for (const Port& port : part.ports) {
      if (port.joint == kNone || frame_.joint(port.joint).closing) continue;
      const Joint& joint = frame_.joint(port.joint);
      const Port& male = frame_.part(joint.male).ports[at(joint.male_port)];
      const Port& female = frame_.part(joint.female).ports[at(joint.female_port)];
      const Vec3 deep = female.facing.unit() * joint.engaged;  // from the tip out to the face
      if (p == joint.male) {
        settle_all(joint.female, male.at + shift_[at(p)] + deep - female.at);
      } else {
        settle_all(joint.male, female.at + shift_[at(p)] - deep - male.at);
      }
    }
    if (part.union_mate != kNone) settle_all(part.union_mate, shift_[at(p)]);
    for (const PartId other : hangs_[at(p)]) settle_all(other, shift_[at(p)]);
  }

  const Frame& frame_;
  std::vector<Vec3> shift_;
  std::vector<std::array<bool, 3>> known_;
  std::vector<std::vector<PartId>> gives_;  ///< boards that take a coordinate from that part
  std::vector<std::vector<PartId>> hangs_;  ///< flanges that a board gives its place
  std::deque<PartId> queue_;
};

/// Where `other` is less where `part` says it should be, for a joint that closes a ring.
Vec3 joint_gap(const Frame& frame, const Closure& closure) {
  const Joint& joint = frame.joint(closure.joint);
  const Port& male = frame.part(joint.male).ports[at(joint.male_port)];
  const Port& female = frame.part(joint.female).ports[at(joint.female_port)];
  const Vec3 off = female.at - (male.at + female.facing.unit() * joint.engaged);
  return closure.part == joint.male ? off : -off;
}

}  // namespace

Frame turned(const Frame& frame, const std::vector<JointTurn>& turns, Vec3 shift) {
  Frame out = frame;
  for (const JointTurn& turn : turns) {
    Joint& joint = out.joints[at(turn.joint)];
    joint.engaged += turn.turns * joint.pitch;
  }
  const std::vector<Vec3> moved = Walk(out).run(shift);
  for (std::size_t p = 0; p < out.parts.size(); ++p) {
    Part& part = out.parts[p];
    for (Port& port : part.ports) port.at += moved[p];
    for (model::Solid& solid : part.solids) solid = model::moved(solid, moved[p]);
    part.centre += moved[p];
    part.centre_of_mass += moved[p];
  }
  for (model::Board& board : out.boards) {
    const Vec3 by = moved[at(board.part)];
    board.lo += by;
    board.hi += by;
    for (model::Hole& hole : board.holes) {
      for (int axis = 0; axis < 3; ++axis)
        hole.centre[axis] += (axis == board.normal ? by : moved[at(hole.pipe)])[axis];
    }
  }
  find_sunken(out);  // the board lies elsewhere on its carriers now
  for (Closure& closure : out.closures) {
    Vec3 gap = closure.gap;
    if (closure.kind == Closure::Kind::joint && closure.joint != kNone) {
      gap = joint_gap(out, closure);
    } else {
      gap -= moved[at(closure.part)];
      if (closure.other != kRoom) gap += moved[at(closure.other)];
    }
    for (int axis = 0; axis < 3; ++axis) closure.gap[axis] = closure.binds[at(axis)] ? gap[axis] : 0.0;
  }
  return out;
}

}  // namespace dryfit::planner

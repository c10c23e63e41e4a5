#include "planner/fit/fit_pieces.hpp"

#include <cmath>
#include <string>

#include "model/geometry/at.hpp"
#include "planner/base/stock.hpp"
#include "planner/fit/fit_replace.hpp"

namespace dryfit::planner {

using model::Closure;
using model::Frame;
using model::Joint;
using model::kNone;
using model::Part;
using model::PartId;
using model::PartKind;
using model::Port;
using model::Vec3;

namespace {

Vec3 direction_of(const Part& pipe) { return pipe.ports[1].facing.unit(); }

/// Adds a part with two ports in line, `length` apart, beginning at `from`.
PartId add_in_line(Frame& frame, Part like, const std::string& id, PartKind kind, double length, Vec3 from) {
  like.id = id;
  like.label = id;
  like.kind = kind;
  like.length = length;
  like.solids.clear();
  like.ports[0].at = from;
  like.ports[1].at = from + like.ports[1].facing.unit() * length;
  like.centre = (like.ports[0].at + like.ports[1].at) * 0.5;
  for (Port& port : like.ports) {
    port.male = kind == PartKind::pipe;
    port.threaded = true;
    port.joint = kNone;
    port.turns_given = 0.0;
  }
  const PartId part = static_cast<PartId>(frame.parts.size());
  frame.parts.push_back(std::move(like));
  frame.placed_by.push_back({});
  frame.index[id] = part;
  return part;
}

int add_joint(Frame& frame, Joint like, PartId male, int male_port, PartId female, int female_port) {
  like.male = male;
  like.male_port = male_port;
  like.female = female;
  like.female_port = female_port;
  like.closing = false;
  const int joint = static_cast<int>(frame.joints.size());
  frame.part(male).ports[at(male_port)].joint = joint;
  frame.part(female).ports[at(female_port)].joint = joint;
  frame.joints.push_back(std::move(like));
  return joint;
}

/// A joint of the frame's own make-up in the pipe's size, or nothing when the tables have none.
bool made_up(const Frame& frame, int size, Joint& out, double& coupling_length) {
  const auto hand = thread_of(frame.standard, model::MakeUp::hand, size);
  const auto wrench = thread_of(frame.standard, model::MakeUp::wrench, size);
  if (!hand || !wrench) return false;
  const ThreadOf& thread = frame.make_up == model::MakeUp::hand ? *hand : *wrench;
  out.pitch = thread.pitch;
  out.engaged = thread.engaged;
  out.hand = hand->engaged;
  out.wrench = wrench->engaged;
  coupling_length = thread.coupling_gap + 2 * thread.engaged;
  return true;
}

/// A pipe that was cut in pieces: pipe, coupling, pipe, ... and the joints between neighbours.
struct Chain {
  std::vector<PartId> parts;
  std::vector<int> joints;
};

/// Adds couplings and the further pieces behind the first, in line with it.
Chain add_pieces(Frame& out, const Part& original, PartId pipe, const std::vector<double>& pieces, const Joint& like,
                 double coupling_length) {
  const Vec3 along = direction_of(original);
  Chain chain{{pipe}, {}};
  out.parts[at(pipe)].ports[1].joint = kNone;
  for (std::size_t i = 1; i < pieces.size(); ++i) {
    const std::string number = std::to_string(i);
    const PartId before = chain.parts.back();
    const Vec3 tip = out.parts[at(before)].ports[1].at;
    const PartId coupling = add_in_line(out, original, original.id + "~C" + number, PartKind::coupling, coupling_length,
                                        tip - along * like.engaged);
    chain.joints.push_back(add_joint(out, like, before, 1, coupling, 0));
    const PartId next = add_in_line(out, original, original.id + "~" + std::to_string(i + 1), PartKind::pipe, pieces[i],
                                    out.parts[at(coupling)].ports[1].at - along * like.engaged);
    chain.joints.push_back(add_joint(out, like, next, 0, coupling, 1));
    chain.parts.push_back(coupling);
    chain.parts.push_back(next);
  }
  return chain;
}

/// The last piece takes over the pipe's far joint, its place in the tree of placing and its closures.
void hand_over(const Frame& frame, PartId pipe, int far_joint, const Chain& chain, Frame& out) {
  const PartId last = chain.parts.back();
  if (far_joint != kNone) {
    Joint& joint = out.joints[at(far_joint)];
    joint.male = last;
    joint.male_port = 1;
    out.parts[at(last)].ports[1].joint = far_joint;
  }
  // Whoever placed the pipe from its far end now places the last piece, and the pieces place each other.
  const model::PlacedBy by = frame.placed_by[at(pipe)];
  const bool from_far = far_joint != kNone && by.joint == far_joint;
  for (std::size_t i = 1; i < chain.parts.size(); ++i) {
    if (from_far) {
      out.placed_by[at(chain.parts[i - 1])] = {chain.parts[i], chain.joints[i - 1]};
    } else {
      out.placed_by[at(chain.parts[i])] = {chain.parts[i - 1], chain.joints[i - 1]};
    }
  }
  if (from_far) out.placed_by[at(last)] = by;
  if (far_joint != kNone && !from_far) {
    const Joint& joint = out.joints[at(far_joint)];
    if (frame.placed_by[at(joint.female)].joint == far_joint) out.placed_by[at(joint.female)].parent = last;
  }
  for (Closure& closure : out.closures) {
    if (closure.joint != far_joint || closure.kind != Closure::Kind::joint) continue;
    if (closure.part == pipe) closure.part = last;
    if (closure.other == pipe) closure.other = last;
  }
}

}  // namespace

Frame with_pieces(const Frame& frame, PartId pipe, const std::vector<double>& pieces) {
  Frame out = frame;
  const Part original = frame.part(pipe);
  const int far_joint = original.ports[1].joint;
  out.parts[at(pipe)].length = pieces.front();
  out.parts[at(pipe)].ports[1].at = original.ports[0].at + direction_of(original) * pieces.front();

  PartId last = pipe;
  Joint like;
  double coupling_length = 0.0;
  if (pieces.size() > 1 && made_up(frame, original.size, like, coupling_length)) {
    const Chain chain = add_pieces(out, original, pipe, pieces, like, coupling_length);
    hand_over(frame, pipe, far_joint, chain, out);
    last = chain.parts.back();
  }
  // A pipe that stands on a surface with its far end has its foot elsewhere now.
  const Vec3 grown = out.parts[at(last)].ports[1].at - original.ports[1].at;
  for (Closure& closure : out.closures) {
    if (closure.kind != Closure::Kind::surface || closure.part != pipe || far_joint != kNone) continue;
    for (int axis = 0; axis < 3; ++axis) {
      if (closure.binds[at(axis)]) closure.gap[axis] -= grown[axis];
    }
  }
  return turned(out, {});
}

Frame with_changes(const Frame& frame, const std::vector<PipeChange>& changes) {
  Frame out = frame;
  for (const PipeChange& change : changes) out = with_pieces(out, change.pipe, change.pieces);
  return out;
}

}  // namespace dryfit::planner

#include "tests/support/frames/hand_frame.hpp"

#include <utility>

namespace dryfit::tests {

using model::Direction;
using model::Part;
using model::PartId;
using model::PartKind;
using model::Vec3;

PartId HandFrame::add(Part part) {
  const auto id = static_cast<PartId>(frame.parts.size());
  part.label = part.id;
  frame.index[part.id] = id;
  frame.parts.push_back(std::move(part));
  frame.placed_by.emplace_back();
  return id;
}

PartId HandFrame::pipe(const std::string& id, Vec3 from, Direction along, double length, double diameter) {
  Part part;
  part.id = id;
  part.kind = PartKind::pipe;
  part.solids = {model::cylinder(from, along, length, diameter / 2.0)};
  const Vec3 to = from + along.unit() * length;
  model::Port start;
  start.facing = -along;
  start.at = from;
  start.male = true;
  model::Port end = start;
  end.facing = along;
  end.at = to;
  part.ports = {start, end};
  part.centre = 0.5 * (from + to);
  part.length = length;
  return add(std::move(part));
}

PartId HandFrame::fitting(const std::string& id, PartKind kind, Vec3 centre, const std::vector<Direction>& arms,
                          double reach, double band) {
  Part part;
  part.id = id;
  part.kind = kind;
  part.centre = centre;
  for (const Direction arm : arms) {
    part.solids.push_back(model::cylinder(centre, arm, reach, band / 2.0));
    model::Port port;
    port.facing = arm;
    port.at = centre + arm.unit() * reach;
    part.ports.push_back(port);
  }
  return add(std::move(part));
}

PartId HandFrame::coupling(const std::string& id, Vec3 middle, Direction along, double length, double band) {
  Part part;
  part.id = id;
  part.kind = PartKind::coupling;
  part.centre = middle;
  part.length = length;
  part.solids = {model::cylinder(middle - along.unit() * (length / 2.0), along, length, band / 2.0)};
  for (const Direction facing : {-along, along}) {
    model::Port port;
    port.facing = facing;
    port.at = middle + facing.unit() * (length / 2.0);
    part.ports.push_back(port);
  }
  return add(std::move(part));
}

PartId HandFrame::flange(const std::string& id, Vec3 face, Direction facing) {
  Part part;
  part.id = id;
  part.kind = PartKind::flange;
  part.centre = face;
  part.solids = {model::cylinder(face, facing, 22.0, 18.5), model::cylinder(face, facing, 6.0, 45.0)};
  part.screw_circle = 63.0;
  model::Port port;
  port.facing = facing;
  port.at = face + facing.unit() * 22.0;
  part.ports = {port};
  return add(std::move(part));
}

PartId HandFrame::board(const std::string& id, Vec3 lo, Vec3 hi, int normal, const std::vector<HoleFor>& holes) {
  Part part;
  part.id = id;
  part.kind = PartKind::board;
  part.centre = 0.5 * (lo + hi);
  part.solids = {model::box(lo, hi)};
  part.board = static_cast<int>(frame.boards.size());
  const PartId added = add(std::move(part));
  model::Board board;
  board.part = added;
  board.lo = lo;
  board.hi = hi;
  board.normal = normal;
  board.facing = normal == 0 ? model::kRight : normal == 1 ? model::kBack : model::kUp;
  for (const HoleFor& wanted : holes) {
    model::Hole hole;
    hole.pipe = wanted.pipe;
    hole.diameter = wanted.diameter;
    hole.notch = wanted.open.valid();
    hole.open = wanted.open;
    hole.centre = wanted.at;
    hole.centre[normal] = 0.5 * (lo[normal] + hi[normal]);
    board.holes.push_back(hole);
  }
  frame.boards.push_back(std::move(board));
  return added;
}

model::Frame hand_rack() {
  using namespace model;
  HandFrame h;
  h.frame.name = "Hand rack";
  const auto post = [&h](double x, const char* side) {
    const std::string s = side;
    h.flange("F" + s, {x, 0, 0}, kUp);
    h.pipe("A" + s, {x, 0, 8}, kUp, 100);
    h.fitting("T" + s, PartKind::tee, {x, 0, 127}, {kDown, kUp, x < 300 ? kRight : kLeft});
    const PartId b = h.pipe("B" + s, {x, 0, 146}, kUp, 250);
    h.coupling("C" + s, {x, 0, 400}, kUp);
    const PartId d = h.pipe("D" + s, {x, 0, 405}, kUp, 250);
    h.coupling("G" + s, {x, 0, 660}, kUp);
    const PartId e = h.pipe("E" + s, {x, 0, 665}, kUp, 150);
    h.fitting("L" + s, PartKind::elbow, {x, 0, 834}, {kDown, kBack});
    h.pipe("M" + s, {x, 19, 834}, kBack, 120);
    h.fitting("N" + s, PartKind::elbow, {x, 158, 834}, {kFront, x < 300 ? kRight : kLeft});
    (void)b;
    return std::pair{d, e};
  };
  const auto [d1, e1] = post(0, "1");
  const auto [d2, e2] = post(600, "2");
  h.pipe("R", {19, 0, 127}, kRight, 562);
  h.pipe("X", {19, 158, 834}, kRight, 562);
  h.board("S1", {-60, -120, 419}, {660, 100, 438}, 2, {{d1, {0, 0, 0}, 28.6, {}}, {d2, {600, 0, 0}, 28.6, {}}});
  h.board("S2", {-60, -120, 679}, {660, 60, 698}, 2,
          {{e1, {0, 0, 0}, 29.0, kFront}, {e2, {600, 0, 0}, 29.0, kFront}, {kNone, {300, -40, 0}, 60.0, {}}});
  h.board("K", {150, -300, 0}, {450, -80, 19}, 2);
  return std::move(h.frame);
}

}  // namespace dryfit::tests

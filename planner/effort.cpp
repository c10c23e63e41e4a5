#include "planner/effort.hpp"

#include <algorithm>
#include <array>
#include <stdexcept>
#include <string>

#include "model/standards.hpp"
#include "model/tables.hpp"

namespace dryfit::planner {

using model::Bounds;
using model::kNone;

namespace {

EffortRates read_rates() {
  const model::Table table = model::Table::built_in("effort.csv");
  const auto rate = [&](std::string_view name) {
    for (std::size_t row = 0; row < table.rows(); ++row) {
      if (table.at(row, "rate") == name) return table.number(row, "value");
    }
    throw std::logic_error("effort.csv has no rate " + std::string(name));
  };
  EffortRates r;
  r.fetch_part = rate("fetch-part");
  r.fetch_mass = rate("fetch-mass");
  r.thread_start = rate("thread-start");
  r.thread_turn = rate("thread-turn");
  r.hole_aim = rate("hole-aim");
  r.lay_board = rate("lay-board");
  r.close_nut = rate("close-nut");
  r.fasten_flange = rate("fasten-flange");
  r.fasten_board = rate("fasten-board");
  r.fasten_strap = rate("fasten-strap");
  r.swing_inertia = rate("swing-inertia");
  r.swing_radius = rate("swing-radius");
  r.start_piece = rate("start-piece");
  r.carry_piece = rate("carry-piece");
  r.air = rate("fitting-in-the-air");
  r.strap_before_turn = rate("strap-before-turn");
  r.turn_in_hole = rate("turn-in-hole");
  r.held_by_room = rate("held-by-room");
  r.turn_work = rate("turn-work");
  r.turn_work_mass = rate("turn-work-mass");
  r.from_below = rate("from-below");
  r.board_level = rate("board-level");
  r.board_uphill = rate("board-uphill");
  r.prop = rate("prop");
  r.hand_reach = rate("hand-reach");
  r.in_the_air = rate("in-the-air");
  r.arm_length = rate("arm-length");
  r.second_person = rate("second-person");
  r.alone_over_limit = rate("alone-over-limit");
  r.hands_in_front = rate("hands-in-front");
  r.load_constant = model::lifting_limit().value;
  return r;
}

/// A part is in the cluster of `vertex` and does not move.
std::size_t cluster_size(const State& state, int vertex) {
  std::size_t n = 0;
  const int room = state.list().room();
  for (int v = 0; v < room; ++v) {
    if (state.cluster(v) == state.cluster(vertex)) ++n;
  }
  return n;
}

}  // namespace

const EffortRates& effort_rates() {
  static const EffortRates kRates = read_rates();
  return kRates;
}

Bounds joined(const Bounds& a, const Bounds& b) {
  Bounds out = a;
  for (int i = 0; i < 3; ++i) {
    out.lo[i] = std::min(a.lo[i], b.lo[i]);
    out.hi[i] = std::max(a.hi[i], b.hi[i]);
  }
  return out;
}

Effort::Effort(const Undoer& undoer, int people)
    : frame_(undoer.frame()), list_(undoer.list()), index_(undoer.index()), rates_(effort_rates()), people_(people) {
  const auto parts = static_cast<PartId>(frame_.parts.size());
  for (PartId p = 0; p < parts; ++p) {
    properties_.push_back(model::mass_properties(frame_, p));
    const model::Part& part = frame_.parts[static_cast<std::size_t>(p)];
    Bounds box{part.centre, part.centre};
    for (std::size_t i = 0; i < part.solids.size(); ++i) {
      const Bounds one = bounds_of(part.solids[i]);
      box = i == 0 ? one : joined(box, one);
    }
    bounds_.push_back(box);
    base_ += rates_.fetch_part + rates_.fetch_mass * part.mass * factor_for(part.mass, lifting_limit({p}));
  }
  for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) base_ += making(c);
}

double Effort::making(ContactId contact) const {
  const Contact& c = list_.contacts[static_cast<std::size_t>(contact)];
  switch (c.kind) {
    case ContactKind::thread: {
      const model::Joint& joint = frame_.joints[static_cast<std::size_t>(c.joint)];
      return rates_.thread_start + rates_.thread_turn * joint.engaged / joint.pitch;
    }
    case ContactKind::hole:
    case ContactKind::notch: return rates_.hole_aim;
    case ContactKind::rest: return rates_.lay_board;
    case ContactKind::nut: return rates_.close_nut;
    case ContactKind::fastening: break;
  }
  const model::Fastening& f = frame_.fastenings[static_cast<std::size_t>(c.fastening)];
  switch (f.kind) {
    case model::Fastening::Kind::flange_to_surface:
    case model::Fastening::Kind::flange_to_board: return rates_.fasten_flange;
    case model::Fastening::Kind::board_to_surface: return rates_.fasten_board;
    case model::Fastening::Kind::clip:
    case model::Fastening::Kind::strap: return rates_.fasten_strap * f.count;
  }
  return 0.0;
}

double Effort::mass_of(const std::vector<PartId>& parts) const {
  double mass = 0.0;
  for (const PartId p : parts) mass += frame_.parts[static_cast<std::size_t>(p)].mass;
  return mass;
}

/// H in the equation is the distance of the load's middle from the ankles; the multiplier 25 cm / H is at most 1. The
/// width that keeps the load away is the middle one of its three extents: a long piece is carried across the body.
double Effort::lifting_limit(const std::vector<PartId>& parts) const {
  Bounds box = bounds(parts.front());
  for (const PartId p : parts) box = joined(box, bounds(p));
  const model::Vec3 size = box.hi - box.lo;
  std::array<double, 3> extents{size.x, size.y, size.z};
  std::sort(extents.begin(), extents.end());
  const double h = rates_.hands_in_front + extents[1] / 2.0;
  return rates_.load_constant * std::min(1.0, 250.0 / h);
}

double Effort::factor_for(double mass, double limit) const {
  if (mass <= limit) return 1.0;
  return people_ > 1 ? rates_.second_person : rates_.alone_over_limit;
}

double Effort::swing_of(const Move& move) const {
  const Contact& c = list_.contacts[static_cast<std::size_t>(move.contacts.front())];
  const model::Axis axis{c.on_axis, c.axis};
  double inertia = 0.0;
  for (const PartId p : move.moving) inertia += inertia_about(properties(p), axis);
  const double reach = std::max(0.0, move.swing_radius - rates_.hand_reach) / 1000.0;
  double cost = move.turns * (rates_.swing_inertia * inertia + rates_.swing_radius * reach);
  if (move.swing_radius > rates_.arm_length) cost *= people_ > 1 ? 1.0 : rates_.second_person;
  return cost;
}

bool Effort::in_the_air(const State& before, const Move& move) const {
  const Contact& c = list_.contacts[static_cast<std::size_t>(move.contacts.front())];
  if (c.axis.axis() == 2) return false;
  const bool male_moves = std::binary_search(move.moving.begin(), move.moving.end(), c.a);
  const model::Part& turned = frame_.parts[static_cast<std::size_t>(male_moves ? c.a : c.b)];
  const bool to_level = std::any_of(turned.ports.begin(), turned.ports.end(),
                                    [&](const model::Port& port) { return !parallel(port.facing, c.axis); });
  if (!to_level) return false;
  const int cluster = before.cluster(list_.vertex(c.a));
  for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
    if (before.cluster(p) != cluster || std::binary_search(move.moving.begin(), move.moving.end(), p)) continue;
    const double off = std::max(bounds(p).hi.z - c.on_axis.z, c.on_axis.z - bounds(p).lo.z);
    if (off > rates_.in_the_air) return true;
  }
  return false;
}

double Effort::holes_turned_in(const State& before, const Move& move) const {
  const Contact& thread = list_.contacts[static_cast<std::size_t>(move.contacts.front())];
  double holes = 0.0;
  for (const PartId p : move.moving) {
    for (const ContactId k : list_.at[static_cast<std::size_t>(p)]) {
      const Contact& c = list_.contacts[static_cast<std::size_t>(k)];
      if (before.made(k) && c.line == thread.line && (c.kind == ContactKind::hole || c.kind == ContactKind::notch)) {
        holes += 1.0;
      }
    }
  }
  return holes;
}

Extra Effort::price(const State& before, Move& move) const {
  Extra extra;
  const Contact& first = list_.contacts[static_cast<std::size_t>(move.contacts.front())];
  if (move.kind == MoveKind::unfasten && first.b == model::kRoom) return extra;
  if (before.holds_room(list_.vertex(first.a))) extra.room = rates_.held_by_room;
  if (move.kind == MoveKind::unscrew) {
    if (in_the_air(before, move)) extra.air = rates_.air;
    extra.strap = rates_.strap_before_turn * static_cast<double>(move.strapped_first.size());
    extra.hole = rates_.turn_in_hole * holes_turned_in(before, move);
    if (move.moving.size() == 1) {
      if (extra.hole <= 0.0) return extra;
    } else {
      extra.swing = swing_of(move);
    }
  } else if (move.moving.size() == 1 && move.kind != MoveKind::undo_nut && move.kind != MoveKind::unfasten) {
    return extra;
  }
  // What the move parts: the clusters of its two ends once it is undone.
  State after = before;
  after.undo(move.contacts);
  const int moving_end = list_.vertex(move.moving.front());
  int held_end = moving_end;
  for (const ContactId k : move.contacts) {
    const Contact& c = list_.contacts[static_cast<std::size_t>(k)];
    for (const PartId p : {c.a, c.b}) {
      if (p != model::kRoom && !std::binary_search(move.moving.begin(), move.moving.end(), p)) held_end = p;
    }
  }
  const bool splits = after.cluster(moving_end) != after.cluster(held_end);
  if (move.kind == MoveKind::undo_nut || move.kind == MoveKind::unfasten) {
    if (!splits) return extra;
    // Whichever side is lighter is brought to the other.
    std::vector<PartId> sides[2];
    for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
      if (after.cluster(p) == after.cluster(moving_end)) sides[0].push_back(p);
      if (after.cluster(p) == after.cluster(held_end)) sides[1].push_back(p);
    }
    const bool room[2] = {after.holds_room(moving_end), after.holds_room(held_end)};
    const double mass[2] = {mass_of(sides[0]), mass_of(sides[1])};
    const std::size_t mover = room[0] ? 1 : room[1] ? 0 : mass[1] < mass[0] - 1e-9 ? 1 : 0;
    if (move.kind == MoveKind::undo_nut) {
      move.moving = sides[mover];
      move.mass = mass[mover];
      move.holding = {mover == 0 ? held_end : moving_end};
    }
    if (sides[0].size() == 1 || sides[1].size() == 1) return extra;
    extra.start = rates_.start_piece;
    extra.carry = rates_.carry_piece * mass[mover] * factor_for(mass[mover], lifting_limit(sides[mover]));
    return extra;
  }
  const std::size_t held = splits ? cluster_size(after, held_end) : 2;
  if (splits && held == 1 && !before.holds_room(moving_end) && move.kind != MoveKind::unscrew) {
    // One bare part parts from the work: it is the one that moves, whatever the two weigh.
    move.holding.clear();
    for (const ContactId k : move.contacts) {
      const Contact& c = list_.contacts[static_cast<std::size_t>(k)];
      for (const PartId p : {c.a, c.b}) {
        if (p != held_end && p != model::kRoom) move.holding.push_back(p);
      }
    }
    std::sort(move.holding.begin(), move.holding.end());
    move.holding.erase(std::unique(move.holding.begin(), move.holding.end()), move.holding.end());
    move.moving = {held_end};
    move.mass = mass_of(move.moving);
    move.travel = -move.travel;
    return extra;
  }
  if (move.moving.size() > 1) {
    extra.carry = rates_.carry_piece * move.mass * factor_for(move.mass, lifting_limit(move.moving));
  }
  if (splits && held > 1 && cluster_size(after, moving_end) > 1) extra.start = rates_.start_piece;
  return extra;
}

}  // namespace dryfit::planner

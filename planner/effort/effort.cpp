#include "planner/effort/effort.hpp"

#include <algorithm>
#include <stdexcept>
#include <string>
#include <utility>

#include "model/geometry/at.hpp"
#include "model/measure/over_all.hpp"
#include "model/standards/tables.hpp"

namespace dryfit::planner {

using model::Bounds;
using model::joined;
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
  r.hold_aside = rate("hold-aside");
  r.heavy_before_feet = rate("heavy-before-feet");
  r.turn_work = rate("turn-work");
  r.turn_work_mass = rate("turn-work-mass");
  r.from_below = rate("from-below");
  r.board_level = rate("board-level");
  r.board_uphill = rate("board-uphill");
  r.prop = rate("prop");
  r.at_the_foot = rate("at-the-foot");
  r.tip_angle = rate("tip-angle");
  r.in_one_hand = rate("in-one-hand");
  r.hand_reach = rate("hand-reach");
  r.in_the_air = rate("in-the-air");
  r.arm_length = rate("arm-length");
  r.second_person = rate("second-person");
  r.alone_over_limit = rate("alone-over-limit");
  return r;
}

}  // namespace

const EffortRates& effort_rates() {
  static const EffortRates kRates = read_rates();
  return kRates;
}

std::vector<PartId> marked_parts(const std::vector<char>& marks) {
  std::vector<PartId> parts;
  parts.reserve(at(std::count_if(marks.begin(), marks.end(), [](char mark) { return mark != 0; })));
  for (std::size_t p = 0; p < marks.size(); ++p) {
    if (marks[p] != 0) parts.push_back(static_cast<PartId>(p));
  }
  return parts;
}

Effort::Effort(const Undoer& undoer, int people, bool heavy_counts)
    : frame_(undoer.frame()),
      list_(undoer.list()),
      index_(undoer.index()),
      rates_(effort_rates()),
      people_(people),
      properties_(properties_of(frame_)),
      bounds_(bounds_of_parts(frame_)),
      heavy_(find_heavy(undoer, heavy_counts)) {
  for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
    base_ += rates_.fetch_part + rates_.fetch_mass * frame_.part(p).mass * factor_for(lift_of({p}));
  }
  for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) base_ += making(c);
}

std::vector<model::MassProperties> Effort::properties_of(const model::Frame& frame) {
  std::vector<model::MassProperties> all;
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) all.push_back(model::mass_properties(frame, p));
  return all;
}

std::vector<Bounds> Effort::bounds_of_parts(const model::Frame& frame) {
  std::vector<Bounds> all;
  for (const model::Part& part : frame.parts) all.push_back(bounds_of_part(part));
  return all;
}

/// With what has been found out of the parts already.
HeavyLast Effort::find_heavy(const Undoer& undoer, bool counts) const {
  std::vector<PartId> heavy;
  for (const model::Board& board : frame_.boards) {
    if (counts && lift_of({board.part}).people > 1) heavy.push_back(board.part);
  }
  std::vector<char> together;
  for (const Contact& c : list_.contacts) together.push_back(static_cast<char>(holds_together(c)));
  return HeavyLast(undoer, heavy, together);
}

double Effort::making(ContactId contact) const {
  const Contact& c = list_.contact(contact);
  switch (c.kind) {
    case ContactKind::thread: {
      const model::Joint& joint = frame_.joint(c.joint);
      return rates_.thread_start + rates_.thread_turn * joint.engaged / joint.pitch;
    }
    case ContactKind::hole:
    case ContactKind::notch: return rates_.hole_aim;
    case ContactKind::rest: return rates_.lay_board;
    case ContactKind::nut: return rates_.close_nut;
    case ContactKind::fastening: break;
  }
  const model::Fastening& f = frame_.fastening(c.fastening);
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
  for (const PartId p : parts) mass += frame_.part(p).mass;
  return mass;
}

Lift Effort::lift_of(const std::vector<PartId>& parts) const {
  Bounds box = bounds(parts.front());
  for (const PartId p : parts) box = joined(box, bounds(p));
  return planner::lift_of(mass_of(parts), box);
}

double Effort::factor_for(const Lift& lift) const {
  if (lift.people < 2) return 1.0;
  return people_ > 1 ? rates_.second_person : rates_.alone_over_limit;
}

/// What is made up already is lifted a second time. A bare part is lifted for the first: fetching it is in the base.
double Effort::carry_of(const std::vector<PartId>& parts) const {
  if (parts.size() < 2) return 0.0;
  const Lift lift = lift_of(parts);
  return rates_.carry_piece * lift.mass * factor_for(lift);
}

double Effort::swing_of(const Move& move) const {
  const Contact& c = list_.contact(move.contacts.front());
  const model::Axis axis{c.on_axis, c.axis};
  double inertia = 0.0;
  for (const PartId p : move.moving) inertia += inertia_about(properties(p), axis);
  const double reach = std::max(0.0, move.swing_radius - rates_.hand_reach) / 1000.0;
  double cost = move.turns * (rates_.swing_inertia * inertia + rates_.swing_radius * reach);
  if (move.swing_radius > rates_.arm_length) cost *= people_ > 1 ? 1.0 : rates_.second_person;
  return cost;
}

bool Effort::in_the_air(const State& before, const Move& move) const {
  const Contact& c = list_.contact(move.contacts.front());
  if (c.axis.axis() == 2) return false;
  const bool male_moves = std::binary_search(move.moving.begin(), move.moving.end(), c.a);
  const model::Part& turned = frame_.part(male_moves ? c.a : c.b);
  const bool to_level = std::any_of(turned.ports.begin(), turned.ports.end(),
                                    [&](const model::Port& port) { return !parallel(port.facing, c.axis); });
  if (!to_level) return false;
  const int cluster = before.cluster(list_.vertex(c.a));
  for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
    if (before.cluster(p) != cluster) continue;
    const double off = std::max(bounds(p).hi.z - c.on_axis.z, c.on_axis.z - bounds(p).lo.z);
    if (off > rates_.in_the_air && !std::binary_search(move.moving.begin(), move.moving.end(), p)) return true;
  }
  return false;
}

double Effort::holes_turned_in(const State& before, const Move& move) const {
  const Contact& thread = list_.contact(move.contacts.front());
  double holes = 0.0;
  for (const PartId p : move.moving) {
    for (const ContactId k : list_.at[at(p)]) {
      const Contact& c = list_.contact(k);
      if (before.made(k) && c.line == thread.line && hole_like(c.kind)) {
        holes += 1.0;
      }
    }
  }
  return holes;
}

bool Effort::holds_together(const Contact& c) const {
  switch (c.kind) {
    case ContactKind::thread:
    case ContactKind::nut: return true;
    case ContactKind::fastening: return frame_.fastening(c.fastening).kind == model::Fastening::Kind::flange_to_board;
    case ContactKind::hole:
    case ContactKind::notch:
    case ContactKind::rest: break;
  }
  return false;
}

bool Effort::parts_work(const State& before, ContactId c) const {
  State after = before;
  after.undo({c});
  return !hang_together(after, list_.contact(c).a, list_.contact(c).b);
}

bool Effort::is_work(const State& state, PartId part) const {
  const std::vector<ContactId>& contacts = list_.at[at(part)];
  return std::any_of(contacts.begin(), contacts.end(),
                     [&](ContactId k) { return state.made(k) && holds_together(list_.contact(k)); });
}

bool Effort::hang_together(const State& state, PartId one, PartId other) const {
  if (state.cluster(one) != state.cluster(other)) return false;
  std::vector<char> seen(frame_.parts.size(), 0);
  std::vector<PartId> found{one};
  seen[at(one)] = 1;
  for (std::size_t i = 0; i < found.size(); ++i) {
    if (found[i] == other) return true;
    for (const ContactId k : list_.at[at(found[i])]) {
      if (!state.made(k) || !holds_together(list_.contact(k))) continue;
      const Contact& c = list_.contact(k);
      const PartId next = c.a == found[i] ? c.b : c.a;
      if (std::exchange(seen[at(next)], 1) == 0) found.push_back(next);
    }
  }
  return false;
}

/// Ascending. O(size of the cluster).
std::vector<PartId> Effort::piece_of_work(const State& state, PartId start) const {
  std::vector<char> seen(frame_.parts.size(), 0);
  std::vector<PartId> found;
  found.reserve(frame_.parts.size());
  found.push_back(start);
  seen[at(start)] = 1;
  for (std::size_t i = 0; i < found.size(); ++i) {
    for (const ContactId k : list_.at[at(found[i])]) {
      if (!state.made(k) || !holds_together(list_.contact(k))) continue;
      const Contact& c = list_.contact(k);
      const PartId next = c.a == found[i] ? c.b : c.a;
      if (std::exchange(seen[at(next)], 1) == 0) found.push_back(next);
    }
  }
  return marked_parts(seen);
}

/// What a slide holds still: the pieces at the other ends of its contacts, as the rule of sliding sees them.
std::vector<PartId> Effort::other_side(const State& before, const Move& move) const {
  Without without;
  without.holes_along = list_.contact(move.contacts.front()).axis;
  std::vector<char> seen(frame_.parts.size(), 0);
  std::vector<PartId> found = move.holding;
  for (const PartId p : found) seen[at(p)] = 1;
  for (std::size_t i = 0; i < found.size(); ++i) {
    for (const ContactId k : list_.at[at(found[i])]) {
      if (!before.counts(k, without)) continue;
      const Contact& c = list_.contact(k);
      const PartId next = c.a == found[i] ? c.b : c.a;
      if (next != model::kRoom && std::exchange(seen[at(next)], 1) == 0) found.push_back(next);
    }
  }
  return marked_parts(seen);
}

/// The same move with `parts` moving and the others held.
void Effort::turn_round(Move& move, std::vector<PartId> parts) const {
  move.holding.clear();
  for (const ContactId k : move.contacts) {
    const Contact& c = list_.contact(k);
    for (const PartId p : {c.a, c.b}) {
      if (p != model::kRoom && !std::binary_search(parts.begin(), parts.end(), p)) move.holding.push_back(p);
    }
  }
  std::sort(move.holding.begin(), move.holding.end());
  move.holding.erase(std::unique(move.holding.begin(), move.holding.end()), move.holding.end());
  move.moving = std::move(parts);
  move.mass = mass_of(move.moving);
  move.travel = -move.travel;
}

/// What slides leaves all that it shares holes with along the way, so the work falls into it and the rest.
Effort::Sides Effort::sides_of_slide(const State& before, const Move& move) const {
  State after = before;
  after.undo(move.contacts);
  // One side is one piece afterwards; the other may be several.
  const int held = after.cluster(move.holding.front()), moved = after.cluster(move.moving.front());
  const bool held_is_one =
      std::all_of(move.holding.begin(), move.holding.end(), [&](PartId p) { return after.cluster(p) == held; });
  Sides sides;
  for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
    if (before.cluster(p) != before.cluster(move.moving.front())) continue;
    const bool moves = held_is_one ? after.cluster(p) != held : after.cluster(p) == moved;
    (moves ? sides.mover : sides.other).push_back(p);
    (moves ? sides.mover_fixed : sides.other_fixed) |= after.holds_room(p);
  }
  return sides;
}

/// Boards over pipes or pipes through boards: the lesser burden moves, with all that hangs on it, unless the room holds
/// it.
void Effort::lift(const State& before, Move& move, Extra& extra) const {
  if (move.kind != MoveKind::slide) {
    extra.carry = carry_of(move.moving);
    return;
  }
  const Sides sides = sides_of_slide(before, move);
  const double here = carry_of(sides.mover), there = carry_of(sides.other);
  extra.carry = here;
  move.mass = mass_of(sides.mover);
  if (sides.other_fixed || (!sides.mover_fixed && here <= there)) return;
  extra.carry = there;
  turn_round(move, other_side(before, move));
  move.mass = mass_of(sides.other);
}

std::vector<PricedMove> Effort::price_both_ways(const State& before, Move move) const {
  std::vector<PricedMove> both;
  if (move.kind != MoveKind::slide) {
    both.push_back(price(before, std::move(move)));
    return both;
  }
  both.reserve(2);
  both.push_back(price(before, move));
  const Sides sides = sides_of_slide(before, move);
  if (sides.mover_fixed || sides.other_fixed) return both;
  const bool turned = both.front().move.moving != move.moving;
  if (!turned) turn_round(move, other_side(before, move));
  const std::vector<PartId>& brought = turned ? sides.mover : sides.other;
  move.mass = mass_of(brought);
  Extra extra;
  extra.carry = carry_of(brought);
  extra.heavy = both.front().extra.heavy;
  both.push_back({std::move(move), extra});
  return both;
}

/// A nut or the screws of a flange join two pieces without turning either: the lesser burden is brought, unless the
/// room holds it. Where both hang together otherwise nothing is brought.
void Effort::bring_lighter(const State& before, Move& move, Extra& extra) const {
  const Contact& c = list_.contact(move.contacts.front());
  State after = before;
  after.undo(move.contacts);
  const PartId ends[2] = {c.a, c.b};
  const std::vector<PartId> sides[2] = {piece_of_work(after, c.a), piece_of_work(after, c.b)};
  if (std::binary_search(sides[0].begin(), sides[0].end(), c.b)) return;
  const double burden[2] = {carry_of(sides[0]), carry_of(sides[1])};
  const bool room[2] = {after.holds_room(c.a), after.holds_room(c.b)};
  std::size_t brought = burden[1] < burden[0] - 1e-9 ? 1 : 0;
  if (burden[0] <= 0.0 && burden[1] <= 0.0) brought = mass_of(sides[1]) < mass_of(sides[0]) - 1e-9 ? 1 : 0;
  if (room[brought] && !room[1 - brought]) brought = 1 - brought;
  extra.carry = std::min(burden[0], burden[1]) <= 0.0 ? 0.0 : burden[brought];
  if (sides[0].size() > 1 && sides[1].size() > 1) extra.start = rates_.start_piece;
  if (move.kind != MoveKind::undo_nut) return;
  move.moving = sides[brought];
  if (after.cluster(c.a) != after.cluster(c.b)) {  // what hangs on it comes along
    move.moving.clear();
    for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
      if (after.cluster(p) == after.cluster(ends[brought])) move.moving.push_back(p);
    }
  }
  move.mass = mass_of(move.moving);
  move.holding = {ends[1 - brought]};
}

PricedMove Effort::price(const State& before, Move move) const {
  PricedMove priced{std::move(move), {}};
  priced.extra = weigh(before, priced.move);
  return priced;
}

/// The price of the move, which is turned round where that is lighter.
Extra Effort::weigh(const State& before, Move& move) const {
  Extra extra;
  const Contact& first = list_.contact(move.contacts.front());
  extra.aside = rates_.hold_aside * static_cast<double>(move.aside.size());
  if (move.kind == MoveKind::unfasten && !holds_together(first)) return extra;
  if (move.kind != MoveKind::unscrew && move.kind != MoveKind::undo_nut && move.kind != MoveKind::unfasten) {
    extra.heavy = heavy_extra(before, move);
    lift(before, move, extra);
    return extra;
  }
  if (before.holds_room(list_.vertex(first.a))) extra.room = rates_.held_by_room;
  if (move.kind != MoveKind::unscrew) {
    bring_lighter(before, move, extra);
    return extra;
  }
  if (in_the_air(before, move)) extra.air = rates_.air;
  extra.strap = rates_.strap_before_turn * static_cast<double>(move.strapped_first.size());
  extra.hole = rates_.turn_in_hole * holes_turned_in(before, move);
  if (move.moving.size() < 2) return extra;  // a bare part comes off
  extra.swing = swing_of(move);
  extra.carry = carry_of(move.moving);
  State after = before;
  after.undo(move.contacts);
  if (is_work(after, first.a) && is_work(after, first.b) && !hang_together(after, first.a, first.b)) {
    extra.start = rates_.start_piece;
  }
  return extra;
}

}  // namespace dryfit::planner

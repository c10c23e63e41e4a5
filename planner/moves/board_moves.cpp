/// Undo moves of a single board: sideways out of its notches, swung out of them about its one hole, taken away.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/moves_impl.hpp"

namespace dryfit::planner {

using model::Direction;
using model::kNone;
using model::Solid;
using model::Vec3;

namespace {

Vec3 turned(Vec3 p, Vec3 pivot, int axis, double angle) {
  const int i = (axis + 1) % 3, j = (axis + 2) % 3;
  const double c = std::cos(angle), s = std::sin(angle);
  Vec3 q = p;
  q[i] = pivot[i] + c * (p[i] - pivot[i]) - s * (p[j] - pivot[j]);
  q[j] = pivot[j] + s * (p[i] - pivot[i]) + c * (p[j] - pivot[j]);
  return q;
}

Direction along_axis(int axis) { return axis == 0 ? model::kRight : axis == 1 ? model::kBack : model::kUp; }

/// True when the box, turned from 0 to `angle`, comes to overlap `still`. Certified by the gap in the middle of what is
/// still open: no point moves farther than its radius times the angle. Doubt under 0.05 mm counts as a hit.
bool quarter_hits(const Solid& box, const Solid& still, Vec3 pivot, int axis, double angle) {
  double radius = 0.0;
  const int i = (axis + 1) % 3, j = (axis + 2) % 3;
  for (const double x : {box.a[i], box.b[i]}) {
    for (const double y : {box.a[j], box.b[j]}) radius = std::max(radius, std::hypot(x - pivot[i], y - pivot[j]));
  }
  // What lies above or below the board, or beyond its corners, is never met.
  const model::Bounds near = bounds_of(still);
  if (near.lo[axis] >= box.b[axis] || near.hi[axis] <= box.a[axis]) return false;
  Vec3 at_pivot = pivot;
  at_pivot[axis] = 0.5 * (box.a[axis] + box.b[axis]);
  if (distance(model::cylinder(at_pivot, along_axis(axis), 0.001, 0.0), still) > radius + (box.b[axis] - box.a[axis]))
    return false;
  struct Span {
    double from, to;
  };
  std::vector<Span> open{{0.0, angle}};
  while (!open.empty()) {
    const Span span = open.back();
    open.pop_back();
    const double middle = 0.5 * (span.from + span.to), reach = radius * 0.5 * std::abs(span.to - span.from);
    const double clear = distance_turned(box, pivot, axis, middle, still, reach);
    if (clear > reach) continue;
    if (clear <= 0.0 || reach < 0.05) return true;
    // The gap lets the box turn so far either way; what is beyond is still open.
    const double free = (span.to > span.from ? clear : -clear) / radius;
    open.push_back({middle + free, span.to});
    open.push_back({span.from, middle - free});
  }
  return false;
}

}  // namespace

/// What the three moves share: the board, the pieces it leaves, and the test of its boxes against them.
struct BoardCase {
  Undoer::Impl& impl;
  const State& state;
  const PartId part;
  const model::Board& board;
  const MoveKind kind;
  const Without without;
  std::vector<ContactId> ties;  ///< made contacts of the board with what it leaves
  bool cluster_has_room = false;
  std::unordered_map<int, bool> known;

  BoardCase(Undoer::Impl& impl_, const State& state_, PartId part_, MoveKind kind_)
      : impl(impl_),
        state(state_),
        part(part_),
        board(impl_.board(part_)),
        kind(kind_),
        without{kNone, kNone, {}, kNone, part_},
        cluster_has_room(state_.holds_room(part_)) {
    for (const ContactId c : impl.contacts_at(part)) {
      const Contact& k = impl.contact(c);
      if (state.made(c) && k.a == part && (Undoer::Impl::hole_like(k) || k.kind == ContactKind::rest))
        ties.push_back(c);
    }
  }

  [[nodiscard]] bool is_end(int v) const {
    if (cluster_has_room && v == impl.list.room()) return true;
    return std::any_of(ties.begin(), ties.end(), [&](ContactId c) { return impl.contact(c).b == v; });
  }
  bool counts(int v) {
    if (state.cluster(v) != state.cluster(part)) return false;
    const auto found = known.find(v);
    if (found != known.end()) return found->second;
    const bool yes = impl.explorer.path(
        state, v, without, [this](int at) { return is_end(at); }, nullptr);
    known.emplace(v, yes);
    return yes;
  }
  void hold(int v, std::vector<ContactId>& held) {
    impl.explorer.path(
        state, v, without, [this](int at) { return is_end(at); }, &held);
    hold_cluster(held);
  }
  void hold_cluster(std::vector<ContactId>& held) {
    if (cluster_has_room) impl.way(state, part, impl.list.room(), {}, held);
  }
  Refusal refuse(Refusal::Why why, PartId blocking) {
    Refusal r;
    r.kind = kind;
    r.why = why;
    r.moving = part;
    r.blocking = blocking;
    r.held_by = ties;
    return r;
  }

  /// Nothing may be fastened to the board or laid on it.
  std::optional<Refusal> bound() {
    for (const ContactId c : {impl.made_fastening(state, part), impl.laid_on(state, part)}) {
      if (c == kNone) continue;
      Refusal r = refuse(Refusal::Why::fastened, impl.contact(c).a == part ? impl.contact(c).b : impl.contact(c).a);
      r.held_by = {c};
      return r;
    }
    return std::nullopt;
  }

  /// A body on the line of one of the board's holes or slots that is narrower than it by the touch.
  [[nodiscard]] bool passes(int body) const {
    const int line = impl.index.line_of(body);
    if (line == kNone) return false;
    return std::any_of(ties.begin(), ties.end(), [&](ContactId c) {
      const Contact& k = impl.contact(c);
      return k.line == line && 2.0 * impl.index.bodies()[dryfit::at(body)].solid.radius <=
                                   board.holes[dryfit::at(k.hole)].diameter - model::kTouch;
    });
  }

  std::optional<Refusal> first_hit(const model::Bounds& region, const std::function<bool(const Body&)>& meets,
                                   Vec3 sweep = {}) {
    std::vector<int> candidates;
    impl.index.find(region, candidates);
    for (const int i : candidates) {
      const Body& other = impl.index.bodies()[dryfit::at(i)];
      if (other.part == part || passes(i)) continue;
      ++impl.work.clearance_tests;
      if (impl.lifted_off(part, i, sweep)) continue;
      if (!meets(other) || !counts(other.part)) continue;
      Refusal r = refuse(Refusal::Why::hits_part, other.part);
      hold(other.part, r.held_by);
      return r;
    }
    return std::nullopt;
  }

  std::optional<Refusal> moved_hit(Vec3 sweep) {
    const Solid whole = model::box(board.lo, board.hi);
    const model::Wood wood = wood_of(board);
    auto refusal = first_hit(
        model::swept_bounds(whole, sweep),
        [&](const Body& other) {
          return model::hits({whole, &wood}, other.thing(), sweep, model::kTouch);
        },
        sweep);
    if (refusal) return refusal;
    if (!cluster_has_room) return std::nullopt;
    for (std::size_t s = 0; s < impl.frame.surfaces.size(); ++s) {
      const model::Surface& surface = impl.frame.surfaces[s];
      const double reach = Undoer::Impl::swept_reach(whole, sweep, -surface.normal.unit());
      if (Undoer::Impl::depth_in(surface, reach) >= model::kTouch) return surface_refusal(static_cast<int>(s));
    }
    return std::nullopt;
  }

  Refusal surface_refusal(int surface) {
    Refusal r = refuse(Refusal::Why::hits_surface, kNone);
    r.surface = surface;
    hold_cluster(r.held_by);
    return r;
  }

  void accept(Attempt& attempt, ContactId c, std::vector<ContactId> contacts, Vec3 travel) {
    attempt.legal = true;
    Move& move = attempt.move;
    move.kind = kind;
    move.contacts = std::move(contacts);
    std::iter_swap(move.contacts.begin(), std::find(move.contacts.begin(), move.contacts.end(), c));
    std::sort(move.contacts.begin() + 1, move.contacts.end());
    move.travel = travel;
    impl.finish(state, move, {part});
  }
  /// The first of the contacts that is frozen, or kNone.
  [[nodiscard]] static ContactId first_frozen(const std::vector<char>* frozen, const std::vector<ContactId>& contacts) {
    if (frozen == nullptr) return kNone;
    for (const ContactId c : contacts) {
      if ((*frozen)[dryfit::at(c)] != 0) return c;
    }
    return kNone;
  }
};

void Undoer::Impl::sideways(const State& state, ContactId c, const std::vector<char>* frozen, Attempt& attempt) {
  BoardCase b(*this, state, contact(c).a, MoveKind::sideways);
  const Direction open = b.board.holes[dryfit::at(contact(c).hole)].open;
  for (const ContactId k : b.ties) {
    if (contact(k).kind == ContactKind::notch && b.board.holes[dryfit::at(contact(k).hole)].open == open) {
      continue;
    }
    Refusal r = b.refuse(Refusal::Why::no_way, contact(k).b);  // a drilled hole, or a slot open to another side
    r.held_by = {k};
    attempt.refusals.push_back(std::move(r));
    return;
  }
  if (const ContactId kept = BoardCase::first_frozen(frozen, b.ties); kept != kNone) {
    attempt.refusals.push_back(keeps(kept));
    return;
  }
  std::optional<Refusal> refusal = b.bound();
  const Direction d = -open;
  const Vec3 unit = d.unit();
  double travel = 0.0;
  const double last_edge = -reach_along(model::box(b.board.lo, b.board.hi), -unit);
  for (const ContactId k : b.ties) {
    for (int i = index.first(contact(k).b); i < index.last(contact(k).b); ++i) {
      travel = std::max(travel, reach_along(index.bodies()[dryfit::at(i)].solid, unit) - last_edge);
    }
  }
  if (!refusal) refusal = b.moved_hit(unit * travel);
  if (refusal) {
    attempt.refusals.push_back(std::move(*refusal));
    return;
  }
  b.accept(attempt, c, b.ties, unit * travel);
}

void Undoer::Impl::swing(const State& state, ContactId c, const std::vector<char>* frozen, Attempt& attempt) {
  BoardCase b(*this, state, contact(c).a, MoveKind::swing);
  ContactId pivot = kNone;
  std::vector<ContactId> notches, holes;
  for (const ContactId k : b.ties) (contact(k).kind == ContactKind::notch ? notches : holes).push_back(k);
  if (holes.size() != 1) {
    Refusal r = b.refuse(Refusal::Why::no_way, kNone);
    if (holes.size() > 1) r.held_by = {holes[0], holes[1]};
    attempt.refusals.push_back(std::move(r));
    return;
  }
  pivot = holes.front();
  if (const ContactId kept = BoardCase::first_frozen(frozen, notches); kept != kNone) {
    attempt.refusals.push_back(keeps(kept));
    return;
  }
  const Vec3 centre = contact(pivot).on_axis;
  const int n = b.board.normal;
  Vec3 up{};
  up[n] = 1.0;
  // Turned by +angle about `up`, the board's point at the pipe moves along up x rho, so the pipe leaves through a slot
  // that is open the other way.
  int sense = 0;
  std::optional<Refusal> refusal = b.bound();
  for (const ContactId k : notches) {
    const Vec3 rho = contact(k).on_axis - centre;
    const double along = dot(cross(up, rho), b.board.holes[dryfit::at(contact(k).hole)].open.unit());
    const int wanted = along < -1.0 ? 1 : along > 1.0 ? -1 : 0;
    if (wanted == 0 || (sense != 0 && wanted != sense)) {
      Refusal r = b.refuse(Refusal::Why::no_way, contact(k).b);
      r.held_by = b.ties;
      attempt.refusals.push_back(std::move(r));
      return;
    }
    sense = wanted;
  }
  const double angle = sense * std::numbers::pi / 2.0;
  double radius = 0.0;
  if (!refusal) {
    const int i = (n + 1) % 3, j = (n + 2) % 3;
    for (const double x : {b.board.lo[i], b.board.hi[i]}) {
      for (const double y : {b.board.lo[j], b.board.hi[j]})
        radius = std::max(radius, std::hypot(x - centre[i], y - centre[j]));
    }
    model::Bounds region{b.board.lo, b.board.hi};
    for (const int k : {i, j}) {
      region.lo[k] = centre[k] - radius;
      region.hi[k] = centre[k] + radius;
    }
    for (const Solid& box : boxes_of(b.board)) {
      const Solid small = model::shrunk(box, model::kTouch);
      refusal =
          b.first_hit(region, [&](const Body& other) { return quarter_hits(small, other.solid, centre, n, angle); });
      if (refusal) break;
    }
  }
  if (!refusal && b.cluster_has_room) {
    // The board's corners, in steps fine enough that what they do between is within the touch.
    const Solid small = model::shrunk(model::box(b.board.lo, b.board.hi), model::kTouch);
    for (std::size_t s = 0; s < frame.surfaces.size() && !refusal; ++s) {
      const model::Surface& surface = frame.surfaces[s];
      const Vec3 in = -surface.normal.unit();
      const double plane = -surface.at * surface.normal.unit()[surface.normal.axis()];
      for (int corner = 0; corner < 8 && !refusal; ++corner) {
        const Vec3 p{(corner & 1) != 0 ? small.b.x : small.a.x, (corner & 2) != 0 ? small.b.y : small.a.y,
                     (corner & 4) != 0 ? small.b.z : small.a.z};
        // A point on a circle is deepest at the ends of its arc or where its radius points into the surface.
        double deepest = std::max(dot(p, in), dot(turned(p, centre, n, angle), in));
        const int i = (n + 1) % 3, j = (n + 2) % 3;
        const double r = std::hypot(p[i] - centre[i], p[j] - centre[j]);
        const double start = std::atan2(p[j] - centre[j], p[i] - centre[i]), aim = std::atan2(in[j], in[i]);
        double turn = std::remainder(aim - start, 2.0 * std::numbers::pi);
        if (surface.normal.axis() != n && turn * sense > 0 && std::abs(turn) < std::numbers::pi / 2.0) {
          deepest = std::max(deepest, dot(centre, in) + r);
        }
        if (deepest > plane) refusal = b.surface_refusal(static_cast<int>(s));
      }
    }
  }
  if (refusal) {
    attempt.refusals.push_back(std::move(*refusal));
    return;
  }
  b.accept(attempt, c, notches, {});
  attempt.move.swing_radius = radius;
}

void Undoer::Impl::take_away(const State& state, ContactId c, const std::vector<char>* frozen, Attempt& attempt) {
  BoardCase b(*this, state, contact(c).a, MoveKind::take_away);
  if (const ContactId kept = BoardCase::first_frozen(frozen, b.ties); kept != kNone) {
    attempt.refusals.push_back(keeps(kept));
    return;
  }
  if (std::optional<Refusal> refusal = b.bound()) {
    attempt.refusals.push_back(std::move(*refusal));
    return;
  }
  constexpr double kLift = 50.0;  // the way the board faces, mm: then it is in the hands
  std::vector<Direction> ways{b.board.facing};
  for (const Direction d : model::all_directions()) {
    if (d.along_axis() && d.axis() != b.board.normal) ways.push_back(d);
  }
  const Solid whole = model::box(b.board.lo, b.board.hi);
  for (const Direction d : ways) {
    const Vec3 unit = d.unit();
    double travel = kLift;
    if (d != b.board.facing) {
      travel = 0.0;
      const double last_edge = -reach_along(whole, -unit);
      for (const ContactId k : b.ties) {
        for (int i = index.first(contact(k).b); i < index.last(contact(k).b); ++i) {
          travel = std::max(travel, reach_along(index.bodies()[dryfit::at(i)].solid, unit) - last_edge);
        }
      }
    }
    std::optional<Refusal> refusal = b.moved_hit(unit * travel);
    if (refusal) {
      attempt.refusals.push_back(std::move(*refusal));
      continue;
    }
    b.accept(attempt, c, b.ties, unit * travel);
    return;
  }
}

}  // namespace dryfit::planner

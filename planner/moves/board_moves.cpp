/// Undo moves of a single board: swung out of its notches about its one hole, taken away.
#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/caged.hpp"
#include "planner/moves/moves_impl.hpp"
#include "planner/moves/turned_aside.hpp"

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
bool arc_hits(const Solid& box, const Solid& still, Vec3 pivot, int axis, double angle) {
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

/// How far the box, turned from 0 to `angle` (at most a quarter), reaches along the unit vector `out`.
double arc_reach(const Solid& box, Vec3 pivot, int axis, double angle, Vec3 out) {
  const int i = (axis + 1) % 3, j = (axis + 2) % 3;
  double farthest = -std::numeric_limits<double>::infinity();
  for (int corner = 0; corner < 8; ++corner) {
    const Vec3 p{(corner & 1) != 0 ? box.b.x : box.a.x, (corner & 2) != 0 ? box.b.y : box.a.y,
                 (corner & 4) != 0 ? box.b.z : box.a.z};
    // A point on a circle is farthest at the ends of its arc or where its radius points along `out`.
    farthest = std::max({farthest, dot(p, out), dot(turned(p, pivot, axis, angle), out)});
    if (std::abs(out[axis]) > 0.5) continue;
    const double start = std::atan2(p[j] - pivot[j], p[i] - pivot[i]), aim = std::atan2(out[j], out[i]);
    const double turn = std::remainder(aim - start, 2.0 * std::numbers::pi);
    if (turn * angle > 0 && std::abs(turn) < std::abs(angle)) {
      farthest = std::max(farthest, dot(pivot, out) + std::hypot(p[i] - pivot[i], p[j] - pivot[j]));
    }
  }
  return farthest;
}

}  // namespace

/// What the two moves share: the board, the pieces it leaves, and the test of its boxes against them.
struct BoardCase {
  Undoer::Impl& impl;
  const State& state;
  const PartId part;
  const model::Board& board;
  const MoveKind kind;
  const Without without;
  std::vector<ContactId> ties;  ///< made contacts of the board with what it leaves
  bool cluster_has_room = false;
  int turns_about = kNone;  ///< swing: the line of the hole; nothing on it is met by turning
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
      if (state.made(c) && k.a == part && (hole_like(k.kind) || k.kind == ContactKind::rest)) ties.push_back(c);
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
    if (line == turns_about) return true;
    return std::any_of(ties.begin(), ties.end(), [&](ContactId c) {
      const Contact& k = impl.contact(c);
      return k.line == line && impl.list.goes_through(2.0 * impl.index.bodies()[dryfit::at(body)].solid.radius,
                                                      board.holes[dryfit::at(k.hole)].diameter);
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
      if (impl.leaves_carrier(part, other.part, sweep)) continue;
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
          return model::hits({whole, &wood}, other.thing(), sweep, impl.list.touch);
        },
        sweep);
    if (refusal) return refusal;
    if (!cluster_has_room) return std::nullopt;
    for (std::size_t s = 0; s < impl.frame.surfaces.size(); ++s) {
      const model::Surface& surface = impl.frame.surfaces[s];
      const double reach = Undoer::Impl::swept_reach(whole, sweep, -surface.normal.unit());
      if (Undoer::Impl::depth_in(surface, reach) >= impl.list.touch) return surface_refusal(static_cast<int>(s));
    }
    return std::nullopt;
  }

  Refusal surface_refusal(int surface) {
    Refusal r = refuse(Refusal::Why::hits_surface, kNone);
    r.surface = surface;
    hold_cluster(r.held_by);
    return r;
  }

  /// Lifted, it would be no nearer to being out.
  std::optional<Refusal> caged() {
    std::vector<PartId> carriers;
    for (const ContactId c : ties) carriers.push_back(impl.contact(c).b);
    const auto cage = cage_round(impl.frame, impl.index, board, carriers, cluster_has_room,
                                 [this](PartId other) { return counts(other); });
    if (!cage) return std::nullopt;
    Refusal r =
        cage->lid == model::kRoom ? surface_refusal(cage->lid_surface) : refuse(Refusal::Why::hits_part, cage->lid);
    for (const PartId other : cage->parts) hold(other, r.held_by);
    if (cage->surfaces) hold_cluster(r.held_by);
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
  struct Swing;
  std::optional<Refusal> find_swing(Swing& swing);
  std::optional<Refusal> swung_hit(const Swing& swing);
  [[nodiscard]] double far_corner(Vec3 centre) const;

  /// The first of the contacts that is frozen, or kNone.
  [[nodiscard]] static ContactId first_frozen(const std::vector<char>* frozen, const std::vector<ContactId>& contacts) {
    if (frozen == nullptr) return kNone;
    for (const ContactId c : contacts) {
      if ((*frozen)[dryfit::at(c)] != 0) return c;
    }
    return kNone;
  }
};

/// The slots that let go when the board turns about its one hole, and how far it has to be turned for that.
struct BoardCase::Swing {
  ContactId pivot = kNone;
  std::vector<ContactId> notches;
  int sense = 0;
  double angle = 0.0;  ///< without sign
};

std::optional<Refusal> BoardCase::find_swing(Swing& swing) {
  std::vector<ContactId> holes;
  for (const ContactId k : ties) (impl.contact(k).kind == ContactKind::notch ? swing.notches : holes).push_back(k);
  if (holes.size() != 1) {
    Refusal r = refuse(Refusal::Why::no_way, kNone);
    if (holes.size() > 1) r.held_by = {holes[0], holes[1]};
    return r;
  }
  swing.pivot = holes.front();
  turns_about = impl.contact(swing.pivot).line;
  const Vec3 centre = impl.contact(swing.pivot).on_axis;
  for (const ContactId k : swing.notches) {
    const model::Hole& slot = board.holes[static_cast<std::size_t>(impl.contact(k).hole)];
    double across = 0.0;
    for (int i = impl.index.first(slot.pipe); i < impl.index.last(slot.pipe); ++i) {
      across = std::max(across, 2.0 * impl.index.bodies()[dryfit::at(i)].solid.radius);
    }
    if (!impl.list.goes_through(across, slot.diameter)) {
      Refusal r = refuse(Refusal::Why::too_wide, impl.contact(k).b);
      r.held_by = {k};
      r.wanted = across;
      r.given = slot.diameter;
      return r;
    }
    const int wanted = sense_of_slot(board, slot, centre);
    std::optional<double> out;
    for (int i = impl.index.first(slot.pipe); wanted != 0 && i < impl.index.last(slot.pipe); ++i) {
      out = leaves_slot_at(board, impl.index.bodies()[dryfit::at(i)].solid, centre, wanted, impl.list.touch);
    }
    if (!out || (swing.sense != 0 && wanted != swing.sense)) {
      Refusal r = refuse(Refusal::Why::no_way, impl.contact(k).b);
      r.held_by = ties;
      return r;
    }
    swing.sense = wanted;
    swing.angle = std::max(swing.angle, *out);
  }
  return std::nullopt;
}

std::optional<Refusal> BoardCase::swung_hit(const Swing& swing) {
  const Vec3 centre = impl.contact(swing.pivot).on_axis;
  const double angle = swing.sense * swing.angle;
  const int n = board.normal, i = (n + 1) % 3, j = (n + 2) % 3;
  const double radius = far_corner(centre);
  model::Bounds region{board.lo, board.hi};
  for (const int k : {i, j}) {
    region.lo[k] = centre[k] - radius;
    region.hi[k] = centre[k] + radius;
  }
  for (const Solid& box : boxes_of(board)) {
    const Solid small = model::shrunk(box, impl.list.touch);
    auto refusal = first_hit(region, [&](const Body& other) { return arc_hits(small, other.solid, centre, n, angle); });
    if (refusal) return refusal;
  }
  if (!cluster_has_room) return std::nullopt;
  const Solid small = model::shrunk(model::box(board.lo, board.hi), impl.list.touch);
  for (std::size_t s = 0; s < impl.frame.surfaces.size(); ++s) {
    const model::Surface& surface = impl.frame.surfaces[s];
    const double plane = -surface.at * surface.normal.unit()[surface.normal.axis()];
    if (arc_reach(small, centre, n, angle, -surface.normal.unit()) > plane) return surface_refusal(static_cast<int>(s));
  }
  return std::nullopt;
}

double BoardCase::far_corner(Vec3 centre) const {
  const int i = (board.normal + 1) % 3, j = (board.normal + 2) % 3;
  double radius = 0.0;
  for (const double x : {board.lo[i], board.hi[i]}) {
    for (const double y : {board.lo[j], board.hi[j]})
      radius = std::max(radius, std::hypot(x - centre[i], y - centre[j]));
  }
  return radius;
}

void Undoer::Impl::swing(const State& state, ContactId c, const std::vector<char>* frozen, Attempt& attempt) {
  BoardCase b(*this, state, contact(c).a, MoveKind::swing);
  BoardCase::Swing swing;
  std::optional<Refusal> refusal = b.find_swing(swing);
  if (!refusal) {
    const ContactId kept = BoardCase::first_frozen(frozen, swing.notches);
    if (kept != kNone) refusal = keeps(kept);
  }
  if (!refusal) refusal = b.bound();
  if (!refusal) refusal = b.swung_hit(swing);
  if (refusal) {
    attempt.refusals.push_back(std::move(*refusal));
    return;
  }
  b.accept(attempt, c, swing.notches, {});
  attempt.move.swing_radius = b.far_corner(contact(swing.pivot).on_axis);
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
    if (!refusal && d == b.board.facing) refusal = b.caged();
    if (refusal) {
      attempt.refusals.push_back(std::move(*refusal));
      continue;
    }
    b.accept(attempt, c, b.ties, unit * travel);
    return;
  }
}

}  // namespace dryfit::planner

/// Undo move "slide apart": a piece leaves along the holes that it shares with
/// others. Forward: slide or pass.
#include <algorithm>
#include <array>
#include <limits>
#include <unordered_set>

#include "planner/base/ascending.hpp"
#include "planner/moves/any_refusal.hpp"
#include "planner/moves/sliding_piece.hpp"
#include "planner/moves/turned_aside.hpp"

namespace dryfit::planner {

using model::Direction;
using model::kNone;
using model::Vec3;

namespace {

/// The piece at one end of the contact asked for, walked only as far as it may
/// matter.
struct Side {
  std::vector<int> vertices;
  double mass = 0.0;
  bool too_many = false;
  bool too_heavy = false;
};

Side side_of(Undoer::Impl& impl, const State& state, int seed, const Without& without, std::size_t cap,
             double heaviest) {
  Side side;
  impl.explorer.walk(state, seed, without, [&](int v) {
    side.vertices.push_back(v);
    if (v != impl.list.room()) side.mass += impl.part(v).mass;
    side.too_many = side.vertices.size() > cap;
    side.too_heavy = side.mass > heaviest;
    return side.too_many || side.too_heavy;
  });
  return side;
}

/// R, and the pieces that its boards and pipes carry along, where R moves; the
/// first `own` vertices are R's.
struct OtherSide {
  std::vector<int> vertices;
  std::size_t own = 0;
};

/// The other side, or nothing once it weighs more than `limit` kg. Only where R
/// does not hold the room.
std::optional<OtherSide> collect_r(const SlidingPiece& s, double limit) {
  OtherSide other;
  std::unordered_set<int> seen;
  double mass = 0.0;
  const auto too_heavy_with = [&](int end) {
    if (seen.contains(end)) return false;
    return s.impl.explorer.walk(s.state, end, Without{.holes_along = s.d}, [&](int at) {
      seen.insert(at);
      other.vertices.push_back(at);
      mass += s.impl.part(at).mass;
      return mass > limit;
    });
  };
  for (const int end : s.r_ends) {
    if (too_heavy_with(end)) return std::nullopt;
  }
  other.own = other.vertices.size();
  for (std::size_t i = 0; i < other.vertices.size(); ++i) {
    const int v = other.vertices[i];
    for (const ContactId h : s.impl.contacts_at(v)) {
      const Contact& hole = s.impl.contact(h);
      if (!s.state.made(h) || !hole_like(hole.kind) || !parallel(hole.axis, s.d)) continue;
      const int beyond = s.impl.other_vertex(h, v);
      if (!s.impl.marked(beyond) && too_heavy_with(beyond)) return std::nullopt;
    }
  }
  return other;
}

/// One end of a contact, moved one way: what is known of it, and the place to
/// keep that.
struct OneWay {
  KnownSides* known = nullptr;
  ContactId end = kNone;  ///< two a contact
  bool along = false;     ///< along the contact's axis, not against it
};

/// K or R straight along d, whichever can and is lighter; nothing, with why
/// not, when the way is not free.
std::optional<Move> slid_straight(SlidingPiece& s, double k_mass, const std::optional<OneWay>& way, Attempt& attempt) {
  std::optional<Refusal> refusal;
  if (!way || way->known->of(s.state, way->end, way->along, s.k.size()) != KnownSides::Known::goes) {
    refusal = s.too_wide();
    if (!refusal) refusal = s.first_hit();
    // With the room in K what has left the others may hang in their way: nothing is kept of that.
    if (!refusal && way && !s.k_has_room) way->known->keep_going(s.state, way->end, way->along, s.k.size());
  }
  // K moves unless it holds the room. With the room in the cluster R holds it
  // otherwise, and K alone may move.
  std::optional<OtherSide> other;
  if (!refusal && !(s.cluster_has_room && !s.k_has_room)) {
    // R is walked only as far as it takes to know that it is the heavier side.
    other = collect_r(s, s.k_has_room ? std::numeric_limits<double>::infinity() : k_mass - 1e-9);
  }
  const Vec3 sweep = s.d.unit() * (other ? -s.travel : s.travel);
  if (!refusal && s.cluster_has_room) {
    std::vector<int> own;
    if (other) own.assign(other->vertices.begin(), other->vertices.begin() + static_cast<std::ptrdiff_t>(other->own));
    refusal = s.first_surface(other ? own : s.k, sweep);
  }
  if (refusal) {
    attempt.refusals.push_back(std::move(*refusal));
    return std::nullopt;
  }
  Move move;
  move.kind = MoveKind::slide;
  move.contacts = s.left_out;
  move.travel = sweep;
  s.impl.finish(s.state, move, other ? other->vertices : s.k);
  return move;
}

/// Keeps that the way is shut, by all the refusals from the first one on.
void keep_shut(Undoer::Impl& impl, const OneWay& way, std::vector<Refusal>& refusals, std::size_t first) {
  std::vector<ContactId> held_by;
  const auto begin = refusals.begin() + static_cast<std::ptrdiff_t>(first);
  for (auto refusal = begin; refusal != refusals.end(); ++refusal) {
    if (refusal->held_by.empty()) return;
    impl.once_each(refusal->held_by);
    held_by.insert(held_by.end(), refusal->held_by.begin(), refusal->held_by.end());
  }
  make_ascending(held_by);
  std::vector<Refusal> told(begin, refusals.end());
  way.known->keep_staying(way.end, way.along, std::move(held_by), std::move(told));
}

/// One call of slide.
struct SlideCase {
  Undoer::Impl& impl;
  const State& state;
  const ContactId c;
  const std::size_t cap;
  const std::vector<char>* const frozen;
  std::vector<Move>* const every_way;
  std::array<BothWays, 2>& both_ways;  ///< of the contact's first vertex and of its second
  const bool tells_why;  ///< else of ways that are known to be shut only what was told before, where that will do
  bool passed_over = false;
  std::optional<Move> best{};
  /// Mass of the lightest K that has turned out to go. What moves when the
  /// other side's K is asked is that K or an R that has this one in it, so a
  /// heavier K need not be walked to its end.
  double lightest = std::numeric_limits<double>::infinity();

  void run(Attempt& attempt) {
    const Contact& asked = impl.contact(c);
    for (const bool first : {true, false}) {
      const int seed = impl.list.vertex(first ? asked.a : asked.b);
      // K is the same both ways.
      const Without without{.holes_along = asked.axis};
      const double heaviest = every_way == nullptr ? lightest : std::numeric_limits<double>::infinity();
      const Side side = side_of(impl, state, seed, without, cap, heaviest);
      if (side.too_heavy) continue;
      if (side.too_many) {
        attempt.capped = true;
        continue;
      }
      impl.mark(side.vertices);
      for (const Direction d : {asked.axis, -asked.axis}) one_way(side, first, d, attempt);
    }
    if (!best) return;
    attempt.legal = true;
    attempt.move = std::move(*best);
  }

  [[nodiscard]] OneWay way_of(bool first, Direction d) const {
    return {&impl.known_slides, 2 * c + (first ? 0 : 1), d == impl.contact(c).axis};
  }

  void one_way(const Side& side, bool first, Direction d, Attempt& attempt) {
    std::optional<OneWay> way;
    if (impl.turn_hits.remembers()) way = way_of(first, d);
    if (!tells_why && way && way->known->of(state, way->end, way->along) == KnownSides::Known::stays) {
      const std::vector<Refusal>* told =
          impl.brief && AnyRefusal::will_do() ? way->known->told(way->end, way->along) : nullptr;
      if (told == nullptr) {
        passed_over = true;
      } else {
        attempt.refusals.insert(attempt.refusals.end(), told->begin(), told->end());
      }
      return;
    }
    const std::size_t told = attempt.refusals.size();
    SlidingPiece s{.impl = impl, .state = state, .kind = MoveKind::slide, .d = d, .k = side.vertices};
    s.both_ways = &both_ways[first ? 0 : 1];
    s.k_has_room = impl.marked(impl.list.room());
    s.cluster_has_room = state.holds_room(side.vertices.front());
    std::optional<Refusal> refusal =
        s.gather(c, frozen, [&](const Contact& hole, int) { return hole_like(hole.kind) && parallel(hole.axis, d); });
    const bool gathered = !refusal;
    std::optional<Move> move;
    bool straight = false;
    if (!gathered) {
      attempt.refusals.push_back(std::move(*refusal));
    } else {
      s.find_travel();
      move = slid_straight(s, side.mass, way, attempt);
      straight = move.has_value();
      if (!straight && first) move = slid_turned_aside(s, c, attempt);
    }
    if (!move) {
      // Nothing is kept of what only stays because another contact is to stay.
      if (way && (frozen == nullptr || gathered)) keep_shut(impl, *way, attempt.refusals, told);
      return;
    }
    put_first(move->contacts, c);
    if (every_way != nullptr) every_way->push_back(*move);
    // Only K that goes straight tells that the other side need not be asked.
    if (straight && move->travel == d.unit() * s.travel) lightest = std::min(lightest, move->mass);
    if (!best || move->mass < best->mass - 1e-9) best = std::move(move);
  }
};

}  // namespace

void Undoer::Impl::slide(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen,
                         Attempt& attempt, std::vector<Move>* every_way) {
  // Who gets every way is told why the others are shut; of one way that goes
  // nobody asks what else there was. Where any refusal will do, what was told
  // before is told again.
  std::array<BothWays, 2> both_ways;
  if (every_way == nullptr) {
    SlideCase quick{*this, state, c, cap, frozen, nullptr, both_ways, false};
    quick.run(attempt);
    if (attempt.legal || !quick.passed_over) return;
    attempt = {};
  }
  SlideCase{*this, state, c, cap, frozen, every_way, both_ways, true}.run(attempt);
}

}  // namespace dryfit::planner

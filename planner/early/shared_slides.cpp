#include "planner/early/shared_slides.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/early/hitting_parts.hpp"
#include "planner/moves/enters_surface.hpp"
#include "planner/moves/parting.hpp"

namespace dryfit::planner {

using model::Direction;
using model::Vec3;

namespace {

/// Of one way to part what has to be parted.
constexpr std::size_t kFewWays = 4;

}  // namespace

SharedSlides::SharedSlides(Undoer& undoer, std::vector<char> made, std::vector<char> free)
    : undoer_(&undoer),
      made_(std::move(made)),
      cuts_(undoer.list(), made_, std::move(free)),
      holes_of_(undoer.frame().boards.size()) {
  const ContactList& list = undoer.list();
  for (std::size_t c = 0; c < list.contacts.size(); ++c) {
    const Contact& contact = list.contacts[c];
    if (made_[c] == 0 || !hole_like(contact.kind)) continue;
    const int board = undoer.frame().part(contact.a).board;
    holes_of_[dryfit::at(board)].push_back(static_cast<ContactId>(c));
  }
}

int SharedSlides::least_before(int board, int other) {
  if (board == other) return 0;
  const std::pair<int, int> key = std::minmax(board, other);
  const auto found = known_.find(key);
  if (found != known_.end()) return found->second;
  int least = kNever;
  for (const ContactId c : holes_of_[dryfit::at(key.first)]) {
    for (const ContactId d : holes_of_[dryfit::at(key.second)]) {
      least = std::min(least, least_together(undoer_->list().contact(c), undoer_->list().contact(d)));
    }
  }
  known_.emplace(key, least);
  return least;
}

const SharedSlides::Needed& SharedSlides::needed(ContactId first, ContactId second) {
  const std::pair<ContactId, ContactId> key = std::minmax(first, second);
  const auto found = needed_.find(key);
  if (found != needed_.end()) return found->second;
  const ContactList& list = undoer_->list();
  return needed_.emplace(key, together(list.contact(key.first), list.contact(key.second))).first->second;
}

namespace {

/// More sets than this say little more.
constexpr std::size_t kMostSets = 24;

/// Either may be what happens.
void may_also(SharedSlides::Needed& all, SharedSlides::Needed other) {
  if (other.least == SharedSlides::kNever) return;
  if (all.least == SharedSlides::kNever) {
    all = std::move(other);
    return;
  }
  all.least = std::min(all.least, other.least);
  all.one_of_each = SharedSlides::either(all.one_of_each, other.one_of_each);
}

/// Both have to be.
void must_also(SharedSlides::Needed& all, const SharedSlides::Needed& other) {
  all.least = std::max(all.least, other.least);
  all.one_of_each.insert(all.one_of_each.end(), other.one_of_each.begin(), other.one_of_each.end());
}

}  // namespace

std::vector<std::vector<ContactId>> SharedSlides::either(const std::vector<std::vector<ContactId>>& some,
                                                         const std::vector<std::vector<ContactId>>& others) {
  std::vector<SetToMeet> sets;
  for (const auto& one : some) {
    for (const auto& other : others) {
      SetToMeet& both = sets.emplace_back();
      std::set_union(one.begin(), one.end(), other.begin(), other.end(), std::back_inserter(both.of));
    }
  }
  std::vector<std::vector<ContactId>> kept;
  for (SetToMeet& set : without_implied(std::move(sets))) {
    if (kept.size() < kMostSets) kept.push_back(std::move(set.of));
  }
  return kept;
}

int SharedSlides::least_together(const Contact& first, const Contact& second) {
  sets_asked_for_ = false;
  const int least = together(first, second).least;
  sets_asked_for_ = true;
  return least;
}

SharedSlides::Needed SharedSlides::together(const Contact& first, const Contact& second) {
  Needed all;
  for (const bool a : {true, false}) {
    for (const bool b : {true, false}) {
      if (parallel(first.axis, second.axis)) {
        for (const Direction way : {first.axis, -first.axis}) {
          may_also(all, taken(MoveKind::slide, way, first, second, a, b));
        }
      }
      if (first.kind != ContactKind::notch || second.kind != ContactKind::notch) continue;
      // A board moves away from its slot's open side, a pipe out of it.
      const Direction way = a ? -opening(first) : opening(first);
      if (way == (b ? -opening(second) : opening(second))) {
        may_also(all, taken(MoveKind::sideways, way, first, second, a, b));
      }
    }
  }
  return all;
}

double SharedSlides::travel(const Contact& hole, Direction way, bool board_moves) const {
  const Vec3 unit = way.unit();
  const model::Frame& frame = undoer_->frame();
  const model::Board& board = frame.board_of(hole.a);
  const model::Solid box = model::box(board.lo, board.hi);
  double ahead = 0.0, behind = 0.0;
  bool first = true;
  for (int i = undoer_->index().first(hole.b); i < undoer_->index().last(hole.b); ++i) {
    const model::Solid& pipe = undoer_->index().bodies()[dryfit::at(i)].solid;
    const double a = reach_along(pipe, unit), b = -reach_along(pipe, -unit);
    ahead = first ? a : std::max(ahead, a);
    behind = first ? b : std::min(behind, b);
    first = false;
  }
  return std::max(0.0, board_moves ? ahead + reach_along(box, -unit) : reach_along(box, unit) - behind);
}

bool SharedSlides::clear_of(PartId moved, PartId left, Vec3 sweep) const {
  const model::Frame& frame = undoer_->frame();
  const BodyIndex& index = undoer_->index();
  const auto board_of = [&](PartId p) { return frame.part(p).board; };
  const auto passes = [&](PartId board_part, int body) {
    const int line = index.line_of(body);
    if (line == model::kNone) return false;
    const model::Board& board = frame.board(board_of(board_part));
    const double across = 2.0 * index.bodies()[dryfit::at(body)].solid.radius;
    const auto& holes = index.holes_on(line);
    return std::any_of(holes.begin(), holes.end(), [&](const HoleOnLine& h) {
      return h.board == board_part && undoer_->list().goes_through(across, board.holes[dryfit::at(h.hole)].diameter);
    });
  };
  if (goes_apart(frame, undoer_->list(), moved, left, sweep)) return true;
  const double touch = touch_between(frame, undoer_->list(), moved, left);
  for (int i = index.first(moved); i < index.last(moved); ++i) {
    for (int k = index.first(left); k < index.last(left); ++k) {
      if (board_of(moved) != model::kNone && passes(moved, k)) continue;
      if (board_of(left) != model::kNone && passes(left, i)) continue;
      const auto& bodies = index.bodies();
      if (model::hits(bodies[dryfit::at(i)].thing(), bodies[dryfit::at(k)].thing(), sweep, touch)) return false;
    }
  }
  return true;
}

SharedSlides::Needed SharedSlides::taken(MoveKind kind, Direction way, const Contact& first, const Contact& second,
                                         bool a, bool b) const {
  Taken move{kind, way, a ? first.a : first.b, b ? second.a : second.b, a ? first.b : first.a, b ? second.b : second.a};
  if (move.from == move.left_by_to || move.to == move.left_by_from) return {};
  move.sweep = way.unit() * std::max(travel(first, way, a), travel(second, way, b));
  if (!goes_along(move, move.from) || !goes_along(move, move.to)) return {};
  Needed all = without_room(move);
  // What is pushed out of slots never holds the room.
  if (kind == MoveKind::slide) may_also(all, with_room(move));
  return all;
}

bool SharedSlides::goes_along(const Taken& move, int vertex) const {
  return vertex != move.left_by_from && vertex != move.left_by_to && clear_of(vertex, move.left_by_from, move.sweep) &&
         clear_of(vertex, move.left_by_to, move.sweep);
}

bool SharedSlides::lets_go(const Taken& move, const Contact& contact, int vertex) const {
  if (move.kind == MoveKind::slide) {
    return hole_like(contact.kind) && parallel(contact.axis, move.way);
  }
  return contact.kind == ContactKind::notch && opening(contact) == (contact.a == vertex ? -move.way : move.way);
}

SharedSlides::Spread SharedSlides::spread(const Taken& move, int from, const std::function<bool(int)>& goes) const {
  const ContactList& list = undoer_->list();
  Spread found{std::vector<char>(list.at.size(), 0), std::vector<char>(list.at.size(), 0)};
  std::vector<int> open{from};
  found.in[dryfit::at(from)] = 1;
  for (std::size_t i = 0; i < open.size(); ++i) {
    const int at = open[i];
    for (const ContactId c : list.at[dryfit::at(at)]) {
      const Contact& contact = list.contact(c);
      if (made_[dryfit::at(c)] == 0 || lets_go(move, contact, at)) continue;
      const int a = list.vertex(contact.a);
      const int next = a == at ? list.vertex(contact.b) : a;
      if (found.in[dryfit::at(next)] != 0 || found.blocked[dryfit::at(next)] != 0) continue;
      if (goes(next)) {
        found.in[dryfit::at(next)] = 1;
        open.push_back(next);
      } else {
        found.blocked[dryfit::at(next)] = 1;
      }
    }
  }
  return found;
}

SharedSlides::Needed SharedSlides::parted(const std::vector<int>& from, const std::vector<char>& blocked) const {
  Needed needed{cuts_.least(from, blocked), {}};
  if (sets_asked_for_) needed.one_of_each = cuts_.ways(from, blocked, kFewWays);
  return needed;
}

/// Vertices without which the two do not hang together: no way leads round one of these. `from` and `to` are in `k`.
std::vector<int> SharedSlides::between(const Taken& move, const Spread& k, int from, int to) const {
  const ContactList& list = undoer_->list();
  std::vector<int> by(list.at.size(), model::kNone), open{from};
  const auto each_next = [&](int v, const auto& visit) {
    for (const ContactId c : list.at[dryfit::at(v)]) {
      const Contact& contact = list.contact(c);
      const int a = list.vertex(contact.a), next = a == v ? list.vertex(contact.b) : a;
      if (made_[dryfit::at(c)] != 0 && k.in[dryfit::at(next)] != 0 && !lets_go(move, contact, v)) visit(next);
    }
  };
  by[dryfit::at(from)] = from;
  for (std::size_t i = 0; i < open.size(); ++i) {
    each_next(open[i], [&](int next) {
      if (by[dryfit::at(next)] != model::kNone) return;
      by[dryfit::at(next)] = open[i];
      open.push_back(next);
    });
  }
  std::vector<int> way{to};
  while (way.back() != from) way.push_back(by[dryfit::at(way.back())]);
  std::reverse(way.begin(), way.end());
  std::vector<int> place(list.at.size(), model::kNone);
  for (std::size_t i = 0; i < way.size(); ++i) place[dryfit::at(way[i])] = static_cast<int>(i);
  // From every place of the way, how far along it one gets without the next places.
  std::vector<int> needed;
  std::vector<char> seen(list.at.size(), 0);
  int farthest = 0;
  for (int i = 0; i < static_cast<int>(way.size()); ++i) {
    if (farthest == i) needed.push_back(way[dryfit::at(i)]);
    open = {way[dryfit::at(i)]};
    for (std::size_t j = 0; j < open.size(); ++j) {
      each_next(open[j], [&](int next) {
        farthest = std::max(farthest, place[dryfit::at(next)]);
        if (place[dryfit::at(next)] == model::kNone && std::exchange(seen[dryfit::at(next)], 1) == 0) {
          open.push_back(next);
        }
      });
    }
  }
  return needed;
}

SharedSlides::Needed SharedSlides::without_room(const Taken& move) const {
  const int room = undoer_->list().room();
  const auto goes = [&](int v) { return v != room && goes_along(move, v); };
  const Spread loose = spread(move, move.from, goes);
  if (loose.in[dryfit::at(move.to)] == 0) return {};
  // Nothing that hangs on it is held by the room ...
  std::vector<int> hanging = between(move, loose, move.from, move.to);
  Needed stays = parted(hanging, loose.blocked);
  // What stays on the other ends does not stand in the way.
  const auto clear = [&](int v) {
    return v == room ||
           (v != move.from && v != move.to && clear_of(move.from, v, move.sweep) && clear_of(move.to, v, move.sweep));
  };
  for (const int left : {move.left_by_from, move.left_by_to}) {
    must_also(stays, parted({left}, spread(move, left, clear).blocked));
  }
  hanging.insert(hanging.end(), {move.left_by_from, move.left_by_to});
  std::vector<char> held(loose.blocked.size(), 0);
  held[dryfit::at(room)] = 1;
  Needed all = parted(hanging, held);
  // ... or no surface may stop it.
  const auto enters = [&](int v) {
    return enters_surface(undoer_->frame(), undoer_->index(), v, move.sweep, undoer_->list().touch);
  };
  const Spread k = spread(move, move.from, [&](int v) { return goes(v) && !enters(v); });
  if (!enters(move.from) && !enters(move.to) && k.in[dryfit::at(move.to)] != 0) {
    may_also(all, parted(between(move, k, move.from, move.to), k.blocked));
  }
  must_also(all, stays);
  return all;
}

SharedSlides::Needed SharedSlides::with_room(const Taken& move) const {
  const int room = undoer_->list().room();
  const Spread k = spread(move, move.from, [&](int v) { return v == room || goes_along(move, v); });
  if (k.in[dryfit::at(move.to)] == 0 || k.in[dryfit::at(room)] == 0) return {};
  // The others move the other way, and no surface may stop them.
  const auto moves = [&](int v) {
    return v != room && v != move.from && v != move.to && clear_of(move.from, v, move.sweep) &&
           clear_of(move.to, v, move.sweep) &&
           !enters_surface(undoer_->frame(), undoer_->index(), v, -1.0 * move.sweep, undoer_->list().touch);
  };
  if (!moves(move.left_by_from) || !moves(move.left_by_to)) return {};
  const Spread one = spread(move, move.left_by_from, moves), other = spread(move, move.left_by_to, moves);
  if (!hang_together_without_k(move, one, other)) return {};
  std::vector<int> stays = between(move, k, move.from, move.to);
  const std::vector<int> up_to_room = between(move, k, move.from, room);
  stays.insert(stays.end(), up_to_room.begin(), up_to_room.end());
  Needed all = parted(stays, k.blocked);
  must_also(all, parted({move.left_by_from}, one.blocked));
  must_also(all, parted({move.left_by_to}, other.blocked));
  return all;
}

/// Both pieces move where they are one, or where what hangs in them joins them: that is carried along, and nobody asks
/// what it meets.
bool SharedSlides::hang_together_without_k(const Taken& move, const Spread& one, const Spread& other) const {
  const ContactList& list = undoer_->list();
  std::vector<char> seen = one.in;
  std::vector<int> open;
  for (int v = 0; v < list.room(); ++v) {
    if (seen[dryfit::at(v)] != 0) open.push_back(v);
  }
  for (std::size_t i = 0; i < open.size(); ++i) {
    const int v = open[i];
    if (other.in[dryfit::at(v)] != 0) return true;
    for (const ContactId c : list.at[dryfit::at(v)]) {
      const Contact& contact = list.contact(c);
      const int a = list.vertex(contact.a), next = a == v ? list.vertex(contact.b) : a;
      if (made_[dryfit::at(c)] == 0 || next == list.room() || next == move.from || next == move.to) continue;
      // Into either piece and out of it only by what lets go: what else hangs on it is in it or has been parted.
      const bool at_a_piece = one.in[dryfit::at(v)] != 0 || other.in[dryfit::at(next)] != 0;
      if (at_a_piece && !lets_go(move, contact, v)) continue;
      if (std::exchange(seen[dryfit::at(next)], 1) == 0) open.push_back(next);
    }
  }
  return false;
}

Direction SharedSlides::opening(const Contact& notch) const {
  return undoer_->frame().board_of(notch.a).holes[dryfit::at(notch.hole)].open;
}

}  // namespace dryfit::planner

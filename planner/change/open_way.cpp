#include "planner/change/open_way.hpp"

#include <algorithm>
#include <map>
#include <optional>
#include <set>
#include <utility>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/parting.hpp"

namespace dryfit::planner {
namespace {

/// Masses and costs that differ by less are equal, kg and s.
constexpr double kSameMass = 1e-9;

bool slides(const Move& move) {
  return move.kind == MoveKind::slide || move.kind == MoveKind::sideways || move.kind == MoveKind::take_away;
}

bool same_set(const Move& a, const Move& b) {
  return a.contacts.size() == b.contacts.size() &&
         std::is_permutation(a.contacts.begin(), a.contacts.end(), b.contacts.begin());
}

class OpenWays {
 public:
  OpenWays(Undoer& undoer, const UndoCost& cost, State state)
      : undoer_(undoer), cost_(cost), state_(std::move(state)), away_(undoer.frame().parts.size(), 0) {
    mark_elsewhere();
  }

  void go(Move& move) {
    std::optional<Move> other;
    if (move.kind == MoveKind::slide && !is_open(move)) other = open_way(move);
    if (move.kind == MoveKind::unscrew && cost_.raising(state_, move) > 0.0) other = lighter_side(move);
    if (other) move = *std::move(other);
    state_.undo(move.contacts);
    put_away(move);
  }

  /// The slide, or another way to undo the same contacts, meets nothing that is in its place.
  [[nodiscard]] bool is_free(const Move& move) { return is_open(move) || open_way(move).has_value(); }

 private:
  /// The lightest of the ways that are open, the shortest of those.
  [[nodiscard]] std::optional<Move> open_way(const Move& move) {
    std::optional<Move> best;
    const auto ask = [&](Move way) {
      const double more = best ? way.mass - best->mass : 0.0;
      if (best && (more > kSameMass || (more > -kSameMass && norm(way.travel) >= norm(best->travel)))) return;
      if (is_open(way)) best = std::move(way);
    };
    for (Move& way : undoer_.ways(state_, move.contacts.front())) {
      if (way.kind != move.kind || !same_set(way, move)) continue;
      if (std::optional<Move> other = turned_round(way)) ask(*std::move(other));
      ask(std::move(way));
    }
    return best;
  }

  /// The same, but what was held moves, with all that hangs on it, and what moved is held; nothing where the room is in
  /// it. Hits between the two are the same.
  [[nodiscard]] std::optional<Move> turned_round(const Move& move) const {
    const int cluster = state_.cluster(move.moving.front());
    if (state_.holds_room(move.moving.front())) return std::nullopt;
    Move other = move;
    other.travel = -move.travel;
    other.moving.clear();
    other.mass = 0.0;
    for (PartId p = 0; p < static_cast<PartId>(away_.size()); ++p) {
      if (state_.cluster(p) != cluster || std::binary_search(move.moving.begin(), move.moving.end(), p)) continue;
      other.moving.push_back(p);
      other.mass += undoer_.frame().part(p).mass;
    }
    other.holding.clear();
    for (const ContactId c : move.contacts) {
      const Contact& contact = undoer_.list().contact(c);
      const bool a_moved = std::binary_search(move.moving.begin(), move.moving.end(), contact.a);
      other.holding.push_back(a_moved ? contact.a : contact.b);
    }
    std::sort(other.holding.begin(), other.holding.end());
    other.holding.erase(std::unique(other.holding.begin(), other.holding.end()), other.holding.end());
    return other;
  }

  /// The other side of the thread, where that takes less.
  [[nodiscard]] std::optional<Move> lighter_side(const Move& move) {
    const double least = cost_.of(state_, move).cost;
    for (Move& way : undoer_.ways(state_, move.contacts.front())) {
      const bool other = way.kind == move.kind && same_set(way, move) && way.moving != move.moving;
      if (other && cost_.of(state_, way).cost < least) return std::move(way);
    }
    return std::nullopt;
  }

  /// What was never joined to the rest of what stands is being made up somewhere else.
  void mark_elsewhere() {
    std::map<int, std::size_t> sizes;
    for (std::size_t p = 0; p < away_.size(); ++p) ++sizes[state_.cluster(static_cast<int>(p))];
    const auto main =
        std::max_element(sizes.begin(), sizes.end(), [](const auto& a, const auto& b) { return a.second < b.second; });
    std::set<int> apart;
    for (const Contact& c : undoer_.list().contacts) {
      if (c.b == model::kRoom) continue;
      const int one = state_.cluster(c.a), other = state_.cluster(c.b);
      if (one != other) apart.insert({one, other});
    }
    apart.erase(main->first);
    for (std::size_t p = 0; p < away_.size(); ++p) {
      elsewhere_.push_back(apart.contains(state_.cluster(static_cast<int>(p))) ? 1 : 0);
    }
  }

  /// Nothing that moves meets what is in its place, but for what it leaves: that is the rule's.
  [[nodiscard]] bool is_open(const Move& move) const {
    const auto among = [](const std::vector<PartId>& parts, PartId p) {
      return std::binary_search(parts.begin(), parts.end(), p);
    };
    const BodyIndex& index = undoer_.index();
    std::vector<int> near;
    for (const PartId p : move.moving) {
      for (int i = index.first(p); i < index.last(p); ++i) {
        index.find(model::swept_bounds(index.bodies()[at(i)].solid, move.travel), near);
        for (const int k : near) {
          const PartId other = index.bodies()[at(k)].part;
          if (among(move.moving, other) || among(move.holding, other)) continue;
          const bool gone = away_[at(other)] != 0 || elsewhere_[at(other)] != elsewhere_[at(p)];
          if (gone && state_.cluster(other) != state_.cluster(p)) continue;
          if (meets(i, k, move.travel)) return false;
        }
      }
    }
    return true;
  }

  [[nodiscard]] bool meets(int moving, int standing, model::Vec3 sweep) const {
    const Body& a = undoer_.index().bodies()[at(moving)];
    const Body& b = undoer_.index().bodies()[at(standing)];
    const model::Frame& frame = undoer_.frame();
    const ContactList& list = undoer_.list();
    return !goes_apart(frame, list, a.part, b.part, sweep) &&
           model::hits(a.thing(), b.thing(), sweep, touch_between(frame, list, a.part, b.part));
  }

  /// What has come off is put aside, with all that hangs on it.
  void put_away(const Move& move) {
    if (move.moving.empty() || move.holding.empty()) return;
    const int gone = state_.cluster(move.moving.front());
    if (gone == state_.cluster(move.holding.front())) return;
    for (std::size_t p = 0; p < away_.size(); ++p) {
      if (state_.cluster(static_cast<int>(p)) == gone) away_[p] = 1;
    }
  }

  Undoer& undoer_;
  const UndoCost& cost_;
  State state_;
  std::vector<char> away_;       ///< per part: it no longer stands where the finished frame has it
  std::vector<char> elsewhere_;  ///< per part: it stood apart from the beginning
};

/// Puts what slides to where it first can, or later where something is in its way as long: a pipe is drawn out of its
/// board right after the joint that frees it, and each move is made by its open way.
class SlidesEarly {
 public:
  SlidesEarly(Undoer& undoer, const UndoCost& cost, State state)
      : undoer_(undoer), cost_(cost), state_(state), open_(undoer, cost, std::move(state)) {}

  /// Nothing where a move does not go so.
  std::optional<std::vector<Move>> of(std::vector<Move> left) {
    const Move* last = nullptr;
    while (!left.empty()) {
      const auto free = std::find_if(left.begin(), left.end(), [&](const Move& m) { return goes_now(m, left, last); });
      const auto next = free != left.end() ? free : not_shut(left);
      moved_ = moved_ || next != left.begin();
      std::optional<Move> move = moved_ ? asked_anew(*next) : std::optional(*next);
      if (!move) return std::nullopt;
      left.erase(next);
      open_.go(*move);
      state_.undo(move->contacts);
      out_.push_back(*std::move(move));
      last = &out_.back();
    }
    return std::move(out_);
  }

 private:
  /// The slide can be made, and the last move took something off its pipes or boards; at the beginning any that can.
  /// Pipes that are unscrewed later come out of their boards then.
  [[nodiscard]] bool goes_now(const Move& move, const std::vector<Move>& left, const Move* last) {
    if (!slides(move) || (last != nullptr && !meet(move, *last))) return false;
    const std::optional<Move> way = asked_anew(move);
    if (!way || !open_.is_free(*way)) return false;
    const auto is_board = [&](PartId p) { return undoer_.frame().part(p).kind == model::PartKind::board; };
    if (std::all_of(way->moving.begin(), way->moving.end(), is_board)) return true;
    return std::none_of(left.begin(), left.end(),
                        [&](const Move& later) { return later.kind == MoveKind::unscrew && meet(move, later); });
  }

  /// The first move; where that slides and meets what is in its place, the first that can be made and does not.
  [[nodiscard]] std::vector<Move>::iterator not_shut(std::vector<Move>& left) {
    if (!slides(left.front())) return left.begin();
    const auto open = std::find_if(left.begin(), left.end(), [&](const Move& m) {
      const std::optional<Move> way = asked_anew(m);
      return way && (!slides(m) || open_.is_free(*way));
    });
    return open == left.end() ? left.begin() : open;
  }

  [[nodiscard]] bool meet(const Move& a, const Move& b) const {
    const ContactList& list = undoer_.list();
    return std::any_of(a.contacts.begin(), a.contacts.end(), [&](ContactId c) {
      return std::any_of(b.contacts.begin(), b.contacts.end(), [&](ContactId d) {
        const Contact &one = list.contact(c), &other = list.contact(d);
        return one.a == other.a || one.a == other.b || one.b == other.a || (one.b == other.b && one.b != model::kRoom);
      });
    });
  }

  /// The same contacts in the state as it is now, by the way that costs least.
  [[nodiscard]] std::optional<Move> asked_anew(const Move& move) {
    std::optional<CostedMove> best;
    for (Move& way : undoer_.ways(state_, move.contacts.front())) {
      if (!same_set(way, move)) continue;
      CostedMove costed = cost_.of(state_, std::move(way));
      if (!best || costed.cost < best->cost - kSameMass) best = std::move(costed);
    }
    if (!best) return std::nullopt;
    return std::move(best->move);
  }

  Undoer& undoer_;
  const UndoCost& cost_;
  State state_;
  OpenWays open_;
  std::vector<Move> out_;
  bool moved_ = false;  ///< something comes earlier than it did
};

}  // namespace

void take_open_ways(Undoer& undoer, const UndoCost& cost, State state, std::vector<Move>& moves) {
  if (auto early = SlidesEarly(undoer, cost, state).of(moves)) {
    moves = *std::move(early);
    return;
  }
  OpenWays ways(undoer, cost, std::move(state));
  for (Move& move : moves) ways.go(move);
}

}  // namespace dryfit::planner

#include "planner/best/shorter_walk.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace dryfit::planner {
namespace {

constexpr double kReach = 450.0;    // mm up or down without another stance (common practice, no source)
constexpr double kStance = 300.0;   // mm to the side that the hands go without a step (common practice, no source)
constexpr double kWorth = 50.0;     // mm: a shorter walk than that is none
constexpr std::size_t kFar = 24;    // so far a move is looked for that could come earlier
constexpr std::size_t kMost = 400;  // exchanges, a bound on the work for frames of hundreds of parts

double between(const Place& a, const Place& b) {
  const double way = std::hypot(a.at.x - b.at.x, a.at.y - b.at.y);
  return way < kStance ? 0.0 : way;
}

class Walk {
 public:
  Walk(Undoer& undoer, const Effort& effort, const Handling& handling, BestOrder& best)
      : undoer_(undoer),
        effort_(effort),
        handling_(handling),
        moves_(best.undo_moves),
        choices_(best.choices),
        poses_(best.poses) {
    for (const Move& move : moves_) places_.push_back(place_of(undoer.list(), effort, move));
  }

  void shorten() {
    std::size_t exchanges = 0;
    for (bool shorter = true; shorter;) {
      shorter = false;
      State state(undoer_.list());
      for (std::size_t i = 0; i < moves_.size(); ++i) {
        // The best of the next moves to come here instead.
        std::size_t best = i;
        double saves = kWorth;
        for (std::size_t j = i + 1; exchanges < kMost && j < moves_.size() && j <= i + kFar; ++j) {
          if (!may_change(j) || !may_change(j - 1) || !one_work(state, i, j) || !one_pose(i, j)) break;
          if (too_low(i, j)) continue;
          const double saved = saved_by(i, j);
          if (saved > saves && goes_at(state, i, j) && needs_no_more_props(state, i, j)) {
            best = j;
            saves = saved;
          }
        }
        if (best != i) {
          rotate(moves_, i, best);
          rotate(choices_, i, best);
          rotate(places_, i, best);
          ++exchanges;
          shorter = true;
        }
        state.undo(moves_[i].contacts);
      }
    }
  }

 private:
  template <class T>
  static void rotate(std::vector<T>& all, std::size_t i, std::size_t j) {
    const auto at = [&](std::size_t k) { return all.begin() + static_cast<std::ptrdiff_t>(k); };
    std::rotate(at(i), at(j), at(j + 1));
  }

  [[nodiscard]] bool may_change(std::size_t k) const {
    return moves_[k].kind == MoveKind::unscrew && moves_[k].moving.size() == 1 && choices_[k].extra.total() <= 0.0 &&
           !choices_[k].weighed;
  }
  [[nodiscard]] bool one_work(const State& state, std::size_t i, std::size_t j) const {
    return state.cluster(moves_[i].moving.front()) == state.cluster(moves_[j].moving.front());
  }
  [[nodiscard]] bool one_pose(std::size_t i, std::size_t j) const {
    return std::all_of(poses_.of_move.begin() + static_cast<std::ptrdiff_t>(i),
                       poses_.of_move.begin() + static_cast<std::ptrdiff_t>(j),
                       [&](Pose pose) { return pose == poses_.of_move[j]; });
  }
  /// j first and then i to j - 1 leaves the work standing by itself as often as it did.
  [[nodiscard]] bool needs_no_more_props(const State& state, std::size_t i, std::size_t j) const {
    if (poses_.of_move[i] == Pose::laid) return true;
    const auto props = [&](bool changed) {
      State now = state;
      int count = 0;
      for (std::size_t n = i; n <= j; ++n) {
        const Move& move = moves_[!changed ? n : n == i ? j : n - 1];
        if (handling_.propped(handling_.piece_of(now, move), poses_.of_move[n])) ++count;
        now.undo(move.contacts);
      }
      return count;
    };
    return props(true) <= props(false);
  }
  /// Frames are taken apart from the top: j must not be far below anything that it would come before.
  [[nodiscard]] bool too_low(std::size_t i, std::size_t j) const {
    for (std::size_t k = i; k < j; ++k) {
      if (places_[k].at.z - places_[j].at.z > kReach) return true;
    }
    return false;
  }
  /// Way that is saved when j comes before i.
  [[nodiscard]] double saved_by(std::size_t i, std::size_t j) const {
    double saved = between(places_[j - 1], places_[j]) - between(places_[j], places_[i]);
    if (i > 0) saved += between(places_[i - 1], places_[i]) - between(places_[i - 1], places_[j]);
    if (j + 1 < places_.size()) saved += between(places_[j], places_[j + 1]) - between(places_[j - 1], places_[j + 1]);
    return saved;
  }
  /// j first and then i to j - 1 is legal from this state, with the same parts moving and still at no extra.
  [[nodiscard]] bool goes_at(State state, std::size_t i, std::size_t j) const {
    for (std::size_t k = j;; k = k == j ? i : k + 1) {
      if (k == j && !state.made(moves_[j].contacts.front())) return true;
      const std::vector<Move> ways = undoer_.ways(state, moves_[k].contacts.front());
      const bool goes = std::any_of(ways.begin(), ways.end(), [&](const Move& way) {
        return way.moving == moves_[k].moving && effort_.price(state, way).extra.total() <= 0.0;
      });
      if (!goes) return false;
      state.undo(moves_[k].contacts);
    }
  }

  Undoer& undoer_;
  const Effort& effort_;
  const Handling& handling_;
  std::vector<Move>& moves_;
  std::vector<StepChoice>& choices_;
  const PosePlan& poses_;      ///< the same before and after: what changes places is in one pose
  std::vector<Place> places_;  ///< of the moves
};

}  // namespace

double walk_of(const ContactList& list, const Effort& effort, const std::vector<Move>& undo_moves) {
  double walk = 0.0;
  for (std::size_t k = 1; k < undo_moves.size(); ++k) {
    walk += between(place_of(list, effort, undo_moves[k - 1]), place_of(list, effort, undo_moves[k]));
  }
  return walk;
}

void shorten_walk(Undoer& undoer, const Effort& effort, const Handling& handling, BestOrder& best) {
  Walk(undoer, effort, handling, best).shorten();
}

}  // namespace dryfit::planner

#include "planner/best/screws_together.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

constexpr double kSameEffort = 1e-9;

class Screws {
 public:
  Screws(Undoer& undoer, const Effort& effort, BestOrder& best)
      : undoer_(undoer), effort_(effort), moves_(best.undo_moves), choices_(best.choices) {}

  void gather() {
    State state(undoer_.list());
    for (std::size_t i = 0; i < moves_.size(); ++i) {
      if (into_the_room(i)) {
        const std::size_t next = next_of_its_piece(state, i);
        if (next > i + 1 && goes_before(state, i, next)) {
          forget_why(i, next);
          rotate(moves_, i, next);
          rotate(choices_, i, next);
          --i;  // another move stands here now
          continue;
        }
      }
      state.undo(moves_[i].contacts);
    }
  }

 private:
  /// i comes to stand just before `next`.
  template <class T>
  static void rotate(std::vector<T>& all, std::size_t i, std::size_t next) {
    const auto at = [&](std::size_t k) { return all.begin() + static_cast<std::ptrdiff_t>(k); };
    std::rotate(at(i), at(i + 1), at(next));
  }

  /// What was weighed at a place that the move leaves, or against that move, is no reason any more.
  void forget_why(std::size_t i, std::size_t next) {
    choices_[i].weighed = false;
    for (std::size_t k = i + 1; k < next; ++k) {
      const std::vector<ContactId>& instead = choices_[k].instead;
      const ContactId moved = moves_[i].contacts.front();
      if (std::find(instead.begin(), instead.end(), moved) != instead.end()) choices_[k].weighed = false;
    }
  }

  [[nodiscard]] bool into_the_room(std::size_t k) const {
    return moves_[k].kind == MoveKind::unfasten && undoer_.list().contact(moves_[k].contacts.front()).b == model::kRoom;
  }

  /// What is joined to the part, the room left out: not nought per part of it.
  [[nodiscard]] std::vector<char> piece_at(const State& state, PartId part) const {
    std::vector<char> on_it(undoer_.list().at.size(), 0);
    std::vector<PartId> open{part};
    on_it[at(part)] = 1;
    while (!open.empty()) {
      const PartId here = open.back();
      open.pop_back();
      for (const ContactId c : undoer_.list().at[at(here)]) {
        const Contact& contact = undoer_.list().contact(c);
        const PartId next = contact.a == here ? contact.b : contact.a;
        if (!state.made(c) || next == model::kRoom || on_it[at(next)] != 0) continue;
        on_it[at(next)] = 1;
        open.push_back(next);
      }
    }
    return on_it;
  }

  /// The next move that takes screws of the same piece out of the room, when all before it are of other pieces; else i.
  [[nodiscard]] std::size_t next_of_its_piece(const State& state, std::size_t i) const {
    const std::vector<char> piece = piece_at(state, undoer_.list().contact(moves_[i].contacts.front()).a);
    for (std::size_t k = i + 1; k < moves_.size(); ++k) {
      bool touches = false;
      for (const ContactId c : moves_[k].contacts) {
        const Contact& contact = undoer_.list().contact(c);
        for (const PartId p : {contact.a, contact.b}) touches |= p != model::kRoom && piece[at(p)] != 0;
      }
      if (touches) return into_the_room(k) ? k : i;
    }
    return i;
  }

  /// All moves up to `next` and then i are as legal from this state as they were, with the same parts moving, and cost
  /// the same.
  [[nodiscard]] bool goes_before(State state, std::size_t i, std::size_t next) const {
    for (std::size_t n = i + 1; n <= next; ++n) {
      const std::size_t k = n == next ? i : n;
      const std::vector<Move> ways = undoer_.ways(state, moves_[k].contacts.front());
      const bool goes = std::any_of(ways.begin(), ways.end(), [&](const Move& way) {
        return way.contacts == moves_[k].contacts && way.moving == moves_[k].moving &&
               std::abs(effort_.price(state, way).extra.total() - choices_[k].extra.total()) < kSameEffort;
      });
      if (!goes) return false;
      state.undo(moves_[k].contacts);
    }
    return true;
  }

  Undoer& undoer_;
  const Effort& effort_;
  std::vector<Move>& moves_;
  std::vector<StepChoice>& choices_;
};

}  // namespace

void drive_screws_together(Undoer& undoer, const Effort& effort, BestOrder& best) {
  Screws(undoer, effort, best).gather();
}

}  // namespace dryfit::planner

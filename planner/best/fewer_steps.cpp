#include "planner/best/fewer_steps.hpp"

#include <algorithm>
#include <optional>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

constexpr double kNoMore = 1e-9;
constexpr long long kMostAsked = 3'000;  // questions, a bound on the work for frames of hundreds of parts

std::vector<ContactId> sorted(std::vector<ContactId> contacts) {
  std::sort(contacts.begin(), contacts.end());
  return contacts;
}

bool is_slide(const Move& move) {
  return move.kind == MoveKind::slide || move.kind == MoveKind::sideways || move.kind == MoveKind::swing;
}

class FewerSteps {
 public:
  FewerSteps(Undoer& undoer, const Effort& effort, const Handling& handling, BestOrder& best)
      : undoer_(undoer), effort_(effort), handling_(handling), best_(best) {}

  void make() {
    while (made_one()) {
    }
  }

 private:
  [[nodiscard]] bool made_one() {
    State state(undoer_.list());
    for (std::size_t i = 0; i < best_.undo_moves.size(); ++i) {
      for (std::size_t j = i + 1; is_slide(best_.undo_moves[i]) && j < best_.undo_moves.size(); ++j) {
        if (!is_slide(best_.undo_moves[j]) || !share_board(i, j)) continue;
        if (auto fewer = in_one_go(state, i, j)) {
          best_ = std::move(*fewer);
          return true;
        }
      }
      state.undo(best_.undo_moves[i].contacts);
    }
    return false;
  }

  [[nodiscard]] bool share_board(std::size_t i, std::size_t j) const {
    const ContactList& list = undoer_.list();
    for (const ContactId one : best_.undo_moves[i].contacts) {
      for (const ContactId other : best_.undo_moves[j].contacts) {
        if (list.contact(one).a == list.contact(other).a) return true;
      }
    }
    return false;
  }

  /// The order with i and j as one move, made as soon as it can be; nothing where it cannot, or where it costs more.
  [[nodiscard]] std::optional<BestOrder> in_one_go(State state, std::size_t i, std::size_t j) {
    std::vector<ContactId> both = best_.undo_moves[i].contacts;
    both.insert(both.end(), best_.undo_moves[j].contacts.begin(), best_.undo_moves[j].contacts.end());
    std::vector<PricedMove> done;
    for (std::size_t k = i; k < j; ++k) {
      if (k > i) {
        auto moved = asked(state, best_.undo_moves[k].contacts, &best_.undo_moves[k].moving);
        if (!moved) return std::nullopt;
        state.undo(moved->move.contacts);
        done.push_back(std::move(*moved));
      }
      if (auto one = asked(state, both, nullptr)) {
        if (k > i && drops_a_pipe(state, both, i)) return std::nullopt;
        if (auto fewer = with(state, done, std::move(*one), i, k, j)) return fewer;
      }
    }
    return std::nullopt;
  }

  /// A pipe of move i is joined to nothing once `both` are undone: made there and not at i, it would hang in its hole
  /// all the longer.
  [[nodiscard]] bool drops_a_pipe(State state, const std::vector<ContactId>& both, std::size_t i) const {
    state.undo(both);
    const ContactList& list = undoer_.list();
    const auto& of_i = best_.undo_moves[i].contacts;
    return std::any_of(of_i.begin(), of_i.end(), [&](ContactId c) {
      const std::vector<ContactId>& on_pipe = list.at[at(list.contact(c).b)];
      return std::none_of(on_pipe.begin(), on_pipe.end(), [&](ContactId k) { return state.made(k); });
    });
  }

  /// The rest of the way to j after `done` and `one`.
  [[nodiscard]] std::optional<BestOrder> with(State state, std::vector<PricedMove> done, PricedMove one, std::size_t i,
                                              std::size_t k, std::size_t j) {
    state.undo(one.move.contacts);
    const std::size_t place = done.size();
    done.push_back(std::move(one));
    for (std::size_t n = k + 1; n < j; ++n) {
      auto moved = asked(state, best_.undo_moves[n].contacts, &best_.undo_moves[n].moving);
      if (!moved) return std::nullopt;
      state.undo(moved->move.contacts);
      done.push_back(std::move(*moved));
    }
    return if_as_light(std::move(done), place, i, j);
  }

  [[nodiscard]] std::optional<BestOrder> if_as_light(std::vector<PricedMove> done, std::size_t place, std::size_t i,
                                                     std::size_t j) const {
    BestOrder other = best_;
    const auto from = [](auto& all, std::size_t k) { return all.begin() + static_cast<std::ptrdiff_t>(k); };
    other.undo_moves.erase(from(other.undo_moves, i), from(other.undo_moves, j + 1));
    other.choices.erase(from(other.choices, i), from(other.choices, j + 1));
    // What was weighed here was weighed where the board was on other pipes.
    for (std::size_t n = 0; n < done.size(); ++n) {
      StepChoice choice;
      if (n != place) choice = best_.choices[n < place ? i + 1 + n : i + n];
      choice.weighed = choice.weighed && n != place;
      choice.extra = done[n].extra;
      other.choices.insert(from(other.choices, i + n), choice);
      other.undo_moves.insert(from(other.undo_moves, i + n), std::move(done[n].move));
    }
    other.poses = plan_poses(handling_, undoer_.list(), other.undo_moves);
    if (weight(other) > weight(best_) + kNoMore) return std::nullopt;
    return other;
  }

  /// The lightest way to undo just these contacts; of equal ones that which moves `as_before`.
  [[nodiscard]] std::optional<PricedMove> asked(const State& state, const std::vector<ContactId>& contacts,
                                                const std::vector<PartId>* as_before) {
    std::optional<PricedMove> lightest;
    if (++asked_ > kMostAsked) return lightest;
    const std::vector<ContactId> wanted = sorted(contacts);
    for (const Move& way : undoer_.ways(state, contacts.front())) {
      if (sorted(way.contacts) != wanted) continue;
      for (PricedMove& priced : effort_.price_both_ways(state, way)) {
        const double more = lightest ? priced.extra.total() - lightest->extra.total() : -1.0;
        const bool same = as_before != nullptr && priced.move.moving == *as_before;
        if (more < -kNoMore || (more <= kNoMore && same)) lightest = std::move(priced);
      }
    }
    return lightest;
  }

  [[nodiscard]] static double weight(const BestOrder& order) {
    double sum = order.poses.weight();
    for (const StepChoice& choice : order.choices) sum += choice.extra.total();
    return sum;
  }

  Undoer& undoer_;
  const Effort& effort_;
  const Handling& handling_;
  BestOrder& best_;
  long long asked_ = 0;
};

}  // namespace

void make_fewer_steps(Undoer& undoer, const Effort& effort, const Handling& handling, BestOrder& best) {
  FewerSteps(undoer, effort, handling, best).make();
}

}  // namespace dryfit::planner

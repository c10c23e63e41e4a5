#include "planner/early/fewest.hpp"

#include <algorithm>
#include <set>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/early/few_slides.hpp"
#include "planner/early/fewest_search.hpp"
#include "planner/early/goals.hpp"
#include "planner/early/hold_sets.hpp"
#include "planner/moves/any_refusal.hpp"
#include "planner/peel/holds.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

/// Work for one smallest set that breaks all holds, in nodes of its search.
constexpr long long kHittingSetNodes = 20000;
/// Of more holds than that the smallest set takes seconds. While holds are still missing any small set does as well;
/// only what seems to do is held against a smaller one, with so much work and so many times.
constexpr std::size_t kManyHolds = 64;
constexpr long long kAnySet = -1;
constexpr long long kSmallerSetNodes = 4000;
constexpr int kSmallerSets = 3;
constexpr int kTightenedPart = 8;  // of the contacts, that count as asked for
/// Work for bounds of states one by one (HoldSets::bound_work).
constexpr long long kBoundWork = 8'000'000;

std::vector<char> flags(std::size_t contacts, const std::vector<ContactId>& set) {
  std::vector<char> marked(contacts, 0);
  for (const ContactId c : set) marked[at(c)] = 1;
  return marked;
}

class Fewest {
 public:
  Fewest(Undoer& undoer, const State& from, const Wanted& wanted, long long budget, FewestLore& lore, Foreman* foreman)
      : undoer_(undoer),
        from_(from),
        free_(flags(from.all().size(), wanted.free)),
        lore_(lore),
        memory_(lore.refusals),
        goals_(from, wanted),
        holds_(undoer, from, free_),
        start_(undoer.work().attempts),
        budget_(budget),
        foreman_(foreman) {
    for (const Hold& goal : goals_.all()) {
      if (free_[at(goal.of.front())] == 0) holds_.add(goal);
    }
    for (const Hold& hold : lore.holds) add_known(hold);
  }

  FewestMoves run() {
    const AnyRefusal will_do;
    FewestMoves result;
    try_way(lore_.way);
    if (!break_holds()) return result;
    // So far every board counted as a move of its own. Several may leave in one move; that matters only where the
    // moves which such a one takes are fewer than the best way found.
    at_least_ = 0;
    holds_.let_share(cost_);
    if (!break_holds()) return result;
    if (at_least_ < cost_) close_gap();
    result.possible = true;
    result.cost = cost_;
    // Elements that were left apart can only matter to ways that cost no less than the one found.
    result.at_least = std::min(at_least_, cost_);
    result.moves = std::move(best_);
    result.holds = lore_.holds = holds_.all();
    lore_.way.clear();
    for (const Move& move : result.moves) lore_.way.insert(lore_.way.end(), move.contacts.begin(), move.contacts.end());
    result.tries = spent();
    result.states = states_;
    return result;
  }

 private:
  [[nodiscard]] long long spent() const { return undoer_.work().attempts - start_; }
  /// Counts as much against the budget whatever is known already: a part of a peeling, most of which is known.
  [[nodiscard]] std::vector<ContactId> tightened(const State& state, const std::vector<ContactId>& hold) {
    const long long before = undoer_.work().attempts;
    std::vector<ContactId> breaking = lore_.knots->tightened(undoer_, state, hold);
    start_ += undoer_.work().attempts - before - state.count() / kTightenedPart;
    return breaking;
  }
  [[nodiscard]] bool goes_on() {
    if (!ended_) ended_ = spent() > budget_ || !may_go_on(foreman_, spent(), budget_);
    return !ended_;
  }
  [[nodiscard]] bool is_free(const std::vector<ContactId>& move) const {
    return std::all_of(move.begin(), move.end(), [&](ContactId c) { return free_[at(c)] != 0; });
  }
  [[nodiscard]] int cost_of(const std::vector<std::vector<ContactId>>& way) const {
    return static_cast<int>(
        std::count_if(way.begin(), way.end(), [&](const std::vector<ContactId>& move) { return !is_free(move); }));
  }

  /// What is gone already is not asked for again.
  void add_known(Hold hold) {
    if (!std::all_of(hold.of.begin(), hold.of.end(), [&](ContactId c) { return from_.made(c); })) return;
    if (!hold.always() && !from_.made(hold.once_gone)) hold.once_gone = model::kNone;
    holds_.add(hold);
  }

  /// Undoes nothing but these, as far as they go, and keeps that if it is a way.
  void try_way(const std::vector<ContactId>& undo) {
    if (undo.empty()) return;
    std::vector<char> frozen(free_.size(), 1);
    for (const ContactId c : undo) frozen[at(c)] = 0;
    Peeler trial(undoer_, from_, std::move(frozen), &memory_);
    trial.run();
    if (!goals_.open(trial.state())) keep_best_of(trial.undone());
  }

  /// Everything is frozen but what costs nothing and what is picked.
  Peeler peeled(const std::set<int>& picked) {
    std::vector<char> frozen(free_.size());
    for (std::size_t c = 0; c < frozen.size(); ++c) frozen[c] = static_cast<char>(free_[c] == 0);
    Peeler trial(undoer_, from_, std::move(frozen), &memory_);
    for (ContactId c = 0; c < static_cast<ContactId>(free_.size()); ++c) {
      if (!from_.made(c) || free_[at(c)] != 0 || goals_.keeps(c)) continue;
      if (holds_.picked(c, picked)) trial.release(c);
    }
    trial.run();
    return trial;
  }

  /// Finds holds until the smallest way to break them all leads to a state as wanted. False when nothing ever does.
  bool break_holds() {
    int smaller = 0;  // sets asked for
    for (bool any = true;;) {
      const bool few = holds_.all().size() < kManyHolds;
      const HittingSet hitting = holds_.smallest(few ? kHittingSetNodes : any ? kAnySet : kSmallerSetNodes);
      at_least_ = std::max(at_least_, hitting.at_least);
      if (found_ && (at_least_ >= cost_ || !goes_on())) return true;
      Peeler trial = peeled({hitting.elements.begin(), hitting.elements.end()});
      ++states_;
      auto hold = goals_.next_hold(trial);
      if (!hold) {
        keep_best_of(trial.undone());
        if (hitting.proven || few || !any || ++smaller > kSmallerSets) return true;
        any = false;
        continue;
      }
      any = true;
      bool told_more = false, shut = false;
      // Holds that have nothing in common, until all of them together would do.
      while (hold) {
        // A peeling each time, and worth it: a hold as first told is wide, and wide ones say little.
        if (hold->of.size() > 1) hold->of = tightened(trial.state(), hold->of);
        std::erase_if(hold->of, [&](ContactId c) { return goals_.keeps(c); });
        if (hold->of.empty() && hold->always()) return false;
        if (hold->of.empty()) {  // what asks for that must not go itself: from the beginning, without it
          goals_.keep(hold->once_gone);
          shut = true;
          break;
        }
        told_more |= holds_.add(*hold);
        for (const ContactId c : hold->of) trial.release(c);
        trial.run();
        hold = goals_.next_hold(trial);
      }
      if (shut) continue;
      // Undoing a contact of every hold known is a way, if not a short one.
      if (!told_more || !goes_on()) {
        if (!found_) keep_best_of(trial.undone());
        return true;
      }
    }
  }

  /// Leaves out moves, last first, that are not needed.
  std::vector<std::vector<ContactId>> trimmed(std::vector<std::vector<ContactId>> moves) {
    std::vector<char> frozen(free_.size(), 1);
    for (const auto& move : moves) {
      for (const ContactId c : move) frozen[at(c)] = 0;
    }
    std::vector<std::vector<ContactId>> best = moves;
    for (auto move = moves.rbegin(); move != moves.rend() && spent() <= 2 * budget_; ++move) {
      std::vector<char> more = frozen;
      for (const ContactId c : *move) more[at(c)] = 1;
      Peeler peeler(undoer_, from_, more, &memory_);
      peeler.run();
      if (goals_.open(peeler.state())) continue;
      frozen = std::move(more);
      best = peeler.undone();
    }
    return cost_of(best) <= cost_of(moves) ? best : moves;
  }

  /// What is needed of the moves, as it was found and in as few slides as it goes.
  void keep_best_of(std::vector<std::vector<ContactId>> found) {
    const std::vector<std::vector<ContactId>> needed = trimmed(std::move(found));
    keep(needed);
    std::vector<char> undo(free_.size(), 0);
    bool slides = false;
    for (const auto& move : needed) {
      for (const ContactId c : move) {
        undo[at(c)] = 1;
        slides |= !takes_own_move(undoer_.list().contact(c).kind);
      }
    }
    if (!slides || cost_ <= at_least_) return;
    const auto few = in_few_slides(undoer_, from_, undo, memory_);
    if (!few.empty()) keep(few);
  }

  /// Replays sets of contacts as moves and keeps them when they are the best so far.
  void keep(const std::vector<std::vector<ContactId>>& sets) {
    const int cost = cost_of(sets);
    if (found_ && std::pair(cost_, best_.size()) <= std::pair(cost, sets.size())) return;
    found_ = true;
    cost_ = cost;
    best_.clear();
    State state = from_;
    for (const auto& set : sets) best_.push_back(take(state, set));
  }
  Move take(State& state, const std::vector<ContactId>& set) {
    const std::set<ContactId> wanted(set.begin(), set.end());
    for (Move& move : undoer_.ways(state, set.front())) {
      if (std::set<ContactId>(move.contacts.begin(), move.contacts.end()) != wanted) continue;
      state.undo(move.contacts);
      return std::move(move);
    }
    Move move;  // cannot be: the peeler has just made this very move
    move.contacts = set;
    state.undo(set);
    return move;
  }

  void close_gap() {
    const auto searched = search_states(undoer_, from_, free_, goals_, holds_, cost_,
                                        [&] { return goes_on() && holds_.bound_work() < kBoundWork; });
    states_ += searched.states;
    at_least_ = std::max(at_least_, searched.at_least);
    if (searched.found) keep(searched.way);
  }

  Undoer& undoer_;
  const State& from_;
  std::vector<char> free_;  ///< per contact
  FewestLore& lore_;
  RefusalMemory& memory_;
  Goals goals_;
  HoldSets holds_;
  long long start_;  ///< moves asked for by then, and since then beside the budget
  long long budget_;
  Foreman* foreman_;
  bool ended_ = false;
  long long states_ = 0;
  bool found_ = false;
  std::vector<Move> best_;
  int cost_ = 0;
  int at_least_ = 0;
};

}  // namespace

FewestMoves fewest_moves(Undoer& undoer, const State& from, const Wanted& wanted, long long budget,
                         const RefusalMemory* known, Foreman* foreman, std::shared_ptr<Knots> knots) {
  FewestLore lore(from.all().size(), std::move(knots));
  if (known != nullptr) lore.refusals = *known;
  return fewest_moves(undoer, from, wanted, budget, lore, foreman);
}

FewestMoves fewest_moves(Undoer& undoer, const State& from, const Wanted& wanted, long long budget, FewestLore& lore,
                         Foreman* foreman) {
  return Fewest(undoer, from, wanted, budget, lore, foreman).run();
}

FewestMoves fewest_moves(Undoer& undoer, const State& from, const std::vector<ContactId>& gone, long long budget,
                         const RefusalMemory* known) {
  return fewest_moves(undoer, from, Wanted{gone, {}, {}}, budget, known);
}

}  // namespace dryfit::planner

#include "planner/change/change.hpp"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/change/completion.hpp"
#include "planner/change/effort_search.hpp"
#include "planner/change/open_way.hpp"
#include "planner/change/undo_cost.hpp"
#include "planner/early/fewest.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {

using model::kNone;

namespace {

/// Undo moves asked for per state of the budget: about what a search of three seconds comes to.
constexpr long long kTriesPerState = 8;

}  // namespace

struct Changer::Inside {
  const ContactList& old_list;
  const model::Frame& new_frame;
  const ContactList& new_list;
  const Matching& matching;
  ChangePrice by;
  Undoer old_undoer;
  Undoer new_undoer;
  Completion completion;
  UndoCost cost, new_cost;
  std::vector<ContactId> new_knot;
  std::vector<char> known_from;  ///< where the last plan began; empty: there was none
  FewestLore lore;

  Inside(const model::Frame& of, const ContactList& ol, const model::Frame& nf, const ContactList& nl,
         const Matching& m, ChangePrice what, int people)
      : old_list(ol),
        new_frame(nf),
        new_list(nl),
        matching(m),
        by(what),
        old_undoer(of, ol),
        new_undoer(nf, nl),
        completion(new_undoer, m),
        cost(old_undoer, people),
        new_cost(new_undoer, people),
        lore(ol.contacts.size()) {
    State state(new_list);
    new_knot = peel(new_undoer, state).remaining;
  }

  struct Found {
    std::vector<Move> moves;
    Bounded price;
    long long states = 0;
  };

  [[nodiscard]] bool is_good(const State& state) {
    for (ContactId c = 0; c < static_cast<ContactId>(matching.kept_as.size()); ++c) {
      if (state.made(c) && matching.kept_as[at(c)] == kNone) return false;
    }
    return !completion.unmet(state);
  }

  /// The fewest moves: what the new design lacks has to go, and whatever it cannot be completed with.
  FewestMoves fewest(const std::vector<char>& built, long long budget, Foreman* foreman) {
    Wanted wanted;
    for (std::size_t c = 0; c < built.size(); ++c) {
      if (built[c] != 0 && matching.kept_as[c] == kNone) wanted.gone.push_back(static_cast<ContactId>(c));
    }
    wanted.unmet = [&](const State& state) { return completion.unmet(state); };
    // What was found out is true wherever less is built.
    const auto more = [](char now, char then) { return now != 0 && then == 0; };
    if (!std::equal(built.begin(), built.end(), known_from.begin(), known_from.end(),
                    [&](char now, char then) { return !more(now, then); })) {
      lore.holds.clear();
      lore.way.clear();
    }
    known_from = built;
    FewestMoves found =
        fewest_moves(old_undoer, State(old_list, built), wanted, budget * kTriesPerState, lore, foreman);
    if (!found.possible) {
      throw std::invalid_argument("what is built does not come apart as far as the change needs");
    }
    return found;
  }

  Found by_moves(const std::vector<char>& built, long long budget, Foreman* foreman) {
    FewestMoves found = fewest(built, budget, foreman);
    return {
        std::move(found.moves), {static_cast<double>(found.at_least), static_cast<double>(found.cost)}, found.states};
  }

  /// The fewest moves are a ceiling for the least effort, and their holds a bound for every state.
  Found by_effort(const std::vector<char>& built, long long budget, Foreman* foreman) {
    FewestMoves fewest_way = fewest(built, budget, foreman);
    Found found;
    State state(old_list, built);
    for (Move& move : fewest_way.moves) {
      CostedMove cheapest = cheapest_way(state, move);
      found.price.at_most += cheapest.cost;
      state.undo(cheapest.move.contacts);
      found.moves.push_back(std::move(cheapest.move));
    }
    found.states = fewest_way.states;
    if (found.moves.empty()) return found;
    EffortTask task;
    task.built = built;
    task.holds = &fewest_way.holds;
    task.is_good = [&](const State& made) { return is_good(made); };
    task.below = found.price.at_most;
    task.budget = budget;
    task.foreman = foreman;
    SearchedEffort searched = search_effort(cost, old_list, task);
    found.states += searched.states;
    found.price.at_least = std::min(searched.at_least, found.price.at_most);
    if (searched.found) {
      found.moves = std::move(searched.moves);
      found.price = {searched.effort, searched.effort};
    }
    return found;
  }

  /// The move as given, or the other side of the same thread turned instead.
  CostedMove cheapest_way(const State& state, const Move& move) {
    CostedMove best = cost.of(state, move);
    std::vector<ContactId> wanted = move.contacts;
    std::sort(wanted.begin(), wanted.end());
    for (Move& way : old_undoer.ways(state, move.contacts.front())) {
      std::vector<ContactId> contacts = way.contacts;
      std::sort(contacts.begin(), contacts.end());
      if (contacts != wanted) continue;
      CostedMove other = cost.of(state, std::move(way));
      if (other.cost < best.cost) best = std::move(other);
    }
    return best;
  }
};

Changer::Changer(const model::Frame& old_frame, const ContactList& old_list, const model::Frame& new_frame,
                 const ContactList& new_list, const Matching& matching, ChangePrice by, int people)
    : inside_(std::make_unique<Inside>(old_frame, old_list, new_frame, new_list, matching, by, people)) {}
Changer::~Changer() = default;

ChangePlan Changer::price(const std::vector<char>& built, long long budget, Foreman* foreman) {
  Inside& in = *inside_;
  ChangePlan plan;
  if (!in.new_knot.empty()) {
    plan.verdict = ChangePlan::Verdict::locked;
    plan.knot = in.new_knot;
    return plan;
  }
  Inside::Found found =
      in.by == ChangePrice::moves ? in.by_moves(built, budget, foreman) : in.by_effort(built, budget, foreman);
  plan.undo = std::move(found.moves);
  plan.price = found.price;
  plan.states = found.states;
  // Even an unproven plan needs a teardown when its lower bound says so.
  plan.verdict = plan.undo.empty()                                ? ChangePlan::Verdict::free
                 : plan.price.proven() || plan.price.at_least > 0 ? ChangePlan::Verdict::teardown
                                                                  : ChangePlan::Verdict::undecided;
  return plan;
}

ChangePlan Changer::plan(const std::vector<char>& built, long long budget, Foreman* foreman) {
  Inside& in = *inside_;
  ChangePlan plan = price(built, budget, foreman);
  if (plan.verdict == ChangePlan::Verdict::locked) return plan;
  take_open_ways(in.old_undoer, in.cost, State(in.old_list, built), plan.undo);
  std::vector<char> made = built;
  for (const Move& move : plan.undo) {
    for (const ContactId c : move.contacts) {
      made[at(c)] = 0;
      if (in.matching.kept_as[at(c)] != kNone) plan.remake.push_back(c);
    }
  }
  std::sort(plan.remake.begin(), plan.remake.end());
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] != 0) plan.kept.push_back(static_cast<ContactId>(c));
  }
  const std::vector<char> kept = in.completion.image(made);
  State state(in.new_list);
  Peeling peeling = peel(in.new_undoer, state, &kept);
  take_open_ways(in.new_undoer, in.new_cost, State(in.new_list), peeling.moves);
  plan.then = steps_of(in.new_frame, in.new_list, peeling.moves);
  return plan;
}

std::vector<PriceAt> price_by_step(Changer& changer, const ContactList& old_list,
                                   const std::vector<std::vector<ContactId>>& steps, long long budget_each,
                                   Foreman* foreman) {
  // From the end on: what is found out for all that is built serves wherever less is.
  std::vector<PriceAt> curve(steps.size() + 1);
  std::vector<char> built(old_list.contacts.size(), 0);
  for (const auto& step : steps) {
    for (const ContactId c : step) built[at(c)] = 1;
  }
  for (std::size_t k = steps.size() + 1; k-- > 0;) {
    const auto done = static_cast<long long>(steps.size() - k);
    const bool goes_on = may_go_on(foreman, done, static_cast<long long>(steps.size()));
    const ChangePlan plan = changer.price(built, goes_on ? budget_each : 1);
    curve[k] = {static_cast<int>(k), plan.price, static_cast<int>(plan.undo.size())};
    if (k == 0) break;
    for (const ContactId c : steps[k - 1]) built[at(c)] = 0;
  }
  return curve;
}

}  // namespace dryfit::planner

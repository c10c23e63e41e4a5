#include "planner/change/change.hpp"

#include <algorithm>
#include <limits>
#include <queue>
#include <stdexcept>
#include <string>
#include <tuple>
#include <unordered_map>

#include "model/geometry/at.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peel.hpp"

namespace dryfit::planner {

using model::kNone;

namespace {

/// Costs that differ by less are equal.
constexpr double kSame = 1e-9;

std::string key_of(const std::vector<char>& made) { return {made.begin(), made.end()}; }

}  // namespace

struct Changer::Inside {
  const model::Frame& old_frame;
  const ContactList& old_list;
  const model::Frame& new_frame;
  const ContactList& new_list;
  const Matching& matching;
  Undoer old_undoer;
  Undoer new_undoer;
  UndoCost cost;
  std::unordered_map<std::string, bool> completable_known;
  /// Per old contact that may stay: new contacts that have to be made before it or with it (frozen and peeled).
  std::vector<std::vector<ContactId>> needs;
  std::vector<ContactId> new_knot;

  Inside(const model::Frame& of, const ContactList& ol, const model::Frame& nf, const ContactList& nl,
         const Matching& m, ChangePrice by, int people)
      : old_frame(of),
        old_list(ol),
        new_frame(nf),
        new_list(nl),
        matching(m),
        old_undoer(of, ol),
        new_undoer(nf, nl),
        cost(old_undoer, by, people) {
    State state(new_list);
    new_knot = peel(new_undoer, state).remaining;
    if (!new_knot.empty()) return;
    needs.resize(old_list.contacts.size());
    for (std::size_t c = 0; c < needs.size(); ++c) {
      if (m.kept_as[c] == kNone) continue;
      std::vector<char> frozen(new_list.contacts.size(), 0);
      frozen[dryfit::at(m.kept_as[c])] = 1;
      State all(new_list);
      needs[c] = peel(new_undoer, all, &frozen).remaining;
    }
  }

  [[nodiscard]] std::vector<char> image(const std::vector<char>& made) const {
    std::vector<char> result(new_list.contacts.size(), 0);
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (made[c] != 0) result[dryfit::at(matching.kept_as[c])] = 1;
    }
    return result;
  }

  /// The new frame can be completed from the image of `made`: undo moves lead from complete down to just that.
  bool completable(const std::vector<char>& made) {
    const auto [known, fresh] = completable_known.emplace(key_of(made), false);
    if (!fresh) return known->second;
    const std::vector<char> kept = image(made);
    State state(new_list);
    const Peeling peeling = peel(new_undoer, state, &kept);
    const bool yes = state.all() == kept;
    known->second = yes;
    return yes;
  }

  /// Contacts of `made` that every way has to undo: those the new design lacks, what the old frame forces off with
  /// them, and what the new frame cannot be completed with. The closure of both rules.
  std::vector<char> must_go(const std::vector<char>& made) {
    std::vector<char> go(made.size(), 0);
    std::vector<int> image_of(new_list.contacts.size(), kNone);
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (matching.kept_as[c] != kNone) image_of[dryfit::at(matching.kept_as[c])] = static_cast<int>(c);
      go[c] = static_cast<char>(made[c] != 0 && matching.kept_as[c] == kNone);
    }
    // Per old contact: what cannot come off while it stays.
    std::vector<std::vector<ContactId>> holds(made.size());
    bool old_known = false;
    for (bool grew = true; grew;) {
      grew = false;
      for (std::size_t c = 0; c < made.size(); ++c) {
        if (made[c] == 0 || go[c] != 0) continue;
        const bool lacks = std::any_of(needs[c].begin(), needs[c].end(), [&](ContactId d) {
          const int o = image_of[dryfit::at(d)];
          return o == kNone || made[dryfit::at(o)] == 0 || go[dryfit::at(o)] != 0;
        });
        if (!lacks) continue;
        go[c] = 1;
        grew = true;
      }
      if (grew) continue;
      if (!old_known) {
        old_known = true;
        // Only worth the peeling when the set found so far does not come off by itself.
        if (comes_off(made, go)) break;
        for (std::size_t c = 0; c < made.size(); ++c) {
          if (made[c] == 0 || go[c] != 0) continue;
          std::vector<char> frozen(made.size(), 0);
          frozen[c] = 1;
          State state(old_list, made);
          holds[c] = peel(old_undoer, state, &frozen).remaining;
        }
      }
      for (std::size_t c = 0; c < made.size(); ++c) {
        if (made[c] == 0 || go[c] != 0) continue;
        if (std::any_of(holds[c].begin(), holds[c].end(),
                        [&](ContactId h) { return go[dryfit::at(h)] != 0; })) {
          go[c] = 1;
          grew = true;
        }
      }
    }
    return go;
  }

  /// All of `go` and nothing else can be undone from `made`.
  bool comes_off(const std::vector<char>& made, const std::vector<char>& go, std::vector<Move>* moves = nullptr) {
    std::vector<char> frozen = made;
    for (std::size_t c = 0; c < go.size(); ++c) {
      if (go[c] != 0) frozen[c] = 0;
    }
    State state(old_list, made);
    Peeling peeling = peel(old_undoer, state, &frozen);
    if (moves != nullptr) *moves = std::move(peeling.moves);
    return state.all() == frozen;
  }

  [[nodiscard]] static bool covers(const std::vector<char>& made, const std::vector<char>& go) {
    for (std::size_t c = 0; c < go.size(); ++c) {
      if (go[c] != 0 && made[c] != 0) return false;
    }
    return true;
  }
  bool good(const std::vector<char>& made, const std::vector<char>& go) {
    return covers(made, go) && completable(made);
  }

  /// A plan that works, not the best: peel until the goal holds, then keep every contact that need not go.
  std::vector<Move> any_plan(const std::vector<char>& built, const std::vector<char>& go) {
    State state(old_list, built);
    const Peeling all = peel(old_undoer, state);
    std::vector<char> made = built;
    std::vector<char> undone(built.size(), 0);
    for (const Move& move : all.moves) {
      if (good(made, go)) break;
      for (const ContactId c : move.contacts) {
        made[dryfit::at(c)] = 0;
        undone[dryfit::at(c)] = 1;
      }
    }
    // Put back, latest undone last, whatever the goal can do without.
    for (std::size_t c = undone.size(); c-- > 0;) {
      if (undone[c] == 0 || go[c] != 0) continue;
      std::vector<char> less = undone;
      less[c] = 0;
      std::vector<char> kept = built;
      for (std::size_t i = 0; i < less.size(); ++i) {
        if (less[i] != 0) kept[i] = 0;
      }
      if (good(kept, go) && comes_off(built, less)) undone = less;
    }
    std::vector<Move> moves;
    comes_off(built, undone, &moves);
    return moves;
  }

  struct Found {
    std::vector<Move> moves;
    Bounded price;
    long long states = 0;
  };

  /// One A* search over undo sequences for less than `upper`.
  struct Search {
    bool found = false;  ///< `moves` lead to the goal for `price`, and nothing costs less
    bool out_of_budget = false;
    std::vector<Move> moves;
    double price = 0.0;
    double at_least = 0.0;  ///< nothing that was not looked at costs less; upper when all below it was looked at
    long long states = 0;
  };

  /// `only_go`: moves that undo anything else are left out.
  Search search_below(const std::vector<char>& built, const std::vector<char>& go, bool only_go, double upper,
                      long long budget, Foreman* foreman) {
    struct Node {
      std::vector<char> made;
      double paid = 0.0;
      int from = kNone;
      Move by;
    };
    Search search;
    const auto still = [&](const std::vector<char>& made) {
      std::vector<char> left(made.size(), 0);
      for (std::size_t c = 0; c < made.size(); ++c) left[c] = static_cast<char>(made[c] != 0 && go[c] != 0);
      return cost.least(left);
    };
    std::vector<Node> nodes{{built, 0.0, kNone, {}}};
    using Entry = std::tuple<double, double, int>;  // estimate, minus paid (deeper first among equals), node
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    std::unordered_map<std::string, double> best{{key_of(built), 0.0}};
    open.emplace(still(built), 0.0, 0);
    while (!open.empty()) {
      const auto [estimate, minus_paid, at] = open.top();
      open.pop();
      const Node node = nodes[dryfit::at(at)];
      if (node.paid > best[key_of(node.made)] + kSame) continue;
      if (estimate >= upper - kSame) break;
      search.at_least = std::max(search.at_least, estimate);
      ++search.states;
      if (good(node.made, go)) {
        for (int n = at; nodes[dryfit::at(n)].from != kNone;
             n = nodes[dryfit::at(n)].from) {
          search.moves.push_back(nodes[dryfit::at(n)].by);
        }
        std::reverse(search.moves.begin(), search.moves.end());
        search.found = true;
        search.price = node.paid;
        return search;
      }
      if (search.states > budget || !may_go_on(foreman, search.states, budget)) {
        search.out_of_budget = true;
        return search;
      }
      for (auto& [move, price] : cost.moves(State(old_list, node.made))) {
        if (only_go && std::any_of(move.contacts.begin(), move.contacts.end(),
                                   [&](ContactId c) { return go[dryfit::at(c)] == 0; })) {
          continue;
        }
        Node next{node.made, node.paid + price, at, {}};
        for (const ContactId c : move.contacts) next.made[dryfit::at(c)] = 0;
        const double total = next.paid + still(next.made);
        if (total >= upper - kSame) continue;
        const auto [known, fresh] = best.emplace(key_of(next.made), next.paid);
        if (!fresh && known->second <= next.paid + kSame) continue;
        known->second = next.paid;
        next.by = std::move(move);
        const double paid = next.paid;
        nodes.push_back(std::move(next));
        open.emplace(total, -paid, static_cast<int>(nodes.size()) - 1);
      }
    }
    search.at_least = upper;
    return search;
  }

  /// What has to go in any case is taken off first, in the cheapest order; most often nothing else pays. That price is
  /// the ceiling under which everything else is searched.
  Found search(const std::vector<char>& built, long long budget, Foreman* foreman) {
    Found found;
    const std::vector<char> go = must_go(built);
    const double endless = std::numeric_limits<double>::infinity();
    Search forced = search_below(built, go, true, endless, budget / 4, foreman);
    found.states = forced.states;
    if (forced.found) {
      found.moves = std::move(forced.moves);
      found.price.at_most = forced.price;
    } else {
      found.moves = any_plan(built, go);
      std::vector<char> left = built;
      for (const Move& move : found.moves) {
        for (const ContactId c : move.contacts) left[dryfit::at(c)] = 0;
      }
      if (!good(left, go)) {
        throw std::invalid_argument("what is built does not come apart as far as the change needs");
      }
      found.price.at_most = cost.of(built, found.moves);
    }
    if (found.moves.empty()) return found;
    Search all = search_below(built, go, false, found.price.at_most, budget, foreman);
    found.states += all.states;
    found.price.at_least = all.at_least;
    if (all.found) {
      found.moves = std::move(all.moves);
      found.price = {all.price, all.price};
    }
    return found;
  }
};

Changer::Changer(const model::Frame& old_frame, const ContactList& old_list, const model::Frame& new_frame,
                 const ContactList& new_list, const Matching& matching, ChangePrice by, int people)
    : inside_(std::make_unique<Inside>(old_frame, old_list, new_frame, new_list, matching, by, people)) {}
Changer::~Changer() = default;

ChangePlan Changer::plan(const std::vector<char>& built, long long budget, Foreman* foreman) {
  Inside& in = *inside_;
  ChangePlan plan;
  if (!in.new_knot.empty()) {
    plan.verdict = ChangePlan::Verdict::locked;
    plan.knot = in.new_knot;
    return plan;
  }
  Inside::Found found = in.search(built, budget, foreman);
  plan.undo = std::move(found.moves);
  plan.price = found.price;
  plan.states = found.states;
  plan.verdict = plan.undo.empty()      ? ChangePlan::Verdict::free
                 : found.price.proven() ? ChangePlan::Verdict::teardown
                                        : ChangePlan::Verdict::undecided;
  // Even an unproven plan needs a teardown when its lower bound says so.
  if (plan.verdict == ChangePlan::Verdict::undecided && found.price.at_least > 0)
    plan.verdict = ChangePlan::Verdict::teardown;
  std::vector<char> made = built;
  for (const Move& move : plan.undo) {
    for (const ContactId c : move.contacts) {
      made[dryfit::at(c)] = 0;
      if (in.matching.kept_as[dryfit::at(c)] != kNone) plan.remake.push_back(c);
    }
  }
  std::sort(plan.remake.begin(), plan.remake.end());
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] != 0) plan.kept.push_back(static_cast<ContactId>(c));
  }
  const std::vector<char> kept = in.image(made);
  State state(in.new_list);
  const Peeling peeling = peel(in.new_undoer, state, &kept);
  plan.then = steps_of(in.new_frame, in.new_list, peeling.moves);
  return plan;
}

std::vector<PriceAt> price_by_step(Changer& changer, const ContactList& old_list,
                                   const std::vector<std::vector<ContactId>>& steps, long long budget_each,
                                   Foreman* foreman) {
  std::vector<PriceAt> curve;
  std::vector<char> built(old_list.contacts.size(), 0);
  for (std::size_t k = 0; k <= steps.size(); ++k) {
    if (k > 0) {
      for (const ContactId c : steps[k - 1]) built[dryfit::at(c)] = 1;
    }
    const bool goes_on = may_go_on(foreman, static_cast<long long>(k), static_cast<long long>(steps.size()));
    const ChangePlan plan = changer.plan(built, goes_on ? budget_each : 1);
    curve.push_back({static_cast<int>(k), plan.price, static_cast<int>(plan.undo.size())});
  }
  return curve;
}

}  // namespace dryfit::planner

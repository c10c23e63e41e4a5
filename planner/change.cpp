#include "planner/change.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <queue>
#include <set>
#include <string>
#include <unordered_map>

#include "model/standards.hpp"
#include "planner/peel.hpp"
#include "planner/steps.hpp"

namespace dryfit::planner {

using model::kNone;

namespace {

/// Effort of one undo move for `--by effort`: the same as one move, more for heavy and wide pieces.
/// Common practice, no source: a joint that takes turns costs its turns, a lift its share of the one-person limit
/// (23 kg, NIOSH Publication 94-110, load constant).
double effort_of(const Move& move) { return 1.0 + 0.1 * move.turns + move.mass / 23.0; }

/// Lower bound on the moves that take all of `contacts` off: threads, nuts and fastenings go one at a time, the rests
/// of one board together, and holes with one axis at best all at once.
double least_moves(const ContactList& list, const std::vector<char>& contacts) {
  double n = 0;
  std::set<PartId> rests;
  std::set<int> axes;
  for (std::size_t c = 0; c < contacts.size(); ++c) {
    if (contacts[c] == 0) continue;
    const Contact& k = list.contacts[c];
    switch (k.kind) {
      case ContactKind::rest: rests.insert(k.a); break;
      case ContactKind::hole:
      case ContactKind::notch: axes.insert(k.axis.axis()); break;
      default: n += 1; break;
    }
  }
  return n + static_cast<double>(rests.size() + axes.size());
}

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
  std::unordered_map<std::string, bool> completable_known;
  /// Per old contact that may stay: new contacts that have to be made before it or with it (frozen and peeled).
  std::vector<std::vector<ContactId>> needs;
  std::vector<ContactId> new_knot;

  Inside(const model::Frame& of, const ContactList& ol, const model::Frame& nf, const ContactList& nl,
         const Matching& m)
      : old_frame(of), old_list(ol), new_frame(nf), new_list(nl), matching(m), old_undoer(of, ol), new_undoer(nf, nl) {
    State state(new_list);
    new_knot = peel(new_undoer, state).remaining;
    if (!new_knot.empty()) return;
    needs.resize(old_list.contacts.size());
    for (std::size_t c = 0; c < needs.size(); ++c) {
      if (m.kept_as[c] == kNone) continue;
      std::vector<char> frozen(new_list.contacts.size(), 0);
      frozen[static_cast<std::size_t>(m.kept_as[c])] = 1;
      State all(new_list);
      needs[c] = peel(new_undoer, all, &frozen).remaining;
    }
  }

  [[nodiscard]] std::vector<char> image(const std::vector<char>& made) const {
    std::vector<char> result(new_list.contacts.size(), 0);
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (made[c] != 0) result[static_cast<std::size_t>(matching.kept_as[c])] = 1;
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
      if (matching.kept_as[c] != kNone) image_of[static_cast<std::size_t>(matching.kept_as[c])] = static_cast<int>(c);
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
          const int o = image_of[static_cast<std::size_t>(d)];
          return o == kNone || made[static_cast<std::size_t>(o)] == 0 || go[static_cast<std::size_t>(o)] != 0;
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
                        [&](ContactId h) { return go[static_cast<std::size_t>(h)] != 0; })) {
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

  double cost(const Move& move, ChangePrice by) const { return by == ChangePrice::moves ? 1.0 : effort_of(move); }
  double cost(const std::vector<Move>& moves, ChangePrice by) const {
    double sum = 0;
    for (const Move& m : moves) sum += cost(m, by);
    return sum;
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
        made[static_cast<std::size_t>(c)] = 0;
        undone[static_cast<std::size_t>(c)] = 1;
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

  Found search(const std::vector<char>& built, ChangePrice by, long long budget) {
    Found found;
    const std::vector<char> go = must_go(built);
    const auto still = [&](const std::vector<char>& made) {
      std::vector<char> left(made.size(), 0);
      for (std::size_t c = 0; c < made.size(); ++c) left[c] = static_cast<char>(made[c] != 0 && go[c] != 0);
      return least_moves(old_list, left);  // every move costs at least 1, by effort too
    };
    // The forced set alone is often the answer.
    std::vector<Move> forced;
    std::vector<char> after = built;
    for (std::size_t c = 0; c < go.size(); ++c) {
      if (go[c] != 0) after[c] = 0;
    }
    if (comes_off(built, go, &forced) && completable(after) && by == ChangePrice::moves &&
        static_cast<double>(forced.size()) <= still(built)) {
      found.price = {static_cast<double>(forced.size()), static_cast<double>(forced.size())};
      found.moves = std::move(forced);
      found.states = 1;
      return found;
    }
    struct Node {
      std::vector<char> made;
      double paid = 0.0;
      int from = kNone;
      Move by;
    };
    std::vector<Node> nodes{{built, 0.0, kNone, {}}};
    using Entry = std::tuple<double, double, int>;  // estimate, minus paid (deeper first among equals), node
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    std::unordered_map<std::string, double> best{{key_of(built), 0.0}};
    open.emplace(still(built), 0.0, 0);
    double proven = 0.0;
    while (!open.empty()) {
      const auto [estimate, minus_paid, at] = open.top();
      open.pop();
      const Node node = nodes[static_cast<std::size_t>(at)];
      if (node.paid > best[key_of(node.made)] + 1e-9) continue;
      proven = std::max(proven, estimate);
      ++found.states;
      if (good(node.made, go)) {
        for (int n = at; nodes[static_cast<std::size_t>(n)].from != kNone;
             n = nodes[static_cast<std::size_t>(n)].from) {
          found.moves.push_back(nodes[static_cast<std::size_t>(n)].by);
        }
        std::reverse(found.moves.begin(), found.moves.end());
        found.price = {node.paid, node.paid};
        return found;
      }
      if (found.states > budget) break;
      const State state(old_list, node.made);
      for (Move& move : old_undoer.all_moves(state)) {
        Node next{node.made, node.paid + cost(move, by), at, {}};
        for (const ContactId c : move.contacts) next.made[static_cast<std::size_t>(c)] = 0;
        const auto [known, fresh] = best.emplace(key_of(next.made), next.paid);
        if (!fresh && known->second <= next.paid + 1e-9) continue;
        known->second = next.paid;
        const double total = next.paid + still(next.made);
        next.by = std::move(move);
        const double paid = next.paid;
        nodes.push_back(std::move(next));
        open.emplace(total, -paid, static_cast<int>(nodes.size()) - 1);
      }
    }
    found.moves = any_plan(built, go);
    found.price = {proven, cost(found.moves, by)};
    if (found.price.at_least > found.price.at_most) found.price.at_least = found.price.at_most;
    return found;
  }
};

Changer::Changer(const model::Frame& old_frame, const ContactList& old_list, const model::Frame& new_frame,
                 const ContactList& new_list, const Matching& matching)
    : inside_(std::make_unique<Inside>(old_frame, old_list, new_frame, new_list, matching)) {}
Changer::~Changer() = default;

ChangePlan Changer::plan(const std::vector<char>& built, ChangePrice by, long long budget) {
  Inside& in = *inside_;
  ChangePlan plan;
  if (!in.new_knot.empty()) {
    plan.verdict = ChangePlan::Verdict::locked;
    plan.knot = in.new_knot;
    return plan;
  }
  Inside::Found found = in.search(built, by, budget);
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
      made[static_cast<std::size_t>(c)] = 0;
      if (in.matching.kept_as[static_cast<std::size_t>(c)] != kNone) plan.remake.push_back(c);
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
                                   const std::vector<std::vector<ContactId>>& steps, ChangePrice by,
                                   long long budget_each) {
  std::vector<PriceAt> curve;
  std::vector<char> built(old_list.contacts.size(), 0);
  for (std::size_t k = 0; k <= steps.size(); ++k) {
    if (k > 0) {
      for (const ContactId c : steps[k - 1]) built[static_cast<std::size_t>(c)] = 1;
    }
    curve.push_back({static_cast<int>(k), changer.plan(built, by, budget_each).price});
  }
  return curve;
}

Pieces compare_pieces(const model::Frame& old_frame, const model::Frame& new_frame, const Matching& matching) {
  Pieces pieces;
  pieces.redrill = matching.redrilled;
  std::vector<char> taken(new_frame.parts.size(), 0);
  for (PartId p = 0; p < static_cast<PartId>(old_frame.parts.size()); ++p) {
    if (matching.new_of_old[static_cast<std::size_t>(p)] != kNone) continue;
    PartId serves = kNone;
    for (PartId q = 0; q < static_cast<PartId>(new_frame.parts.size()) && serves == kNone; ++q) {
      if (matching.old_of_new[static_cast<std::size_t>(q)] != kNone || taken[static_cast<std::size_t>(q)] != 0)
        continue;
      // A drilled board serves elsewhere only where its holes are wanted: that is a match, not a reuse.
      if (old_frame.parts[static_cast<std::size_t>(p)].board != kNone) continue;
      if (same_piece(old_frame, p, new_frame, q)) serves = q;
    }
    if (serves != kNone) {
      taken[static_cast<std::size_t>(serves)] = 1;
      pieces.reused.emplace_back(p, serves);
      continue;
    }
    const model::Part& part = old_frame.parts[static_cast<std::size_t>(p)];
    const auto& stock = model::stock_pipes();
    const bool stock_length =
        part.kind != model::PartKind::pipe || std::any_of(stock.begin(), stock.end(), [&](const model::StockPipe& s) {
          return s.size == part.size && std::abs(s.length - part.length) < 0.5;
        });
    (part.board == kNone && stock_length ? pieces.spare : pieces.scrap).push_back(p);
  }
  for (PartId q = 0; q < static_cast<PartId>(new_frame.parts.size()); ++q) {
    if (matching.old_of_new[static_cast<std::size_t>(q)] == kNone && taken[static_cast<std::size_t>(q)] == 0) {
      pieces.buy.push_back(q);
    }
  }
  return pieces;
}

}  // namespace dryfit::planner

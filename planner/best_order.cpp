#include "planner/best_order.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <memory>
#include <numeric>
#include <optional>
#include <unordered_map>

#include "planner/free_moves.hpp"
#include "planner/peel.hpp"
#include "planner/shorter_walk.hpp"
#include "planner/steps.hpp"
#include "planner/undo_choice.hpp"

namespace dryfit::planner {
namespace {

constexpr double kEps = 1e-9;
constexpr double kNever = std::numeric_limits<double>::infinity();

struct Done {
  PricedMove priced;
  StepChoice choice;
};

/// A cluster taken apart.
struct Solved {
  double extra = 0.0;  ///< cost of `moves` beyond the base
  double bound = 0.0;  ///< no way costs less
  bool exact() const { return extra <= bound + kEps; }
  std::vector<std::shared_ptr<const Done>> moves;  ///< first undone first; shared between clusters
};

class Search {
 public:
  Search(Undoer& undoer, const Effort& effort, const BestOptions& options)
      : undoer_(undoer),
        frame_(undoer.frame()),
        list_(undoer.list()),
        effort_(effort),
        options_(options),
        refused_(list_.contacts.size()),
        least_(list_.contacts.size()) {}

  /// Takes apart everything that is made. The frame must come apart.
  const Solved& solve(State state, Place last) {
    const std::string key(state.all().begin(), state.all().end());
    const auto known = taken_apart_.find(key);
    if (known != taken_apart_.end()) {
      ++cache_hits;
      return known->second;
    }
    Solved result;
    FreeMoves free(undoer_, effort_, refused_);
    std::vector<PricedMove> gone = free.peel(state, last);
    for (PricedMove& move : gone) {
      last = place_of(list_, effort_, move.move);
      result.moves.push_back(std::make_shared<Done>(Done{std::move(move), {}}));
    }
    for (const std::vector<char>& cluster : clusters_of(state)) {
      const Solved& part = stuck(cluster, last);
      result.extra += part.extra;
      result.bound += part.bound;
      result.moves.insert(result.moves.end(), part.moves.begin(), part.moves.end());
    }
    return taken_apart_.emplace(key, std::move(result)).first->second;
  }

  /// True once the foreman has ended the search.
  bool stopped() {
    if (!stopped_) stopped_ = !may_go_on(options_.foreman, undoer_.work().attempts, options_.budget);
    return stopped_;
  }

  long long states = 0;
  long long cache_hits = 0;

 private:
  struct Candidate {
    PricedMove priced;
    double total = 0.0;
    double rate = 0.0;  ///< total per part that moves: what is tried first should take much off for its cost
    UndoKey key;
  };

  bool spent() { return stopped() || undoer_.work().attempts > options_.budget; }

  /// Made contacts per cluster that still has any, the one of the last move's mover first.
  std::vector<std::vector<char>> clusters_of(const State& state) const {
    std::map<int, std::size_t> number;
    std::vector<std::vector<char>> clusters;
    for (std::size_t c = 0; c < list_.contacts.size(); ++c) {
      if (!state.made(static_cast<ContactId>(c))) continue;
      const int cluster = state.cluster(list_.vertex(list_.contacts[c].a));
      const auto [at, is_new] = number.emplace(cluster, clusters.size());
      if (is_new) clusters.emplace_back(list_.contacts.size(), 0);
      clusters[at->second][c] = 1;
    }
    return clusters;
  }

  std::vector<Candidate> candidates(const State& state, Place last) {
    std::map<std::vector<ContactId>, std::size_t> known;
    std::vector<Candidate> found;
    for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) {
      if (!state.made(c) || refused_.find(state, c) != nullptr) continue;
      if (stopped()) break;
      std::vector<Refusal> refusals;
      std::vector<Move> ways = undoer_.ways(state, c, &refusals);
      if (ways.empty()) refused_.keep(c, refusals);
      for (Move& move : ways) {
        Candidate one;
        one.priced.extra = effort_.price(state, move);
        one.total = one.priced.extra.total();
        one.rate = one.total / static_cast<double>(move.moving.size());
        one.key = key_of(frame_, list_, effort_, state, move, last, {});
        std::vector<ContactId> contacts = move.contacts;
        std::sort(contacts.begin(), contacts.end());
        one.priced.move = std::move(move);
        const auto [at, is_new] = known.emplace(std::move(contacts), found.size());
        if (is_new) {
          found.push_back(std::move(one));
        } else if (one.total < found[at->second].total - kEps) {
          found[at->second] = std::move(one);
        }
      }
    }
    std::stable_sort(found.begin(), found.end(), [](const Candidate& a, const Candidate& b) {
      if (std::abs(a.rate - b.rate) > kEps) return a.rate < b.rate;
      return a.key < b.key;
    });
    return found;
  }

  const Solved& stuck(const std::vector<char>& made, Place last) {
    const std::string key(made.begin(), made.end());
    const auto known = solved_.find(key);
    if (known != solved_.end()) {
      ++cache_hits;
      return known->second;
    }
    ++states;
    const State state(list_, made);
    const std::vector<Candidate> moves = candidates(state, last);
    if (stopped()) return solved_.emplace(key, as_it_comes(made)).first->second;
    Solved best;
    best.extra = std::numeric_limits<double>::infinity();
    // Threads are counted only where the cheaper bound does not settle it.
    double least = bound_of(made, {}, false);
    bool threads = false;
    double bound = std::numeric_limits<double>::infinity();
    double second = std::numeric_limits<double>::infinity();
    std::size_t chosen = 0, other = 0;
    for (std::size_t i = 0; i < moves.size(); ++i) {
      const Candidate& move = moves[i];
      double at_least = move.total;
      if (i > 0) {
        if (!threads && best.extra > least + kEps) {
          least = bound_of(made, {}, true);
          threads = true;
        }
        at_least =
            std::max(least, stopped() ? move.total : move.total + bound_of(made, move.priced.move.contacts, threads));
      }
      if (i > 0 && (at_least >= best.extra - kEps || best.extra <= least + kEps || spent())) {
        bound = std::min(bound, at_least);
        if (at_least < second) {
          second = at_least;
          other = i;
        }
        continue;
      }
      Solved rest = after(state, move.priced);
      const double extra = move.total + rest.extra;
      bound = std::min(bound, move.total + rest.bound);
      if (extra < best.extra - kEps) {
        if (best.extra < second) {
          second = best.extra;
          other = chosen;
        }
        chosen = i;
        best.extra = extra;
        best.moves = std::move(rest.moves);
      } else if (extra < second) {
        second = extra;
        other = i;
      }
    }
    best.bound = std::min(best.extra, std::max(least, bound));
    StepChoice choice;
    choice.weighed = moves.size() > 1;
    if (choice.weighed) {
      choice.runner_up = std::max(0.0, second - best.extra);
      choice.instead = moves[other].priced.move.contacts;
    }
    best.moves.insert(best.moves.begin(), std::make_shared<Done>(Done{moves[chosen].priced, std::move(choice)}));
    return solved_.emplace(key, std::move(best)).first->second;
  }

  /// A cluster after the search has been ended: whatever goes is undone, and nothing is weighed.
  Solved as_it_comes(const std::vector<char>& made) {
    Solved rest;
    State state(list_, made), before = state;
    for (Move& move : peel(undoer_, state).moves) {
      Done done;
      done.priced.extra = effort_.price(before, move);
      rest.extra += done.priced.extra.total();
      before.undo(move.contacts);
      done.priced.move = std::move(move);
      rest.moves.push_back(std::make_shared<const Done>(std::move(done)));
    }
    rest.bound = std::min(rest.extra, bound_of(made, {}, false));
    return rest;
  }

  /// Everything after a move: the piece that it moved is taken apart first, so that forward it is made up just before
  /// it is needed.
  Solved after(const State& state, const PricedMove& priced) {
    State rest = state;
    rest.undo(priced.move.contacts);
    const Place place = place_of(list_, effort_, priced.move);
    const int mover = rest.cluster(list_.vertex(mover_end(rest, priced.move)));
    std::vector<char> first(list_.contacts.size(), 0), others(list_.contacts.size(), 0);
    bool apart = false, base = false;
    for (std::size_t c = 0; c < list_.contacts.size(); ++c) {
      if (!rest.made(static_cast<ContactId>(c))) continue;
      const bool moved = rest.cluster(list_.vertex(list_.contacts[c].a)) == mover;
      (moved ? first : others)[c] = 1;
      (moved ? apart : base) = true;
    }
    if (!apart || !base) return solve(std::move(rest), place);
    Solved result = solve(State(list_, first), place);
    const Solved& held = solve(State(list_, others), place);
    result.extra += held.extra;
    result.bound += held.bound;
    result.moves.insert(result.moves.end(), held.moves.begin(), held.moves.end());
    return result;
  }

  /// A part on the side that is brought to the other.
  [[nodiscard]] PartId mover_end(const State& rest, const Move& move) const {
    if (move.kind != MoveKind::unfasten) return move.moving.front();
    const Contact& c = list_.contacts[static_cast<std::size_t>(move.contacts.front())];
    if (c.b == model::kRoom || rest.holds_room(list_.vertex(c.b))) return c.a;
    if (rest.holds_room(list_.vertex(c.a))) return c.b;
    double mass[2] = {0.0, 0.0};
    for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
      const double m = frame_.parts[static_cast<std::size_t>(p)].mass;
      if (rest.cluster(p) == rest.cluster(list_.vertex(c.a))) mass[0] += m;
      if (rest.cluster(p) == rest.cluster(list_.vertex(c.b))) mass[1] += m;
    }
    return mass[1] < mass[0] - kEps ? c.b : c.a;
  }

  /// No way to take these contacts apart costs less. A thread always parts two pieces, so each pays at least what it
  /// pays in the smallest state. Of nuts and flanges under boards, those that close a ring pay nothing, the others span
  /// the pieces like a tree: the cheapest spanning tree is the least that they pay. `threads`: count threads too, which
  /// takes far more work.
  double bound_of(const std::vector<char>& made, const std::vector<ContactId>& except, bool threads) {
    std::vector<PartId> piece(frame_.parts.size());
    std::iota(piece.begin(), piece.end(), 0);
    const auto root = [&](PartId p) {
      while (piece[static_cast<std::size_t>(p)] != p) p = piece[static_cast<std::size_t>(p)];
      return p;
    };
    const auto join = [&](const Contact& c) {
      const PartId a = root(c.a), b = root(c.b);
      if (a == b) return false;
      piece[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
      return true;
    };
    double sum = 0.0;
    std::vector<std::pair<double, ContactId>> links;
    for (std::size_t i = 0; i < made.size(); ++i) {
      const auto c = static_cast<ContactId>(i);
      const Contact& contact = list_.contacts[i];
      if (made[i] == 0 || !effort_.holds_together(contact)) continue;
      if (std::find(except.begin(), except.end(), c) != except.end()) continue;
      if (contact.kind == ContactKind::thread) {
        if (threads) sum += least_extra(c);
        join(contact);
      } else if (const double least = least_extra(c); least < kNever) {
        links.emplace_back(least, c);
      }
    }
    std::sort(links.begin(), links.end());
    for (const auto& [least, c] : links) {
      if (join(list_.contacts[static_cast<std::size_t>(c)])) sum += least;
    }
    return sum;
  }

  /// What contact c costs at least whenever it parts two pieces of work: its cost in the smallest state, which is what
  /// must have been made before c. kNever: it never does, for its ends hang together otherwise even there.
  double least_extra(ContactId c) {
    std::optional<double>& known = least_[static_cast<std::size_t>(c)];
    if (known) return *known;
    if (spent()) return 0.0;
    State state(list_);
    std::vector<char> frozen(list_.contacts.size(), 0);
    frozen[static_cast<std::size_t>(c)] = 1;
    static_cast<void>(peel(undoer_, state, &frozen));
    double least = kNever;
    if (effort_.parts_work(state, c)) {
      for (Move& move : undoer_.ways(state, c)) {
        // Straps are left out: in a larger state they may be made already.
        const Extra extra = effort_.price(state, move);
        least = std::min(least, extra.total() - extra.strap);
      }
    }
    known = least;
    return least;
  }

  Undoer& undoer_;
  const model::Frame& frame_;
  const ContactList& list_;
  const Effort& effort_;
  const BestOptions& options_;
  Refused refused_;
  std::vector<std::optional<double>> least_;
  bool stopped_ = false;
  std::unordered_map<std::string, Solved> taken_apart_;  ///< by made contacts, as met
  std::unordered_map<std::string, Solved> solved_;       ///< by made contacts of one cluster without free moves
};

/// The greedy order of a frame that is too large to search, with its effort as far as that is known without a search.
void greedy(BestOrder& best, Peeling& peeling, const Effort& effort, const model::Frame& frame,
            const ContactList& list) {
  best.greedy = true;
  State state(list);
  // Pricing looks at whole clusters; for large frames only swings are priced and the rest counts as the bound.
  constexpr std::size_t kPriced = 4'000;
  double extra = 0.0;
  for (Move& move : peeling.moves) {
    StepChoice choice;
    if (list.contacts.size() <= kPriced) {
      choice.extra = effort.price(state, move);
      extra += choice.extra.total();
    }
    state.undo(move.contacts);
    best.choices.push_back(choice);
    best.undo_moves.push_back(std::move(move));
  }
  static_cast<void>(frame);
  best.effort.value = effort.base() + extra;
  best.effort.lower_bound = effort.base();
  best.effort.proven = false;
}

}  // namespace

BestOrder find_best_order(const model::Frame& frame, const ContactList& list, const BestOptions& options) {
  BestOrder best;
  Undoer undoer(frame, list);
  State state(list);
  Peeling peeling = peel(undoer, state);
  best.order.buildable = peeling.remaining.empty();
  best.order.knot = std::move(peeling.remaining);
  best.order.knot_refusals = std::move(peeling.refusals);
  if (best.order.buildable) {
    const Effort effort(undoer, options.people);
    best.effort.base = effort.base();
    if (list.contacts.size() > options.search_limit) {
      greedy(best, peeling, effort, frame, list);
    } else {
      Search search(undoer, effort, options);
      const Solved& solved = search.solve(State(list), {});
      best.effort.value = effort.base() + solved.extra;
      best.effort.lower_bound = effort.base() + std::min(solved.bound, solved.extra);
      best.effort.proven = solved.exact();
      best.effort.stopped = search.stopped();
      best.effort.states = search.states;
      best.effort.cache_hits = search.cache_hits;
      for (const auto& done : solved.moves) {
        best.choices.push_back(done->choice);
        best.choices.back().extra = done->priced.extra;
        best.undo_moves.push_back(done->priced.move);
      }
      if (!best.effort.stopped) shorten_walk(undoer, effort, best);
    }
    best.order.steps = steps_of(frame, list, best.undo_moves);
  }
  const Work work = undoer.work();
  best.effort.moves_tried = best.order.stats.moves_tried = work.attempts;
  best.effort.clearance_tests = best.order.stats.clearance_tests = work.clearance_tests;
  best.order.stats.parts_visited = work.visited;
  return best;
}

}  // namespace dryfit::planner

#include "planner/early/careless.hpp"

#include <algorithm>
#include <iterator>
#include <map>
#include <random>
#include <set>

#include "model/geometry/at.hpp"
#include "planner/early/trap.hpp"

namespace dryfit::planner {
namespace {

using Set = std::vector<ContactId>;

/// Contacts with pipes, not made yet, that could be made with c by moving the piece at one of its ends.
void sets_by_piece(Undoer& undoer, Explorer& explorer, const State& state, ContactId c, std::set<Set>& sets) {
  const ContactList& list = undoer.list();
  const Contact& asked = list.contact(c);
  Without without;
  without.holes_along = asked.axis;
  for (const bool from_board : {true, false}) {
    const int seed = list.vertex(from_board ? asked.a : asked.b);
    const int other = list.vertex(from_board ? asked.b : asked.a);
    const std::vector<int> piece = explorer.piece(state, seed, without, Undoer::kNoCap);
    const std::set<int> mover(piece.begin(), piece.end());
    const std::vector<int> there = explorer.piece(state, other, without, Undoer::kNoCap);
    const std::set<int> facing(there.begin(), there.end());
    Set with_that_piece, with_all;
    for (const int v : piece) {
      for (const ContactId h : list.at[at(v)]) {
        const Contact& hole = list.contact(h);
        if (state.made(h) || !hole_like(hole.kind) || !parallel(hole.axis, asked.axis)) continue;
        const int a = list.vertex(hole.a);
        const int end = a == v ? list.vertex(hole.b) : a;
        if (mover.contains(end)) continue;
        with_all.push_back(h);
        if (facing.contains(end)) with_that_piece.push_back(h);
      }
    }
    for (Set* set : {&with_that_piece, &with_all}) {
      std::sort(set->begin(), set->end());
      sets.insert(*set);
    }
  }
}

/// Contacts of the same board and kind, not made yet.
Set of_same_board(const ContactList& list, const State& state, ContactId c) {
  const Contact& asked = list.contact(c);
  Set set;
  for (const ContactId o : list.at[at(asked.a)]) {
    const Contact& other = list.contact(o);
    if (!state.made(o) && other.kind == asked.kind && other.a == asked.a) set.push_back(o);
  }
  return set;
}

bool makes_a_step(Undoer& undoer, const State& state, const Set& set, ContactId c) {
  std::vector<char> made = state.all();
  for (const ContactId o : set) made[at(o)] = 1;
  const State next(undoer.list(), made);
  if (set.size() == 1 && !hole_like(undoer.list().contact(c).kind)) {
    const Attempt attempt = undoer.try_undo(next, c);
    return attempt.legal && attempt.move.contacts == set;
  }
  const std::vector<Move> ways = undoer.ways(next, c);
  return std::any_of(ways.begin(), ways.end(), [&](const Move& way) {
    Set sorted = way.contacts;
    std::sort(sorted.begin(), sorted.end());
    return sorted == set;
  });
}

class Builder {
 public:
  Builder(Undoer& undoer, std::mt19937& rng) : undoer_(undoer), rng_(rng) {}

  /// Builds until nothing can be made; the sets made, in order.
  std::vector<Set> build() {
    const auto n = undoer_.list().contacts.size();
    std::vector<char> made(n, 0);
    std::vector<ContactId> missing(n);
    for (std::size_t i = 0; i < n; ++i) missing[i] = static_cast<ContactId>(i);
    std::vector<Set> steps;
    for (;;) {
      const State state(undoer_.list(), made);
      // A fresh random sequence each time: the first contact of it that can be made is any of them alike.
      for (std::size_t i = missing.size(); i > 1; --i) std::swap(missing[i - 1], missing[rng_() % i]);
      Set step;
      for (const ContactId c : missing) {
        const auto sets = steps_forward(undoer_, state, c);
        if (sets.empty()) continue;
        step = sets[rng_() % sets.size()];
        break;
      }
      if (step.empty()) return steps;
      for (const ContactId c : step) made[at(c)] = 1;
      std::erase_if(missing, [&](ContactId c) { return made[at(c)] != 0; });
      steps.push_back(std::move(step));
    }
  }

 private:
  Undoer& undoer_;
  std::mt19937& rng_;
};

std::vector<char> made_by(const std::vector<Set>& steps, std::size_t count, std::size_t contacts) {
  std::vector<char> made(contacts, 0);
  for (std::size_t i = 0; i < count; ++i) {
    for (const ContactId c : steps[i]) made[at(c)] = 1;
  }
  return made;
}

Set missing_from(const std::vector<char>& made) {
  Set missing;
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] == 0) missing.push_back(static_cast<ContactId>(c));
  }
  return missing;
}

}  // namespace

std::vector<Set> steps_forward(Undoer& undoer, const State& state, ContactId c) {
  const ContactList& list = undoer.list();
  const Contact& contact = list.contact(c);
  if (state.made(c)) return {};
  std::set<Set> sets;
  if (hole_like(contact.kind)) {
    Explorer explorer(list);
    sets_by_piece(undoer, explorer, state, c, sets);
    if (contact.kind == ContactKind::notch) sets.insert(of_same_board(list, state, c));
  } else if (contact.kind == ContactKind::rest) {
    sets.insert(of_same_board(list, state, c));
  } else {
    sets.insert({c});
  }
  std::vector<Set> result;
  std::copy_if(sets.begin(), sets.end(), std::back_inserter(result), [&](const Set& set) {
    return std::binary_search(set.begin(), set.end(), c) && makes_a_step(undoer, state, set, c);
  });
  return result;
}

std::vector<CarelessBuild> careless_builds(Undoer& undoer, const CarelessLimits& limits) {
  std::vector<CarelessBuild> builds;
  std::mt19937 rng(limits.seed);
  const long long start = undoer.work().attempts;
  const std::size_t n = undoer.list().contacts.size();
  int priced = 0;
  while (static_cast<int>(builds.size()) < limits.builders && undoer.work().attempts - start < limits.moves_asked &&
         may_go_on(limits.foreman, static_cast<long long>(builds.size()), limits.builders)) {
    const std::vector<Set> steps = Builder(undoer, rng).build();
    CarelessBuild build;
    build.steps = static_cast<int>(steps.size());
    const std::vector<char> end = made_by(steps, steps.size(), n);
    const Set missing = missing_from(end);
    build.stuck = !missing.empty();
    if (build.stuck) {
      // Once it cannot be finished it never can: look for the step by halving.
      std::size_t fine = 0, dead = steps.size();
      while (dead - fine > 1) {
        const std::size_t middle = fine + (dead - fine) / 2;
        const std::vector<char> made = made_by(steps, middle, n);
        (half_built(undoer, missing_from(made), made).closed ? dead : fine) = middle;
      }
      build.fatal_step = static_cast<int>(dead);
      build.fatal_contacts = steps[dead - 1];
      const std::vector<char> made = made_by(steps, dead, n);
      build.locked_out = half_built(undoer, missing_from(made), made).stuck;
      if (priced < limits.most_priced) {
        ++priced;
        const FewestMoves price = price_when_closed(undoer, missing, end, limits.price_budget);
        build.priced = price.possible;
        build.price = price.at_most();
        build.price_at_least = price.at_least;
      }
    }
    builds.push_back(std::move(build));
  }
  return builds;
}

}  // namespace dryfit::planner

#include "tests/support/every/early_checks.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/early/precedence.hpp"
#include "planner/order/order.hpp"

namespace dryfit::tests {

using planner::ContactId;

Example::Example(const std::string& text)
    : frame(model::read_frame(text, "example.yaml")),
      list(planner::contacts_of(frame)),
      undoer(frame, list),
      rules(undoer) {}

ContactId Example::id(const char* name) const {
  const ContactId c = list.find(name);
  REQUIRE_MESSAGE(c != model::kNone, name);
  return c;
}

planner::NamedPart Example::part(const std::string& label) const {
  for (planner::NamedPart& p : planner::named_parts(frame, list)) {
    if (p.label == label) return p;
  }
  REQUIRE_MESSAGE(false, label);
  return {};
}

planner::StepContacts Example::steps() const {
  planner::StepContacts result;
  for (const planner::Step& step : planner::find_order(frame, list).steps) result.push_back(step.contacts);
  return result;
}

OracleRules::OracleRules(const Example& example) : oracle_(example.frame) {
  for (const std::string& name : oracle_.ids()) contact_of_bit_.push_back(example.id(name.c_str()));
  REQUIRE(contact_of_bit_.size() == example.list.contacts.size());
}

int OracleRules::contacts() const { return static_cast<int>(contact_of_bit_.size()); }

std::vector<std::vector<ContactId>> OracleRules::moves(const Made& made) {
  test::State state;
  for (std::size_t bit = 0; bit < contact_of_bit_.size(); ++bit) {
    state[bit] = made[at(contact_of_bit_[bit])] != 0;
  }
  std::set<std::vector<ContactId>> sets;
  for (const test::UndoMove& move : oracle_.legal_undo_moves(state)) {
    std::vector<ContactId> set;
    for (std::size_t bit = 0; bit < contact_of_bit_.size(); ++bit) {
      if (move.undone[bit]) set.push_back(contact_of_bit_[bit]);
    }
    std::sort(set.begin(), set.end());
    sets.insert(std::move(set));
  }
  return {sets.begin(), sets.end()};
}

void check_relation(Example& e, const EveryState& all) {
  const planner::Precedence found = planner::precedence_of(e.undoer);
  const auto n = static_cast<ContactId>(e.list.contacts.size());
  for (ContactId x = 0; x < n; ++x) {
    for (ContactId y = 0; y < n; ++y) {
      if (x == y) continue;
      INFO(e.list.contact(y).id, " before ",
           e.list.contact(x).id);
      const bool before = all.never({x}, {y}), after = all.never({y}, {x});
      CHECK(found.comes_first(y, x) == (before && !after));
      const bool together = found.class_of[at(x)] == found.class_of[at(y)];
      CHECK(together == (before && after));
    }
  }
}

void check_parts(Example& e, const EveryState& all) {
  const auto n = static_cast<ContactId>(e.list.contacts.size());
  for (const planner::NamedPart& part : planner::named_parts(e.frame, e.list)) {
    INFO(part.label);
    const planner::FewestMoves depth = planner::fewest_moves(e.undoer, planner::State(e.list), part.contacts);
    REQUIRE(depth.possible);
    CHECK(depth.proven());
    CHECK(depth.at_most() == all.fewest(part.contacts));

    const planner::Price price = planner::price_of(e.undoer, part, 200000);
    CHECK(price.proven());
    CHECK(price.at_most() == all.fewest_others(part.contacts));
    // Bounds are true at any budget, and never contradict what was found.
    for (const long long budget : {1, 2, 3, 5, 8, 13, 21, 34, 55}) {
      CAPTURE(budget);
      const planner::FewestMoves hasty = planner::fewest_moves(e.undoer, planner::State(e.list), part.contacts, budget);
      CHECK(hasty.at_least <= depth.at_most());
      CHECK(hasty.at_most() >= depth.at_most());
      const planner::Price rough = planner::price_of(e.undoer, part, budget);
      CHECK(rough.at_least() <= price.at_most());
      CHECK(rough.at_most() >= price.at_most());
    }

    const planner::Lockouts lockouts = planner::lockouts_of(e.undoer, part.contacts, 100, 100, 1000000);
    CHECK(lockouts.complete);
    std::set<std::vector<ContactId>> found(lockouts.sets.begin(), lockouts.sets.end());
    CHECK(found.size() == lockouts.sets.size());
    for (const auto& set : lockouts.sets) {
      CHECK(all.never(set, part.contacts));
      for (std::size_t i = 0; i < set.size(); ++i) {
        std::vector<ContactId> fewer = set;
        fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
        CHECK_FALSE(all.never(fewer, part.contacts));
      }
    }
    // None of one or two contacts is missing.
    const auto own = [&](ContactId c) { return std::binary_search(part.contacts.begin(), part.contacts.end(), c); };
    std::set<ContactId> alone;
    for (ContactId x = 0; x < n; ++x) {
      if (own(x) || !all.never({x}, part.contacts)) continue;
      alone.insert(x);
      CHECK(found.contains({x}));
    }
    for (ContactId x = 0; x < n; ++x) {
      for (ContactId y = x + 1; y < n; ++y) {
        if (own(x) || own(y) || alone.contains(x) || alone.contains(y)) continue;
        if (all.never({x, y}, part.contacts)) CHECK(found.contains({x, y}));
      }
    }
  }
}

void check_last_calls(Example& e, const EveryState& all, planner::UndoRules& rules) {
  const planner::StepContacts steps = e.steps();
  REQUIRE_FALSE(steps.empty());
  for (const planner::NamedPart& part : planner::named_parts(e.frame, e.list)) {
    INFO(part.label);
    const auto own = [&](ContactId c) { return std::binary_search(part.contacts.begin(), part.contacts.end(), c); };
    Made made(e.list.contacts.size(), 0);
    int closing = 0;
    bool waiting = false;
    for (std::size_t i = 0; i < steps.size() && closing == 0; ++i) {
      Made next = made;
      for (const ContactId c : steps[i]) {
        waiting |= own(c);
        if (!own(c)) next[at(c)] = 1;
      }
      if (next == made) continue;
      // Can the step be made here without the part? Then some way of undoing leads from next to made.
      const EveryState back(rules, next);
      if (!back.states().contains(made)) {
        REQUIRE(waiting);
        continue;
      }
      if (!all.states().contains(next)) closing = static_cast<int>(i) + 1;
      made = next;
    }
    const planner::LastCall call = planner::last_call(e.undoer, part.contacts, steps);
    CHECK(call.step == closing);
    CHECK(call.trap == (closing != 0));
    CHECK(call.closed_out_by.empty() == (closing == 0));
    CHECK((call.stuck == model::kNone) == (closing == 0));
  }
}

namespace {

/// Builders forward, state by state.
class Careless {
 public:
  explicit Careless(planner::UndoRules& rules) : rules_(rules) {}

  /// Probability to end with something missing.
  double stuck_from(const Made& made) {
    const auto found = known_.find(made);
    if (found != known_.end()) return found->second;
    std::vector<ContactId> missing;
    for (std::size_t c = 0; c < made.size(); ++c) {
      if (made[c] == 0) missing.push_back(static_cast<ContactId>(c));
    }
    // Every set of missing contacts that one legal move makes, by contact.
    std::map<ContactId, std::vector<Made>> next;
    for (std::size_t bits = 1; bits < std::size_t{1} << missing.size(); ++bits) {
      std::vector<ContactId> set;
      Made after = made;
      for (std::size_t i = 0; i < missing.size(); ++i) {
        if ((bits >> i & 1U) == 0) continue;
        set.push_back(missing[i]);
        after[at(missing[i])] = 1;
      }
      const auto& back = moves_at(after);
      if (std::find(back.begin(), back.end(), set) == back.end()) continue;
      for (const ContactId c : set) next[c].push_back(after);
    }
    double stuck = 0.0;
    if (next.empty()) stuck = missing.empty() ? 0.0 : 1.0;
    for (const auto& [contact, states] : next) {
      for (const Made& state : states) {
        stuck += stuck_from(state) / static_cast<double>(next.size() * states.size());
      }
    }
    known_.emplace(made, stuck);
    return stuck;
  }

 private:
  const std::vector<std::vector<ContactId>>& moves_at(const Made& made) {
    const auto [found, fresh] = moves_.try_emplace(made);
    if (fresh) found->second = rules_.moves(made);
    return found->second;
  }
  planner::UndoRules& rules_;
  std::map<Made, double> known_;
  std::map<Made, std::vector<std::vector<ContactId>>> moves_;
};

}  // namespace

double stuck_share(planner::UndoRules& rules) {
  REQUIRE(rules.contacts() <= 12);
  return Careless(rules).stuck_from(Made(at(rules.contacts()), 0));
}

}  // namespace dryfit::tests

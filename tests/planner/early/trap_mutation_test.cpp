/// Every trap told of a shipped scenario, sprung: the independent judge rejects an order that falls into it, and
/// accepts one that first takes off what the price lists.
#include <doctest/doctest.h>

#include <algorithm>

#include "model/placing/reader.hpp"
#include "planner/best/best_order.hpp"
#include "planner/early/trap.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/steps.hpp"
#include "planner/peel/peeler.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using planner::ContactId;
using planner::GivenStep;

namespace {

/// The order with the part left out until the step that closes it out has been made, and whatever cannot be made
/// without it put off with it.
std::vector<GivenStep> sprung(const planner::ContactList& list, const planner::Order& order,
                              const planner::EarlyPart& early) {
  const auto own = [&](ContactId c) {
    return std::binary_search(early.part.contacts.begin(), early.part.contacts.end(), c);
  };
  std::vector<GivenStep> first, late, rest;
  for (const planner::Step& step : order.steps) {
    if (step.number > early.last_call.step) {
      rest.push_back({step.action, step.contacts, {}});
      continue;
    }
    const auto& put_off = early.last_call.put_off;
    if (std::find(put_off.begin(), put_off.end(), step.number) != put_off.end()) {
      late.push_back({step.action, step.contacts, {}});
      continue;
    }
    std::vector<ContactId> now, later;
    for (const ContactId c : step.contacts) (own(c) ? later : now).push_back(c);
    if (!now.empty()) first.push_back(test::fitting_step(list, now));
    if (!later.empty()) late.push_back(test::fitting_step(list, later));
  }
  first.insert(first.end(), late.begin(), late.end());
  first.insert(first.end(), rest.begin(), rest.end());
  return first;
}

/// Everything that may stay on while the part is put on after all, then the part and what had to come off for it.
std::vector<GivenStep> mended(planner::Undoer& undoer, const planner::EarlyPart& early) {
  planner::State state(undoer.list());
  for (const planner::Move& move : early.price.out.moves) state.undo(move.contacts);
  planner::Peeler rest(undoer, state, std::vector<char>(state.all().size(), 0));
  rest.run();
  REQUIRE(rest.remaining().empty());
  std::vector<planner::Move> undo = early.price.out.moves;
  planner::State at = state;
  for (const auto& set : rest.undone()) {
    planner::Attempt attempt = undoer.try_undo(at, set.front());
    REQUIRE(attempt.legal);
    std::vector<ContactId> contacts = attempt.move.contacts;
    std::sort(contacts.begin(), contacts.end());
    std::vector<ContactId> same = set;
    std::sort(same.begin(), same.end());
    REQUIRE(contacts == same);
    at.undo(set);
    undo.push_back(std::move(attempt.move));
  }
  std::vector<GivenStep> steps;
  for (auto move = undo.rbegin(); move != undo.rend(); ++move) {
    steps.push_back({planner::action_of(undoer.frame(), *move), move->contacts, {}});
  }
  return steps;
}

}  // namespace

TEST_CASE("an order that falls into a trap told is rejected, and is accepted once the pieces listed have come off") {
  int traps = 0, frames = 0, priced = 0;
  for (const std::string& file : tests::scenario_files()) {
    CAPTURE(file);
    const model::Frame frame = model::read_frame(tests::slurp(file), file);
    const planner::ContactList list = planner::contacts_of(frame);
    const planner::BestOrder best = planner::find_best_order(frame, list);
    if (!best.order.buildable) continue;
    ++frames;
    planner::StepContacts made_by;
    for (const planner::Step& step : best.order.steps) made_by.push_back(step.contacts);
    planner::Undoer undoer(frame, list);
    planner::EarlyBudget budget;
    budget.most_lockouts = 0;
    for (const planner::NamedPart& part : planner::named_parts(frame, list)) {
      const planner::EarlyPart early = planner::early_facts(undoer, part, made_by, budget);
      if (!early.last_call.trap) continue;
      CAPTURE(part.label);
      ++traps;
      const auto judged = planner::replay(frame, list, sprung(list, best.order, early));
      CHECK_FALSE(judged.legal);
      // What is taken off are the part's own contacts and those listed, no more.
      std::vector<ContactId> off;
      for (const planner::Move& move : early.price.out.moves)
        off.insert(off.end(), move.contacts.begin(), move.contacts.end());
      for (const ContactId c : part.contacts) CHECK(std::find(off.begin(), off.end(), c) != off.end());
      CHECK(off.size() == part.contacts.size() + early.price.comes_off.size());
      const auto after = planner::replay(frame, list, mended(undoer, early));
      CHECK_MESSAGE(after.legal, after.why);
      if (early.price.at_most() > 0) ++priced;
    }
  }
  // Floors set by hand: traps, and such as cost something, must stay common.
  CHECK(frames >= 10);
  CHECK(traps >= 30);
  CHECK(priced >= 10);
}

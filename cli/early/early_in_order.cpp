#include "cli/early/early_in_order.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <set>

#include "cli/early/early_report.hpp"
#include "cli/sentences/closed_out_text.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"
#include "planner/early/precedence.hpp"

namespace dryfit::cli {
namespace {

/// Frames of more contacts are not asked: last calls of all parts cost about steps x parts.
constexpr std::size_t kLarge = 400;
constexpr long long kPriceBudget = 40000;

}  // namespace

EarlyInOrder early_in_order(const model::Frame& frame, const planner::ContactList& list,
                            const std::vector<planner::Step>& steps, planner::Foreman* foreman,
                            ForgettingPrices prices) {
  EarlyInOrder early;
  if (list.contacts.size() > kLarge) return early;
  early.known = true;
  early.priced = prices == ForgettingPrices::counted;
  early.must_come_before.resize(steps.size());
  early.last_calls.resize(steps.size());
  planner::Undoer undoer(frame, list);
  const planner::RefusalMemory known = planner::refusals_when_whole(undoer);
  const auto knots = std::make_shared<planner::Knots>(list.contacts.size());
  const planner::Precedence relation = planner::precedence_of(undoer);
  std::vector<std::size_t> step_of(list.contacts.size(), 0);
  planner::StepContacts made_by;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    made_by.push_back(steps[i].contacts);
    for (const planner::ContactId c : steps[i].contacts) step_of[at(c)] = i;
  }
  std::vector<std::set<planner::ContactId>> before(steps.size());
  for (planner::ContactId later = 0; later < static_cast<planner::ContactId>(relation.before.size()); ++later) {
    for (const planner::ContactId first : relation.before[at(later)]) {
      const std::size_t i = step_of[at(first)];
      if (i != step_of[at(later)]) before[i].insert(later);
    }
  }
  const std::vector<planner::NamedPart> parts = planner::named_parts(frame, list);
  long long looked_at = 0;
  for (const planner::NamedPart& part : parts) {
    const bool goes_on = planner::may_go_on(foreman, looked_at++, static_cast<long long>(parts.size()));
    if (part.contacts.empty()) continue;
    std::size_t first = steps.size();
    for (const planner::ContactId c : part.contacts) first = std::min(first, step_of[at(c)]);
    planner::EarlyPart facts;
    facts.part = part;
    facts.last_call = planner::last_call(undoer, part.contacts, made_by);
    if (facts.last_call.step == 0) continue;
    before[first].insert(facts.last_call.closed_out_by.begin(), facts.last_call.closed_out_by.end());
    if (early.priced) facts.price = planner::price_of(undoer, part, goes_on ? kPriceBudget : 1, &known, knots);
    early.last_calls[first].push_back(std::move(facts));
  }
  for (std::size_t i = 0; i < steps.size(); ++i) early.must_come_before[i].assign(before[i].begin(), before[i].end());
  return early;
}

bool easily_forgotten(const planner::EarlyPart& facts) {
  constexpr int kWorthSaying = 2;
  return facts.last_call.unnoticed() && facts.price.at_most() >= (facts.part.board ? 1 : kWorthSaying);
}

void add_early(Json& step, const planner::ContactList& list, const EarlyInOrder& early, std::size_t index) {
  if (!early.known) {
    step["must_come_before"] = nullptr;
    step["last_calls"] = nullptr;
    return;
  }
  step["must_come_before"] = contact_ids(list, early.must_come_before[index]);
  Json calls = Json::array();
  for (const planner::EarlyPart& facts : early.last_calls[index]) {
    calls.push_back(
        {{"part", facts.part.label},
         {"last_call_step", facts.last_call.step},
         {"closed_out_by", contact_ids(list, facts.last_call.closed_out_by)},
         {"trap", facts.last_call.trap},
         {"asked_for_step", facts.last_call.asked_for == 0 ? Json(nullptr) : Json(facts.last_call.asked_for)},
         {"price_moves", early.priced ? Json(facts.price.at_most()) : Json(nullptr)},
         {"price_proven", early.priced && facts.price.proven()}});
  }
  step["last_calls"] = std::move(calls);
}

std::vector<std::string> early_lines(const model::Frame& frame, const planner::ContactList& list,
                                     const EarlyInOrder& early, std::size_t index) {
  std::vector<std::string> lines;
  if (!early.known) return lines;
  for (const planner::EarlyPart& facts : early.last_calls[index]) {
    if (!easily_forgotten(facts)) continue;
    const std::string by = contacts_text(frame, list, facts.last_call.closed_out_by, 3);
    lines.push_back(say_n(facts.price.at_most(), "Put {1} on before step {2} ({3}), or you'll have to undo {4} joint.",
                          "Put {1} on before step {2} ({3}), or you'll have to undo {4} joints.", facts.part.label,
                          facts.last_call.step, by, bounded_text(facts.price.at_least(), facts.price.at_most())));
  }
  return lines;
}

}  // namespace dryfit::cli

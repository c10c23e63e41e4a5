#include "cli/order/now_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <utility>

#include "cli/check/as_built.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/io/working.hpp"
#include "cli/order/given_state.hpp"
#include "cli/order/now_words.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using planner::ContactId;
using planner::NamedPart;

/// The question, read.
struct Question {
  std::vector<char> built;
  std::vector<ContactId> renewed;
  std::vector<ContactId> missing;
  planner::NowOptions options;
};

std::vector<ContactId> contacts_of_all(const std::vector<NamedPart>& parts) {
  std::vector<ContactId> all;
  for (const NamedPart& part : parts) all.insert(all.end(), part.contacts.begin(), part.contacts.end());
  std::sort(all.begin(), all.end());
  all.erase(std::unique(all.begin(), all.end()), all.end());
  return all;
}

Question question(const LoadedFrame& loaded, const Finding& finding, const NowAsked& asked, int people,
                  const Streams& streams) {
  Question q;
  for (const planner::Step& step : finding.order.steps) q.options.order.push_back(step.contacts);
  q.options.people = people;
  q.options.foreman = streams.working;
  const auto to_replace = parts_named(loaded, asked.replace, "--replace");
  const auto missing = parts_named(loaded, asked.without, "--without");
  q.built = asked.built.empty() ? std::vector<char>(loaded.contacts.contacts.size(), asked.replace.empty() ? 0 : 1)
                                : given_state(loaded, asked.built, q.options.order, streams);
  const auto is_on = [&](const NamedPart& part) {
    return std::any_of(part.contacts.begin(), part.contacts.end(), [&](ContactId c) { return q.built[at(c)] != 0; });
  };
  for (const NamedPart& part : to_replace) {
    if (!is_on(part)) throw UsageError(say("--replace: {} is not on yet, so another one can go on", part.label));
  }
  for (const NamedPart& part : missing) {
    if (is_on(part)) throw UsageError(say("--without: {} is on already, as --built says", part.label));
  }
  q.renewed = contacts_of_all(to_replace);
  q.missing = contacts_of_all(missing);
  return q;
}

std::optional<NowAnswer> search(const model::Frame& frame, const planner::ContactList& list, const Question& q) {
  planner::WayOn way = planner::way_on(frame, list, q.built, q.renewed, q.options);
  if (way.locked) return std::nullopt;
  NowAnswer answer;
  answer.built = q.built;
  answer.undo = std::move(way.undo);
  answer.undo_moves = way.undo_moves;
  answer.kept = std::move(way.kept);
  answer.steps = std::move(way.then);
  answer.effort = way.effort;
  answer.states = way.states;
  std::vector<char> kept(q.built.size(), 0);
  for (const ContactId c : answer.kept) kept[at(c)] = 1;
  answer.made_before = a_way_to_make(frame, list, kept);
  if (q.missing.empty()) return answer;
  planner::Meanwhile plan = planner::meanwhile(frame, list, kept, q.missing, q.options);
  answer.needed_at = static_cast<int>(plan.now.size()) + 1;
  answer.left = plan.left;
  answer.effort = plan.effort;
  answer.steps = std::move(plan.now);
  answer.steps.insert(answer.steps.end(), plan.later.begin(), plan.later.end());
  return answer;
}

}  // namespace

NowAnswer now_answer(const LoadedFrame& loaded, const Finding& finding, const NowAsked& asked, int people,
                     const Streams& streams) {
  const Question q = question(as_built(loaded, finding), finding, asked, people, streams);
  const LongWork work(streams.working, marked("looking for the way on"), marked("tried"), true);
  const Placed* turned = finding.turned.get();
  planner::ContactList list = loaded.contacts;
  // Each round strikes out more than the last, so the rounds end.
  while (auto answer = search(loaded.frame, list, q)) {
    if (turned == nullptr) return *std::move(answer);
    std::vector<char> made = q.built;
    const auto refused = planner::judged(turned->frame, turned->contacts, made, answer->undo, answer->steps);
    if (!refused) return *std::move(answer);
    list.struck_out.push_back(*refused);
  }
  // Built only as it stands after the turns of the fit.
  auto answer = turned != nullptr ? search(turned->frame, turned->contacts, q) : std::nullopt;
  if (!answer) throw std::logic_error("a frame with an order has no way on");
  count_as_made_up(loaded.frame, loaded.contacts, answer->steps);
  return *std::move(answer);
}

}  // namespace dryfit::cli

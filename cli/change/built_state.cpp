#include "cli/change/built_state.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "cli/check/as_built.hpp"
#include "cli/input/given_steps.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/order/given_state.hpp"
#include "cli/order/planned_order.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// Makes the steps one after the other; each must be legal on what is made.
std::vector<char> made_by(const LoadedFrame& design, const std::vector<planner::GivenStep>& steps,
                          const std::string& file) {
  planner::MoveJudge judge(design.frame, design.contacts);
  std::vector<char> made(design.contacts.contacts.size(), 0);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    for (const planner::ContactId c : steps[i].contacts) {
      if (made[at(c)] != 0) {
        throw UsageError(
            say("{}: step {} makes {} a second time", plain_name(file), i + 1, design.contacts.contact(c).id));
      }
      made[at(c)] = 1;
    }
    model::Message why;
    if (!judge.can_undo(made, steps[i], why)) {
      throw UsageError(say("{}: step {} cannot be made: {}", plain_name(file), i + 1, said(why)));
    }
  }
  return made;
}

}  // namespace

Built built_state(const LoadedFrame& design, const std::string& built, const std::string& order_file, bool order_wanted,
                  const Streams& streams) {
  const std::size_t contacts = design.contacts.contacts.size();
  Built state;
  const std::optional<int> count = step_count(built);
  if (!order_file.empty()) {
    const auto given =
        read_steps(read_text(order_file, streams.in), plain_name(order_file), design.frame, design.contacts);
    static_cast<void>(made_by(as_built(design), given, order_file));
    for (const planner::GivenStep& step : given) state.order.push_back(step.contacts);
  } else if (built.empty() || count || order_wanted) {
    OrderOptions options;
    options.working = streams.working;
    const PlannedOrder planned = planned_order(design, options);
    if (planned.finding.verdict != Verdict::buildable) {
      state.never_stood = std::make_shared<const Finding>(planned.finding);
      if (built.empty() || count) return state;
    }
    for (const planner::Step& step : planned.finding.order.steps) state.order.push_back(step.contacts);
  }
  if (built.empty()) {
    state.made.assign(contacts, 1);
  } else if (count) {
    state.made = after_steps(built, *count, state.order, contacts);
    state.steps = *count;
  } else {
    state.made =
        made_by(as_built(design),
                read_steps(read_text(built, streams.in), plain_name(built), design.frame, design.contacts), built);
  }
  return state;
}

}  // namespace dryfit::cli

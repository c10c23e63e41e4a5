#pragma once
/// Where in the best order something is done.
#include <doctest/doctest.h>

#include <algorithm>
#include <string>

#include "planner/best/best_order.hpp"
#include "tests/support/frames/given_steps.hpp"

namespace dryfit::test {

/// Number of the step that makes the contact; fails the test when none does.
[[nodiscard]] inline int step_of(const Workpiece& piece, const planner::BestOrder& best, const std::string& id) {
  const planner::ContactId contact = piece.list.find(id);
  REQUIRE(contact != model::kNone);
  for (const planner::Step& step : best.order.steps) {
    if (std::find(step.contacts.begin(), step.contacts.end(), contact) != step.contacts.end()) return step.number;
  }
  FAIL("no step makes " << id);
  return 0;
}

}  // namespace dryfit::test

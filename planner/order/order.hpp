#pragma once
/// A build order: numbered steps a person recognises, or the knot that forbids one.
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/state/contacts.hpp"
#include "planner/state/step.hpp"

namespace dryfit::planner {

/// Result of planning. Either `steps` makes every contact, or `knot` is what remains whatever order is tried.
struct Order {
  bool buildable = false;
  std::vector<Step> steps;
  std::vector<ContactId> knot;                      ///< ascending; empty when buildable
  std::vector<std::vector<Refusal>> knot_refusals;  ///< per knot contact: why it cannot be undone
  struct Stats {
    long long moves_tried = 0;
    long long clearance_tests = 0;
    long long parts_visited = 0;
  } stats;
};

/// Greedy peeling: undo what can be undone, smallest first, ties by id; the order is the reverse.
[[nodiscard]] Order find_order(const model::Frame& frame, const ContactList& list);

}  // namespace dryfit::planner

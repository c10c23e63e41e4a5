#pragma once
/// Holds: sets of contacts that keep others made. Private to planner/.
#include <vector>

#include "planner/peel/peeler.hpp"

namespace dryfit::planner {

/// After peeler.run(): `kept` is a set of contacts of which at least one has to go, all still made. The contacts of
/// which at least one must be undone before that: those of `kept` that are frozen, and the frozen ones that the others
/// wait for. Empty when none of `kept` ever goes. Ascending.
///
/// The first contact to go among those that a stuck contact waits for, and those that they wait for in turn, can only
/// go once a frozen one has gone.
[[nodiscard]] std::vector<ContactId> hold_on(const Peeler& peeler, const std::vector<ContactId>& kept);

}  // namespace dryfit::planner

#pragma once
/// How forgiving a frame is: the number of its legal orders, and how careless builders fare.
#include <iosfwd>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "planner/early/careless.hpp"
#include "planner/early/count_orders.hpp"

namespace dryfit::cli {

struct Forgiving {
  bool asked = false;  ///< false: the frame is too large for it
  planner::OrderCount count;
  std::vector<planner::CarelessBuild> builds;
};

/// Counts and simulates; bounded work. `builders`: how many; 0: 100, and none on frames of more than 400 contacts.
[[nodiscard]] Forgiving how_forgiving(planner::Undoer& undoer, int builders, planner::Foreman* foreman = nullptr);

/// `legal_orders` (a number, or null), `legal_orders_estimate` and `careless`.
void add_forgiving(Json& document, const planner::ContactList& list, const Forgiving& forgiving);
void print_forgiving(const model::Frame& frame, const planner::ContactList& list, const Forgiving& forgiving,
                     std::ostream& out);

}  // namespace dryfit::cli

#pragma once
/// The cheapest undo moves by effort.
#include <functional>
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/change/undo_cost.hpp"
#include "planner/early/hold.hpp"

namespace dryfit::planner {

struct SearchedEffort {
  bool found = false;  ///< `moves` lead to the goal for `effort`, and nothing costs less
  std::vector<Move> moves;
  double effort = 0.0;
  double at_least = 0.0;  ///< nothing costs less; `below` when there is nothing that does
  long long states = 0;
};

/// What an effort search goes by.
struct EffortTask {
  std::vector<char> built;                    ///< where it starts, per contact
  const std::vector<Hold>* holds = nullptr;   ///< every way undoes one contact of each
  const std::vector<char>* keep = nullptr;    ///< contacts that stay made, one flag each; null: none has to
  std::function<bool(const State&)> is_good;  ///< the goal
  double below = 0.0;                         ///< only what costs less is of use
  long long budget = 0;                       ///< states
  Foreman* foreman = nullptr;                 ///< told of states
};

/// Best-first (A*) over undo sequences, bounded from below by the holds that are not broken yet.
[[nodiscard]] SearchedEffort search_effort(UndoCost& cost, const ContactList& list, const EffortTask& task);

}  // namespace dryfit::planner

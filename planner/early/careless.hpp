#pragma once
/// Builders who make any contact that can be made at the moment and never look ahead: how often do they get stuck?
#include <cstdint>
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/moves/moves.hpp"

namespace dryfit::planner {

/// Sets of contacts, each with c in it, that one legal step makes in the state: undoing them afterwards is one legal
/// undo move. Ascending. A board goes on all pipes that hang together, on all pipes it has not got yet, or into its
/// slots alone; a run passes through the boards that hang together, or through all.
[[nodiscard]] std::vector<std::vector<ContactId>> steps_forward(Undoer& undoer, const State& state, ContactId c);

/// How one careless builder fared.
struct CarelessBuild {
  bool stuck = false;
  int steps = 0;       ///< steps made before all was done or nothing could be made
  int fatal_step = 0;  ///< stuck: the step, from 1, after which the frame could not be finished any more
  std::vector<ContactId> fatal_contacts;  ///< contacts of that step
  ContactId locked_out = model::kNone;    ///< a contact that cannot be made after it
  int price = 0;  ///< fewest undo moves, from where the builder ended, to a state that can be finished
  int price_at_least = 0;
  bool priced = false;
};

struct CarelessLimits {
  int builders = 100;
  std::uint32_t seed = 1;
  long long moves_asked = 300000;  ///< no further builder starts beyond this work
  int most_priced = 20;            ///< prices are searched for the first so many that get stuck
  long long price_budget = 2000;   ///< undo moves asked for, per price
  Foreman* foreman = nullptr;      ///< told of builders; no further one starts once he ends the work
};

/// Simulates builders one after the other. The same seed gives the same builds.
[[nodiscard]] std::vector<CarelessBuild> careless_builds(Undoer& undoer, const CarelessLimits& limits = {});

}  // namespace dryfit::planner

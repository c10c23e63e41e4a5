#pragma once
/// In how many orders a thing can be put together: how forgiving it is.
#include <cstdint>
#include <optional>

#include "planner/base/foreman.hpp"
#include "planner/early/undo_rules.hpp"

namespace dryfit::planner {

struct OrderCount {
  /// Known exactly and no larger than 2^64 - 1.
  std::optional<std::uint64_t> exact;
  bool counted = false;         ///< every state was seen: log10_orders is exact but for rounding
  double log10_orders = 0.0;    ///< the count, or an unbiased estimate of it; meaningless when there is none
  double relative_error = 0.0;  ///< estimate: standard error divided by the estimate; 0 when counted
  int samples = 0;              ///< estimate: random orders drawn; fewer than 2: nothing can be said
  bool none = false;            ///< it cannot be put together
  long long states = 0;
};

struct CountLimits {
  long long states = 4000;  ///< beyond this many states the count is estimated
  int samples = 400;
  long long moves_asked = 400000;  ///< sampling ends when this many states times contacts have been asked
  std::uint32_t seed = 1;
  Foreman* foreman = nullptr;  ///< told of states, then of samples; those that he allowed count
};

/// Two orders are the same when they make the same sets of contacts in the same sequence. Exact by adding up over the
/// states that undo moves reach, as long as there are few; else by random orders, each weighted with the product of
/// the choices it had on the way, whose mean is the count (D. E. Knuth, Estimating the efficiency of backtrack
/// programs, Mathematics of Computation 29, 1975; from memory). The same seed gives the same answer.
[[nodiscard]] OrderCount count_orders(UndoRules& rules, const CountLimits& limits = {});

}  // namespace dryfit::planner

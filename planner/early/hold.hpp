#pragma once
/// Contacts that cannot all stay made.
#include <algorithm>
#include <tuple>
#include <vector>

#include "planner/state/state.hpp"

namespace dryfit::planner {

struct Hold {
  std::vector<ContactId> of;           ///< at least one of these has to go, ascending
  ContactId once_gone = model::kNone;  ///< asked for only by who undoes this one; kNone: in any case
  [[nodiscard]] bool always() const { return once_gone == model::kNone; }
  /// It counts in the state, and nothing that breaks it is undone.
  [[nodiscard]] bool holds_in(const State& state) const {
    return (always() || !state.made(once_gone)) &&
           std::all_of(of.begin(), of.end(), [&](ContactId c) { return state.made(c); });
  }
  friend bool operator==(const Hold&, const Hold&) = default;
  friend bool operator<(const Hold& a, const Hold& b) {
    return std::tie(a.of, a.once_gone) < std::tie(b.of, b.once_gone);
  }
};

}  // namespace dryfit::planner

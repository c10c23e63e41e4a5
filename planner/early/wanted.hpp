#pragma once
/// What undoing is for.
#include <functional>
#include <optional>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/early/hold.hpp"

namespace dryfit::planner {

/// What the undoing is for.
struct Wanted {
  /// None of these may be made in the end.
  std::vector<ContactId> gone;
  /// Moves that undo nothing but these cost nothing.
  std::vector<ContactId> free;
  /// Further conditions, asked once `gone` is fulfilled; may be left empty. For a state that does not fulfil them: made
  /// contacts of which at least one must be undone in every state that does. None at all: nothing that can be undone
  /// helps.
  std::function<std::optional<Hold>(const State&)> unmet;
  /// One flag per contact: it stays made. Empty: none has to.
  std::vector<char> kept = {};
  [[nodiscard]] bool keeps(ContactId c) const { return !kept.empty() && kept[at(c)] != 0; }
};

}  // namespace dryfit::planner

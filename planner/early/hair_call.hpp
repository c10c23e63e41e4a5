#pragma once
/// Last calls that a hair decides (kHairOfRoom): whether sizes that no tape measure tells apart would make them others.
#include <optional>

#include "planner/early/last_call.hpp"

namespace dryfit::planner {

/// Last calls that are not the one told; each about the same order.
struct HairCall {
  std::optional<LastCall> less;  ///< with a hair less room
  std::optional<LastCall> more;  ///< with a hair more room
  [[nodiscard]] bool any() const { return less || more; }
};

/// Asks for the last calls of one order again. Keeps its own lists and what it has worked out on them.
class HairCalls {
 public:
  /// `steps`: legal. `still_legal`: with a hair less room, too; otherwise nothing can be asked with less.
  HairCalls(const model::Frame& frame, const ContactList& list, StepContacts steps, bool still_legal);
  HairCalls(const HairCalls&) = delete;
  HairCalls& operator=(const HairCalls&) = delete;

  /// For the part with the contacts `own`, whose last call is `told`. O(two last calls).
  [[nodiscard]] HairCall of(const std::vector<ContactId>& own, const LastCall& told);

 private:
  StepContacts steps_;
  ContactList less_room_, more_room_;
  Undoer less_, more_;
  bool still_legal_;
};

}  // namespace dryfit::planner

#pragma once
/// Whether a verdict holds by more than a hair: what no tape measure tells apart is said, not hidden.
#include "planner/order/order.hpp"

namespace dryfit::planner {

struct Margin {
  /// With a hair less room a frame that can be built is locked; with a hair more one that is locked can be built.
  bool other_verdict = false;
  /// What it is about: a contact that comes off with the one allowance and not with the other, and why not.
  struct Tight {
    ContactId contact = model::kNone;
    Refusal why;
  };
  std::vector<Tight> tight;  ///< by contact; may be empty where several have to give way together
};

/// Asks for the verdict again with an allowance that is a hair (kHairOfRoom) smaller, for a frame that can be built, or
/// greater. As dear as one first order.
[[nodiscard]] Margin margin_of(const model::Frame& frame, const ContactList& list, bool buildable);

}  // namespace dryfit::planner

#pragma once
/// Steps of an order that the judge takes, or refuses, by less than a hair (kHairOfRoom).
#include "model/frame/message.hpp"
#include "planner/judge/replay.hpp"

namespace dryfit::planner {

struct TightStep {
  int number = 0;       ///< from 1
  bool legal = true;    ///< as it is judged; false: it would be with a hair more room
  std::string why;      ///< what is in its way with the smaller allowance, in English
  model::Message told;  ///< the same for any language
};

/// Asks about each step again, with a hair less room for those that are legal and a hair more for those that are not.
/// Steps that make a contact twice are passed over. Lengths in `why` are in the frame's units. O(replay), twice.
[[nodiscard]] std::vector<TightStep> tight_steps(const model::Frame& frame, const ContactList& list,
                                                 const std::vector<GivenStep>& steps);

}  // namespace dryfit::planner

#include "cli/order/step_json.hpp"

#include <nlohmann/json.hpp>

namespace dryfit::cli {

Json step_json(const model::Frame& frame, const planner::ContactList& list, const planner::Step& step,
               const StepWords& words) {
  return {{"number", step.number},
          {"action", planner::word_for(step.action)},
          {"contacts", contact_ids(list, step.contacts)},
          {"moving", part_ids(frame, step.moving)},
          {"holding", part_ids(frame, step.holding)},
          {"turns", rounded(step.turns)},
          {"swing_radius_mm", rounded(step.swing_radius)},
          {"moving_mass_kg", rounded(step.moving_mass)},
          {"lifted_kg", rounded(step.lift.mass)},
          {"held_out_mm", rounded(step.lift.held_out)},
          {"one_person_limit_kg", rounded(step.lift.limit)},
          {"hands", words.hands},
          {"cautions", words.cautions},
          {"text", words.text}};
}

}  // namespace dryfit::cli

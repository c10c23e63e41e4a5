#pragma once
/// One step of a build order, as data: what the search finds, the judge judges and people are told.
#include <vector>

#include "planner/base/lifting.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

enum class Action { screw, slide, pass, lay, join, fasten };
[[nodiscard]] const char* word_for(Action action);

/// One step of a build order, in forward direction.
struct Step {
  int number = 0;  ///< from 1
  Action action = Action::screw;
  std::vector<ContactId> contacts;        ///< every contact the step makes; the main one first
  std::vector<PartId> moving;             ///< parts that move, ascending
  std::vector<PartId> holding;            ///< the part(s) held: the other side at the contact
  double turns = 0.0;                     ///< screw: turns of the thread
  double swing_radius = 0.0;              ///< screw: farthest point of the moving side from the axis, mm
  double moving_mass = 0.0;               ///< kg
  model::Vec3 travel;                     ///< slide, pass, lay: how the moving parts move, forward, mm
  std::vector<ContactId> strapped_first;  ///< fastenings of laid boards that must be made before the turn
  std::vector<PartId> aside;              ///< fasten: boards that are held out of the driver's way, ascending
  Lift lift;                              ///< what has to be lifted for it
};

}  // namespace dryfit::planner

#pragma once
/// A build order: numbered steps a person recognises, or the knot that forbids one.
#include <string>
#include <vector>

#include "planner/moves/moves.hpp"
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
};

/// Result of planning. Either `steps` makes every contact, or `knot` is what remains whatever order is tried.
struct Order {
  bool buildable = false;
  std::vector<Step> steps;
  std::vector<ContactId> knot;                      ///< ascending; empty when buildable
  std::vector<std::vector<Refusal>> knot_refusals;  ///< per knot contact: why it cannot be undone
  struct Stats {
    long long moves_tried = 0;
    long long clearance_tests = 0;
    long long parts_visited = 0;
  } stats;
};

/// Greedy peeling: undo what can be undone, smallest first, ties by id; the order is the reverse.
[[nodiscard]] Order find_order(const model::Frame& frame, const ContactList& list);

}  // namespace dryfit::planner

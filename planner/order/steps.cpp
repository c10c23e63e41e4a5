#include "planner/order/steps.hpp"

#include <algorithm>

#include "planner/order/lifts.hpp"

namespace dryfit::planner {
namespace {

/// `screw` follows `pass` on the same moving parts, with a pipe that has just been passed: one card.
bool one_card(const ContactList& list, const Step& pass, const Step& screw) {
  if (pass.action != Action::pass || screw.action != Action::screw || screw.moving != pass.moving) return false;
  const PartId male = list.contact(screw.contacts.front()).a;
  return std::binary_search(screw.moving.begin(), screw.moving.end(), male);
}

}  // namespace

Action action_of(const model::Frame& frame, const Move& move) {
  switch (move.kind) {
    case MoveKind::unscrew: return Action::screw;
    case MoveKind::undo_nut: return Action::join;
    case MoveKind::unfasten: return Action::fasten;
    case MoveKind::take_away: return Action::lay;
    case MoveKind::swing: return Action::slide;
    case MoveKind::slide:
    case MoveKind::sideways: break;
  }
  const bool boards_alone = std::all_of(move.moving.begin(), move.moving.end(),
                                        [&](PartId p) { return frame.part(p).kind == model::PartKind::board; });
  return boards_alone ? Action::slide : Action::pass;
}

Step step_of(const model::Frame& frame, const Move& move) {
  Step step;
  step.action = action_of(frame, move);
  step.contacts = move.contacts;
  step.moving = move.moving;
  step.holding = move.holding;
  step.turns = move.turns;
  step.swing_radius = move.swing_radius;
  step.moving_mass = move.mass;
  step.travel = -move.travel;
  step.strapped_first = move.strapped_first;
  step.aside = move.aside;
  return step;
}

std::vector<Step> steps_of(const model::Frame& frame, const ContactList& list, const std::vector<Move>& undo_moves,
                           const std::vector<Pose>& pose_of_move) {
  std::vector<Step> steps;
  for (std::size_t i = undo_moves.size(); i-- > 0;) {
    Step step = step_of(frame, undo_moves[i]);
    const bool turned = !pose_of_move.empty() && i + 1 < undo_moves.size() && pose_of_move[i] != pose_of_move[i + 1];
    if (!steps.empty() && !turned && one_card(list, steps.back(), step)) {
      const Step& pass = steps.back();
      step.contacts.insert(step.contacts.end(), pass.contacts.begin(), pass.contacts.end());
      step.holding.insert(step.holding.end(), pass.holding.begin(), pass.holding.end());
      std::sort(step.holding.begin(), step.holding.end());
      step.holding.erase(std::unique(step.holding.begin(), step.holding.end()), step.holding.end());
      step.travel = pass.travel;
      steps.back() = std::move(step);
    } else {
      steps.push_back(std::move(step));
    }
  }
  const std::vector<Lift> lifts = lifts_of(frame, list, steps);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    steps[i].number = static_cast<int>(i) + 1;
    steps[i].lift = lifts[i];
  }
  return steps;
}

}  // namespace dryfit::planner

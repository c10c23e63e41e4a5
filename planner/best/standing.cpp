#include "planner/best/standing.hpp"

#include <algorithm>
#include <functional>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

/// Boards of a piece that are on pipes and screwed to nothing; upside down they do not stay on what they lie on.
std::vector<PartId> loose_boards(const model::Frame& frame, const ContactList& list, const BestOrder& best,
                                 const PoseChange& change) {
  std::vector<PartId> loose;
  if (change.from != Pose::over && change.to != Pose::over) return loose;
  State state(list);
  for (std::size_t k = 0; k < change.after; ++k) state.undo(best.undo_moves[k].contacts);
  for (const PartId p : change.piece.parts) {
    if (frame.part(p).kind != model::PartKind::board) continue;
    const auto& contacts = list.at[at(p)];
    const bool screwed = std::any_of(contacts.begin(), contacts.end(), [&](ContactId c) {
      return state.made(c) && list.contact(c).kind == ContactKind::fastening;
    });
    if (!screwed) loose.push_back(p);
  }
  return loose;
}

/// What rests on the state in which each move is made.
void tell_by_state(StandingPlan& plan, const model::Frame& frame, const ContactList& list, const Effort& effort,
                   const BestOrder& best, const std::function<int(std::size_t)>& number) {
  Undoer undoer(frame, list);
  const bool hangs = !frame.surfaces.empty() && surface_facing(frame, model::kUp) == nullptr;
  const LooseRest rests(undoer, effort, hangs);
  const Handling handling(undoer, effort, PosePreference::free);
  const bool under_ceiling = height_of_room(frame).has_value();
  State state(list);
  for (std::size_t k = 0; k < best.undo_moves.size(); ++k) {
    const Move& move = best.undo_moves[k];
    if (move.kind == MoveKind::take_away && !rests.is_firm(state, list.contact(move.contacts.front()).a)) {
      plan.on_loose.push_back(number(k));
    }
    if (under_ceiling && move.kind == MoveKind::unscrew && best.poses.of_move[k] != Pose::laid) {
      const PieceInHand piece = handling.piece_of(state, move);
      const double missing = headroom_missing(frame, effort, piece.parts, move);
      if (missing > plan.headroom_missing) plan.no_headroom_step = number(k);
      plan.headroom_missing = std::max(plan.headroom_missing, missing);
    }
    state.undo(move.contacts);
  }
  std::sort(plan.on_loose.begin(), plan.on_loose.end());
}

}  // namespace

StandingPlan standing_of(const model::Frame& frame, const ContactList& list, const Effort& effort,
                         const BestOrder& best) {
  const std::vector<Step>& steps = best.order.steps;
  std::vector<int> step_of(list.contacts.size(), 0);  // per contact: number of the step that makes it
  for (const Step& step : steps) {
    for (const ContactId c : step.contacts) step_of[at(c)] = step.number;
  }
  const auto number = [&](std::size_t move) { return step_of[at(best.undo_moves[move].contacts.front())]; };
  StandingPlan plan;
  plan.ways_in = ways_in(frame);
  plan.pose_of_step.assign(steps.size(), Pose::laid);
  for (std::size_t i = 0; i < best.undo_moves.size(); ++i) {
    plan.pose_of_step[at(number(i)) - 1] = best.poses.of_move[i];
    if (best.poses.propped[i] != 0) plan.propped.push_back(number(i));
  }
  std::sort(plan.propped.begin(), plan.propped.end());
  plan.propped.erase(std::unique(plan.propped.begin(), plan.propped.end()), plan.propped.end());
  std::vector<std::vector<ContactId>> made;
  for (const Step& step : steps) made.push_back(step.contacts);
  plan.in_rings = rings_in_order(frame, list, made);
  tell_by_state(plan, frame, list, effort, best, number);
  const auto upright = [](const WayIn& way) { return way.upright; };
  if (plan.headroom_missing > 0.0 && std::none_of(plan.ways_in.begin(), plan.ways_in.end(), upright)) {
    // It is screwed to one of the two at most, and still has to get in between them.
    plan.ways_in.push_back(
        {{surface_facing(frame, model::kUp)->id, surface_facing(frame, model::kDown)->id}, true, {}});
  }
  for (const PoseChange& change : best.poses.changes) {
    Turning turning;
    turning.before_step = change.before < 0 ? static_cast<int>(steps.size()) + 1 : number(at(change.before));
    turning.from = change.from;
    turning.to = change.to;
    turning.parts = change.piece.parts;
    turning.lift = effort.lift_of(turning.parts);
    turning.loose = loose_boards(frame, list, best, change);
    turning.tilt = tilt_of(frame, effort, turning.parts);
    plan.turnings.push_back(std::move(turning));
  }
  return plan;
}

}  // namespace dryfit::planner

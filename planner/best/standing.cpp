#include "planner/best/standing.hpp"

#include <algorithm>
#include <functional>
#include <limits>

#include "model/geometry/at.hpp"
#include "planner/effort/support_polygon.hpp"

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

/// Bare pipes of a piece that have been put through boards and screwed to nothing yet.
std::vector<PartId> loose_pipes(const model::Frame& frame, const ContactList& list, const BestOrder& best,
                                const PoseChange& change) {
  std::vector<PartId> loose;
  State state(list);
  for (std::size_t k = 0; k < change.after; ++k) state.undo(best.undo_moves[k].contacts);
  for (const PartId p : change.piece.parts) {
    if (frame.part(p).kind != model::PartKind::pipe) continue;
    const auto& contacts = list.at[at(p)];
    const auto made = [&](ContactId c) { return state.made(c); };
    const auto holds = [&](ContactId c) { return state.made(c) && takes_own_move(list.contact(c).kind); };
    if (std::any_of(contacts.begin(), contacts.end(), made) && std::none_of(contacts.begin(), contacts.end(), holds)) {
      loose.push_back(p);
    }
  }
  return loose;
}

/// The board lies on pipes that go through two boards or more: they can neither roll nor fall.
bool lies_on_pinned_pipes(const model::Frame& frame, const ContactList& list, const State& made, PartId board) {
  const auto& carriers = frame.board_of(board).carriers;
  return std::all_of(carriers.begin(), carriers.end(), [&](PartId carrier) {
    const auto& contacts = list.at[at(carrier)];
    return frame.part(carrier).kind == model::PartKind::pipe &&
           std::count_if(contacts.begin(), contacts.end(),
                         [&](ContactId c) { return made.made(c) && list.contact(c).kind == ContactKind::hole; }) >= 2;
  });
}

/// What is to be screwed to the room hangs in the air until it is.
bool hangs_in_the_air(const model::Frame& frame, const ContactList& list, const Effort& effort,
                      const Handling& handling, const State& before, const Move& move) {
  const model::Surface* floor = surface_facing(frame, model::kUp);
  if (floor == nullptr || move.kind != MoveKind::unfasten) return false;
  if (list.contact(move.contacts.front()).b != model::kRoom) return false;
  const PieceInHand piece = handling.piece_of(before, move);
  return !piece.held && std::all_of(piece.parts.begin(), piece.parts.end(),
                                    [&](PartId p) { return effort.bounds(p).lo.z > floor->at + kFootBand; });
}

/// How far the turning side of work that stands, or stands upside down, reaches below its lowest point, mm; 0 where it
/// is screwed to the room, for there the floor is judged, or where the other side is held in one hand.
double dip_of(const ContactList& list, const Effort& effort, const Handling& handling, const State& before,
              const Move& move, Pose pose) {
  const Contact& thread = list.contact(move.contacts.front());
  if (move.kind != MoveKind::unscrew || pose == Pose::laid || thread.axis.axis() == 2) return 0.0;
  const PieceInHand piece = handling.piece_of(before, move);
  if (piece.held || effort.mass_of(piece.parts) - move.mass <= effort_rates().in_one_hand) return 0.0;
  const double down = pose == Pose::over ? 1.0 : -1.0;
  double lowest = -std::numeric_limits<double>::infinity();
  for (const PartId p : piece.parts) {
    const model::Bounds& box = effort.bounds(p);
    lowest = std::max(lowest, down > 0.0 ? box.hi.z : -box.lo.z);
  }
  return std::max(0.0, down * thread.on_axis.z + move.swing_radius - lowest);
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
    const PartId first = list.contact(move.contacts.front()).a;
    if (move.kind == MoveKind::take_away && !rests.is_firm(state, first) &&
        !lies_on_pinned_pipes(frame, list, state, first)) {
      plan.on_loose.push_back(number(k));
    }
    // What is held up before a wall stands on nothing.
    const double dip = hangs ? 0.0 : dip_of(list, effort, handling, state, move, best.poses.of_move[k]);
    if (dip > kToldDip) plan.dips.push_back({number(k), dip});
    if (hangs_in_the_air(frame, list, effort, handling, state, move)) plan.propped.push_back(number(k));
    if (under_ceiling && move.kind == MoveKind::unscrew && best.poses.of_move[k] != Pose::laid) {
      const PieceInHand piece = handling.piece_of(state, move);
      const double missing = headroom_missing(frame, effort, piece.parts, move);
      if (missing > plan.headroom_missing) plan.no_headroom_step = number(k);
      plan.headroom_missing = std::max(plan.headroom_missing, missing);
    }
    state.undo(move.contacts);
  }
  std::sort(plan.on_loose.begin(), plan.on_loose.end());
  std::sort(plan.dips.begin(), plan.dips.end(), [](const Dip& a, const Dip& b) { return a.step < b.step; });
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
  std::vector<std::vector<ContactId>> made;
  for (const Step& step : steps) made.push_back(step.contacts);
  plan.in_rings = rings_in_order(frame, list, made);
  tell_by_state(plan, frame, list, effort, best, number);
  std::sort(plan.propped.begin(), plan.propped.end());
  plan.propped.erase(std::unique(plan.propped.begin(), plan.propped.end()), plan.propped.end());
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
    turning.pipes = loose_pipes(frame, list, best, change);
    turning.tilt = tilt_of(frame, effort, turning.parts);
    plan.turnings.push_back(std::move(turning));
  }
  return plan;
}

}  // namespace dryfit::planner

#pragma once
/// What now: what is made stands there, however it came about. What has to come off, and the way on from there.
#include <optional>
#include <string>
#include <vector>

#include "planner/now/way_between.hpp"

namespace dryfit::planner {

struct NowOptions {
  int people = 2;              ///< hands at work
  long long budget = 20000;    ///< states for the fewest moves, as Changer::plan counts them
  long long weighing = 30000;  ///< undo moves asked for to find a cheaper rest
  StepsOfContacts order;       ///< an order of the whole frame to go on with where it is as good; may be empty
  Foreman* foreman = nullptr;
};

/// Part of a state that cannot have been built: no undo moves take these contacts apart.
struct CannotStand {
  std::vector<ContactId> contacts;  ///< ascending
  std::vector<Refusal> why;         ///< of the first of them
};
/// Nothing when legal moves lead from bare parts to the state. O(one peeling).
[[nodiscard]] std::optional<CannotStand> cannot_stand(Undoer& undoer, const std::vector<char>& made);

struct WayOn {
  bool locked = false;          ///< no order builds the frame; nothing else holds then
  std::vector<Move> undo;       ///< from what is built, first undone first
  Bounded undo_moves;           ///< how many moves have to come off; `undo` are at_most
  std::vector<ContactId> kept;  ///< what stays made, ascending
  std::vector<Step> then;       ///< from there to the finished frame
  Bounded effort;               ///< of `then`, seconds of easy work
  long long states = 0;         ///< searched in all
};

/// The fewest undo moves from `built` until the frame can be completed and nothing of `renewed` (contacts of parts that
/// are taken out; may be empty) is made, then the cheapest steps to the finished frame. `built` must stand
/// (cannot_stand) and may be locked. Every move has been judged by replay from `built` on. Throws std::logic_error
/// should the judge refuse again and again.
[[nodiscard]] WayOn way_on(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                           const std::vector<ContactId>& renewed = {}, const NowOptions& options = {});

/// Judges moves that are undone from `made` on, then steps that are made on what is left; says of the first that is not
/// legal what is struck out for a search without it. `made` is left as after the last one.
[[nodiscard]] std::optional<StruckOut> judged(const model::Frame& frame, const ContactList& list,
                                              std::vector<char>& made, const std::vector<Move>& undo,
                                              const std::vector<Step>& then, std::string* why = nullptr);

}  // namespace dryfit::planner

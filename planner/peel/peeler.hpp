#pragma once
/// Peeling that can be stopped, copied, told to let frozen contacts go, and taken up again.
#include <queue>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/moves/moves.hpp"
#include "planner/moves/refusal_memory.hpp"
#include "planner/peel/peel_rank.hpp"
#include "planner/peel/waiting_lists.hpp"

namespace dryfit::planner {

/// Undoes whatever can be undone without touching the frozen contacts. What remains does not depend on the order in
/// which it is tried, nor on whether contacts were let go one by one or were never frozen; so answers for many frozen
/// sets can share their common beginning. A copy costs O(contacts).
class Peeler {
 public:
  /// Nothing is undone yet. `frozen`: one flag per contact. `memory`, if given, is asked before the undoer, and told.
  /// Both must outlive the peeler.
  Peeler(Undoer& undoer, State state, std::vector<char> frozen, RefusalMemory* memory = nullptr);

  /// Lets a frozen contact go. It is asked at the next run.
  void release(ContactId c);
  /// Freezes a contact again, or for the first time.
  void freeze(ContactId c) { frozen_[at(c)] = 1; }
  /// Undoes until nothing more can be undone. `moves`, if given, gets what was done, in undo order.
  void run(std::vector<Move>* moves = nullptr);
  /// Undoes until none of `gone` is made, or nothing more can be undone. True when all are gone.
  bool run_until_gone(const std::vector<ContactId>& gone);

  [[nodiscard]] const State& state() const { return state_; }
  [[nodiscard]] bool made(ContactId c) const { return state_.made(c); }
  [[nodiscard]] bool frozen(ContactId c) const { return frozen_[at(c)] != 0; }
  /// Contacts still made, ascending.
  [[nodiscard]] std::vector<ContactId> remaining() const;
  /// What was undone since the peeler was made, in undo order.
  [[nodiscard]] const std::vector<std::vector<ContactId>>& undone() const { return undone_; }
  /// Why a made contact that is not frozen could not be undone when it was asked last. After run() they all stand.
  [[nodiscard]] const std::vector<Refusal>& refusals(ContactId c) const;

 private:
  void ask(ContactId c);
  void wake(ContactId c);  ///< asks those that wait for it
  /// Asks one contact; false when there is none to ask.
  bool step(std::vector<Move>* moves = nullptr);
  void take_off(Move move, std::vector<Move>* moves);
  void wait(ContactId c, SharedRefusals refusals);  ///< until what the refusals rest on has gone

  Undoer* undoer_;
  RefusalMemory* memory_;
  State state_;
  std::vector<char> frozen_;
  std::vector<char> queued_;
  std::priority_queue<PeelRank, std::vector<PeelRank>, std::greater<>> queue_;
  WaitingLists waiting_;
  std::vector<SharedRefusals> refusals_;  ///< per contact, as told last
  std::vector<ContactId> large_;          ///< not decided within the cap
  std::size_t cap_;
  std::vector<std::vector<ContactId>> undone_;
};

}  // namespace dryfit::planner

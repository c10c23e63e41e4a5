#pragma once
/// What is left when some contacts are kept and all else is peeled, remembered. Private to planner/.
#include <map>
#include <vector>

#include "planner/moves/moves.hpp"
#include "planner/moves/refusal_memory.hpp"

namespace dryfit::planner {

/// What is left while a set is kept does not depend on the order of peeling, so what another set leaves is a beginning
/// of it wherever that has this set in it: holds of one search, and of one part after the other, differ little, and
/// most leave what one before has left. Answers are the same whatever was asked before.
class Knots {
 public:
  explicit Knots(std::size_t contacts) : memory_(contacts, RefusalMemory::kMany) {}

  /// The part of a hold that can break it: with the hold kept and all else peeled, the contacts that can go. None of
  /// the others can be the first of the hold to go. The hold is made in `state`; undo moves lead to it from the state
  /// that the first question was about, or to both from another. Always the same undoer. Ascending; empty when nothing
  /// ever breaks it. Costs about one peeling at most.
  [[nodiscard]] std::vector<ContactId> tightened(Undoer& undoer, const State& state,
                                                 const std::vector<ContactId>& hold);

 private:
  enum class Goes : char { unknown, yes, no };
  struct Knot {
    State state;
    std::vector<ContactId> kept;  ///< nothing of the state goes as long as these are kept
    std::vector<Goes> goes;       ///< per contact
  };
  /// More than that cost more to look through than they save; then all are forgotten.
  static constexpr std::size_t kMost = 2000;

  /// The smallest that the hold is in, one that it leaves itself before others; null when there is none.
  [[nodiscard]] Knot* smallest_with(const std::vector<ContactId>& hold);
  [[nodiscard]] Knot& peeled(Undoer& undoer, const State& from, const std::vector<ContactId>& hold);
  [[nodiscard]] bool goes(Undoer& undoer, Knot& knot, ContactId c);

  std::multimap<int, Knot> known_;  ///< by contacts made
  RefusalMemory memory_;
};

}  // namespace dryfit::planner

#pragma once
/// Turns out of a thread that were found legal once, with what that rests on. Private to planner/moves.
#include <vector>

#include "planner/state/state.hpp"

namespace dryfit::planner {

/// A refusal stands as long as what holds it is made; a legal turn stays legal as long as what has gone stays away: the
/// side that turned, with every contact that led out of it gone but the thread, can only have become smaller, and so
/// has what it meets. The same few parts at the end of something are asked about in state after state.
class LegalTurns {
 public:
  /// More ways for one thread than this cost more to look through than they save.
  static constexpr std::size_t kMost = 8;

  explicit LegalTurns(std::size_t contacts) : known_(contacts) {}

  /// The made thread can be undone in the state, by a side of at most `cap` parts. False: nothing is known. O(a few
  /// short lists).
  [[nodiscard]] bool known(const State& state, ContactId thread, std::size_t cap);
  struct Turn {
    std::size_t parts = 0;          ///< of the side, at most
    int end = 0;                    ///< the thread's vertex in it
    std::vector<ContactId> gone;    ///< as long as none of these is made
    std::vector<PartId> meets;      ///< parts outside that it would hit: legal where they are of other clusters
    bool enters_surface = false;    ///< legal only where the room is of another cluster
    ContactId back = model::kNone;  ///< of `gone`: what was made when it was asked last
  };
  /// The turn is legal whatever else is made.
  void keep(ContactId thread, Turn turn);

 private:
  std::vector<std::vector<Turn>> known_;  ///< per contact, the one used last first
};

}  // namespace dryfit::planner

#pragma once
/// Sides of threads that were found free to turn, or not, once. Private to planner/moves.
#include <array>
#include <vector>

#include "planner/state/state.hpp"

namespace dryfit::planner {

/// Undoing only splits pieces: a side that can turn can still turn, whole or what is left of it, when more has gone, and
/// one that cannot stays so as long as what holds it is made. States of a search follow from each other, so most are
/// answered by the one before.
class KnownSides {
 public:
  /// More states for one side than this cost more to look through than they save.
  static constexpr std::size_t kMost = 6;

  explicit KnownSides(std::size_t contacts) : known_(contacts) {}

  enum class Known { nothing, turns, stays };
  /// What is known of the side of a thread's male or female end. O(a few states).
  [[nodiscard]] Known of(const State& state, ContactId thread, bool male);
  void keep_turning(const State& state, ContactId thread, bool male);
  /// It cannot turn as long as these are made. Not empty.
  void keep_staying(ContactId thread, bool male, std::vector<ContactId> held_by);

 private:
  struct Side {
    std::vector<std::vector<char>> turns;       ///< made contacts; the one used last first
    std::vector<std::vector<ContactId>> stays;  ///< as long as all of these are made
  };
  [[nodiscard]] Side& side(ContactId thread, bool male) { return known_[at(thread)][male ? 0 : 1]; }

  std::vector<std::array<Side, 2>> known_;  ///< per contact
};

}  // namespace dryfit::planner

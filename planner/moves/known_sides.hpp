#pragma once
/// Sides of contacts that were found free to move, or not, once. Private to planner/moves.
#include <array>
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

/// Undoing only splits pieces: a side that can move can still move, whole or what is left of it, when more has gone,
/// and one that cannot stays so as long as what holds it is made. States of a search follow from each other, so most
/// are answered by the one before. Each contact has two sides, or one side two ways to go: `one` says which.
class KnownSides {
 public:
  /// More states for one side than this cost more to look through than they save.
  static constexpr std::size_t kMost = 6;

  explicit KnownSides(std::size_t contacts) : known_(contacts) {}

  enum class Known { nothing, goes, stays };
  /// `parts`: in the side, where it goes only as it is: what slides in fewer parts has more to get past. 0: whatever is
  /// left of it goes. O(a few states).
  [[nodiscard]] Known of(const State& state, ContactId contact, bool one, std::size_t parts = 0);
  void keep_going(const State& state, ContactId contact, bool one, std::size_t parts = 0);
  /// It cannot move as long as these are made. `told`: the refusals that say so, for who asks for no others.
  void keep_staying(ContactId contact, bool one, std::vector<ContactId> held_by, std::vector<Refusal> told = {});
  /// After of() has said that it stays: what was told then; null when nothing was.
  [[nodiscard]] const std::vector<Refusal>* told(ContactId contact, bool one) const;

 private:
  struct Going {
    std::size_t parts = 0;
    std::vector<char> made;  ///< per contact
    std::size_t beyond = 0;  ///< a place before which more was made when it was asked last
  };
  struct Staying {
    std::vector<ContactId> held_by;  ///< as long as all of these are made
    std::vector<Refusal> told;
    ContactId missed = model::kNone;  ///< of held_by: what was not made when it was asked last
  };
  struct Side {
    std::vector<Going> goes;     ///< the one used last first
    std::vector<Staying> stays;  ///< the one used last first
  };
  [[nodiscard]] Side& side(ContactId contact, bool one) { return known_[at(contact)][one ? 0 : 1]; }

  std::vector<std::array<Side, 2>> known_;  ///< per contact
};

}  // namespace dryfit::planner

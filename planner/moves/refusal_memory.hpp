#pragma once
/// Refusals that were told once and still stand.
#include <memory>
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

/// Every refusal of one attempt, and what they rest on together, worked out once for all who ask.
class Refusals {
 public:
  explicit Refusals(std::vector<Refusal> each);
  [[nodiscard]] const std::vector<Refusal>& each() const { return each_; }
  /// As long as all of these are made every one of the refusals stands. Ascending, each once.
  [[nodiscard]] const std::vector<ContactId>& held_by() const { return held_by_; }

 private:
  std::vector<Refusal> each_;
  std::vector<ContactId> held_by_;
};
/// Never changed, so copies of peelers and memories share them.
using SharedRefusals = std::shared_ptr<const Refusals>;

/// A refusal stands as long as the contacts that hold it are made, whatever else has gone: so what was refused in one
/// state is refused in every other that has those contacts. Questions about many frozen sets of one frame repeat
/// themselves; asking here first saves most of the geometry.
class RefusalMemory {
 public:
  /// More reasons per contact than this cost more to look through than they save, where most states are new.
  static constexpr std::size_t kFew = 6;
  /// Where one state after the other is looked at that differ little.
  static constexpr std::size_t kMany = 24;
  /// Keeps `most` reasons for each contact; the one that was not used for longest gives way.
  explicit RefusalMemory(std::size_t contacts, std::size_t most = kFew) : most_(most), known_(contacts) {}

  /// Why `c` cannot be undone in the state, if that is known already; else nullptr. O(a few held sets).
  [[nodiscard]] SharedRefusals find(const State& state, ContactId c);
  /// Keeps all refusals of one attempt, unless one of them only stands because another contact is to stay.
  void keep(ContactId c, const SharedRefusals& refusals);

 private:
  struct Known {
    SharedRefusals refusals;
    ContactId missed = model::kNone;  ///< of held_by(): what was not made when it was asked last
  };

  std::size_t most_;
  std::vector<std::vector<Known>> known_;  ///< per contact, the one used last first
};

}  // namespace dryfit::planner

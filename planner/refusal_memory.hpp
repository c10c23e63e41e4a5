#pragma once
/// Refusals that were told once and still stand..
#include <memory>
#include <vector>

#include "planner/moves.hpp"

namespace dryfit::planner {

/// A refusal stands as long as the contacts that hold it are made, whatever else has gone: so what was refused in one
/// state is refused in every other that has those contacts. Questions about many frozen sets of one frame repeat
/// themselves; asking here first saves most of the geometry.
class RefusalMemory {
 public:
  using Refusals = std::shared_ptr<const std::vector<Refusal>>;
  explicit RefusalMemory(std::size_t contacts) : known_(contacts) {}

  /// Why `c` cannot be undone in the state, if that is known already; else nullptr. O(a few held sets).
  [[nodiscard]] Refusals find(const State& state, ContactId c);
  /// Keeps all refusals of one attempt, unless one of them only stands because another contact is to stay.
  void keep(ContactId c, const Refusals& refusals);

 private:
  struct Known {
    std::vector<ContactId> held;
    Refusals refusals;
  };
  /// Per contact, the one used last first. Copies share them.
  std::vector<std::vector<std::shared_ptr<const Known>>> known_;
};

}  // namespace dryfit::planner

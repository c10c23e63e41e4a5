#pragma once
/// What is known to be refused, kept over states: a refusal stands in every state that has all contacts it rests on.
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

/// What several refusals rest on together: as long as all of it is made, every one of them stands. Ascending, each
/// once.
[[nodiscard]] std::vector<ContactId> grounds_of(const std::vector<Refusal>& refusals);

class Refused {
 public:
  explicit Refused(std::size_t contacts) : known_(contacts) {}

  /// The contacts that a known refusal of c in this state rests on, or nullptr. O(refusals kept * their size).
  [[nodiscard]] const std::vector<ContactId>* find(const State& state, ContactId c) const;
  /// Keeps why c was refused, every way that was tried without a cap; returns the contacts that it rests on, ascending.
  const std::vector<ContactId>& keep(ContactId c, const std::vector<Refusal>& refusals);

 private:
  static constexpr std::size_t kKept = 24;  // per contact; the oldest gives way
  struct Kept {
    std::vector<std::vector<ContactId>> grounds;
    std::size_t next = 0;
  };
  std::vector<Kept> known_;
};

}  // namespace dryfit::planner

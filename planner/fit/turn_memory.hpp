#pragma once
/// What the components of turn programs were solved to. Rails of one kind are the same component many times over, and a
/// design that is tried with another pipe differs from the one before in a few.
#include <map>
#include <optional>
#include <vector>

#include "planner/fit/fit_components.hpp"

namespace dryfit::planner {

/// The turning of one component, in its own numbers.
struct SolvedComponent {
  std::vector<int> quarters;   ///< per group, all members together
  std::vector<double> shifts;  ///< per shift, mm
  std::vector<bool> open;      ///< per row: given up
  bool proven = true;          ///< as in TurnAnswer
  bool must_open = false;      ///< rows are open, and it is known that one has to be
  long long nodes = 0;
};

/// Components that agree in every number have one answer. Not for use from two threads at once.
class TurnMemory {
 public:
  using Key = std::vector<double>;

  /// All that the answer depends on. O(terms).
  [[nodiscard]] static Key key_of(const TurnProgram& program, const Component& part);
  [[nodiscard]] const SolvedComponent* find(const Key& key) const;
  void keep(const Key& key, SolvedComponent solved);

 private:
  std::map<Key, SolvedComponent> solved_;
};

}  // namespace dryfit::planner

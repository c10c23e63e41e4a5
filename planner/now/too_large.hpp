#pragma once
/// What does not pass an opening in a state, as contacts of which one has to go.
#include <optional>
#include <vector>

#include "planner/early/hold.hpp"
#include "planner/now/doorway.hpp"
#include "planner/state/links.hpp"

namespace dryfit::planner {

/// Holds references to all it is given.
class TooLarge {
 public:
  TooLarge(const ContactList& list, const Links& links, const Doorway& door) : list_(list), links_(links), door_(door) {}

  /// Parts that do not pass even by themselves, ascending. O(parts).
  [[nodiscard]] std::vector<PartId> parts() const;

  /// For a state in which nothing is made with the room. Nothing when every piece of it passes. Else made contacts of
  /// which one has to go in every state that will do: a chain or a tree of contacts whose parts do not pass together, so
  /// that leaving out a part at its end would let it pass. No contacts at all: a part by itself does not pass.
  /// O(contacts + parts of that piece * size of the tree).
  [[nodiscard]] std::optional<Hold> unmet(const State& state) const;

 private:
  struct Reached {
    PartId part;
    int from;      ///< place of the one that it was reached from; -1: the first
    ContactId by;  ///< kNone: the first
  };
  using Tree = std::vector<Reached>;
  [[nodiscard]] bool passes(const Tree& tree, std::size_t count) const;
  [[nodiscard]] Tree grown(const State& state, PartId from, const std::vector<char>& within) const;
  void cut_leaves(Tree& tree) const;

  const ContactList& list_;
  const Links& links_;
  const Doorway& door_;
};

}  // namespace dryfit::planner

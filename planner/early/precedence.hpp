#pragma once
/// The strict must-come-first relation between contacts, exact: what is never made after what, in any legal order.
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

/// One link between two classes of contacts.
struct MustPrecede {
  int earlier = 0;
  int later = 0;
  friend auto operator<=>(const MustPrecede&, const MustPrecede&) = default;
};

struct Precedence {
  /// Per contact x: the contacts that every legal order makes before x or in the same move; x itself and what always
  /// goes together with it are left out. Ascending.
  std::vector<std::vector<ContactId>> before;
  /// Contacts that always go in one move are one class. Numbered by their smallest contact; each ascending.
  std::vector<std::vector<ContactId>> classes;
  std::vector<int> class_of;  ///< per contact

  /// True when `earlier` is made before `later` (or in the same move) in every legal order. O(log n).
  [[nodiscard]] bool comes_first(ContactId earlier, ContactId later) const;
};

/// Freezes each contact and peels the rest: what remains must be there when it is made. Halves share their peeling, so
/// a sparse relation costs O(log n) full peels, a dense one about its own size in undo moves.
/// In a locked frame the contacts of the knot are before everything.
[[nodiscard]] Precedence precedence_of(Undoer& undoer);

/// The links between classes without those that follow from others: what people need to see. Ascending. Uses
/// Boost.Graph.
[[nodiscard]] std::vector<MustPrecede> reduced(const Precedence& precedence);

}  // namespace dryfit::planner

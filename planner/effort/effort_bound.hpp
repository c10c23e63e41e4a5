#pragma once
/// What taking a piece of work apart costs at least, whatever the order, and in whatever pose.
#include <functional>
#include <optional>
#include <utility>
#include <vector>

#include "planner/base/disjoint_sets.hpp"
#include "planner/effort/effort.hpp"

namespace dryfit::planner {

/// Keeps what it finds. Holds references.
class EffortBound {
 public:
  /// `spent`: true once no more moves may be asked for; what is not known then counts as nothing.
  EffortBound(Undoer& undoer, const Effort& effort, std::function<bool()> spent)
      : undoer_(undoer),
        effort_(effort),
        spent_(std::move(spent)),
        least_(undoer.list().contacts.size()),
        pieces_(undoer.frame().parts.size()) {}

  /// No way to take the made contacts but `except` apart has less extra. A thread always parts two pieces, so each pays
  /// at least what it pays in the smallest state. Of nuts and flanges under boards, those that close a ring pay
  /// nothing, the others span the pieces like a tree: the cheapest spanning tree is the least that they pay. `threads`:
  /// count threads too, which takes far more work. Heavy boards count too, and then no joint for being made on what
  /// the room holds but those that come after them.
  [[nodiscard]] double of(const std::vector<char>& made, const std::vector<ContactId>& except, bool threads);

 private:
  /// What contact c costs at least whenever it parts two pieces of work: its cost in the smallest state, which is what
  /// must have been made before c. Never: it does not, for its ends hang together otherwise even there.
  struct Least {
    double with_room = 0.0;     ///< all of it
    double without_room = 0.0;  ///< but what it costs to be made on what the room holds
  };
  Least least_extra(ContactId c);
  double sum_of(const std::vector<char>& made, bool threads, bool room);

  Undoer& undoer_;
  const Effort& effort_;
  std::function<bool()> spent_;
  std::vector<std::optional<Least>> least_;
  // Kept from call to call: a bound is asked for more often than anything else.
  std::vector<char> left_;
  DisjointSets pieces_;
  std::vector<std::pair<double, ContactId>> links_;
};

}  // namespace dryfit::planner

#pragma once
/// Who has to be asked again once a contact has gone. Private to planner/.
#include <memory>
#include <vector>

#include "model/geometry/at.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// Per contact a list of those that wait for it to go. A contact stands at most once in each list: asked again and
/// again it would fill them otherwise. Lists only grow at their ends, so copies share what they have in common; a copy
/// costs O(contacts).
class WaitingLists {
 public:
  explicit WaitingLists(std::size_t contacts);

  /// From now on `c` waits for all of `held` (ascending), and still for what it waited for before. O(size of both).
  void wait(ContactId c, const std::vector<ContactId>& held) {
    wait(c, std::make_shared<const std::vector<ContactId>>(held));
  }
  /// The same without a copy: most wait but for one thing.
  void wait(ContactId c, std::shared_ptr<const std::vector<ContactId>> held);
  /// Those that wait for a contact, the latest first. O(their number).
  [[nodiscard]] std::vector<ContactId> of(ContactId gone) const;
  /// Shows `see` the same one by one. It must not make anybody wait.
  template <class See>
  void each_of(ContactId gone, const See& see) const {
    for (int node = first_[at(gone)]; node != model::kNone;) {
      const Node& waiting = (*nodes_)[at(node)];
      see(waiting.waits);
      node = waiting.next;
    }
  }
  /// Nobody waits for it any more: it has gone for good.
  void drop(ContactId gone);

 private:
  struct Node {
    ContactId waits;
    int next;
  };
  std::shared_ptr<std::vector<Node>> nodes_;                              ///< of all copies
  std::vector<int> first_;                                                ///< per contact, into nodes_; or kNone
  std::vector<std::shared_ptr<const std::vector<ContactId>>> waits_for_;  ///< in whose lists it stands, ascending
};

}  // namespace dryfit::planner

#pragma once
/// What has to be undone at the least before some parts hang together with others no more. Private to planner/early.
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// Threads, nuts and fastenings that are made and cost a move: each is undone by a move of its own. Vertices as in
/// ContactList. The list must outlive this.
class ThreadCuts {
 public:
  ThreadCuts(const ContactList& list, std::vector<char> made, std::vector<char> free);

  /// Who parts `from` from all that are marked undoes at least so many. By Menger's theorem there are as many ways
  /// between them that share none; a maximum flow, O(least * contacts).
  [[nodiscard]] int least(const std::vector<int>& from, const std::vector<char>& marked) const;
  /// Some of those ways, short ones first, ascending: of each of them one has to go. At most `most`.
  [[nodiscard]] std::vector<std::vector<ContactId>> ways(const std::vector<int>& from, const std::vector<char>& marked,
                                                         std::size_t most) const;

 private:
  [[nodiscard]] std::vector<ContactId> shortest(const std::vector<int>& from, const std::vector<char>& marked,
                                                const std::vector<char>& counts) const;

  const ContactList& list_;
  std::vector<char> counts_;  ///< per contact
};

}  // namespace dryfit::planner

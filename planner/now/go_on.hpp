#pragma once
/// An order is followed and a part is missing: which of its next steps can be done all the same.
#include <cstddef>
#include <vector>

#include "planner/judge/replay.hpp"
#include "planner/moves/moves.hpp"

namespace dryfit::planner {

struct WithoutIt {
  std::vector<std::size_t> steps;  ///< indices, ascending; done in this order, then all that was left out, in order
  bool then_needed = false;        ///< nothing more of the order can be done without it as it stands there
};

/// Asks one order. Holds references; one per thread.
class GoOn {
 public:
  /// So far ahead steps are looked at.
  static constexpr std::size_t kAhead = 40;

  /// `steps` from bare parts to the finished frame.
  GoOn(const model::Frame& frame, const ContactList& list, const std::vector<Step>& steps);

  /// Judges on the same frame as it stands elsewhere as well: after the turns of its fit.
  void judge_on(const model::Frame& frame, const ContactList& list);

  /// `first`: the step that puts on the part whose contacts are `missing`; those before it are done, and none of them has
  /// one. Of the next steps as many as can be done one after the other, each as it stands in the order, with the same
  /// side moving, so that the part and all that was left out can follow in the order's own turn. Every step has been
  /// judged by replay in the place that it gets. O(kAhead * log kAhead) undo moves asked for, and as many for each step that
  /// would lock out the part.
  [[nodiscard]] WithoutIt without(std::size_t first, const std::vector<ContactId>& missing);

 private:
  [[nodiscard]] bool goes(std::vector<char>& made, std::size_t step);
  [[nodiscard]] bool the_rest_goes(std::vector<char> made, std::size_t first, const std::vector<std::size_t>& done);
  [[nodiscard]] std::size_t longest_beginning(const std::vector<char>& before, std::size_t first,
                                              const std::vector<std::size_t>& steps);
  [[nodiscard]] bool judged(std::vector<char> made, std::size_t first, const std::vector<std::size_t>& done);

  const ContactList& list_;
  const std::vector<Step>& steps_;
  Undoer undoer_;
  std::vector<MoveJudge> judges_;
};

}  // namespace dryfit::planner

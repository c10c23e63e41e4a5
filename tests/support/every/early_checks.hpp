#pragma once
/// What must go on early, checked against every state that can be reached.
#include <memory>
#include <string>

#include "planner/early/trap.hpp"
#include "tests/support/every/every_state.hpp"
#include "tests/support/oracle/oracle.hpp"

namespace dryfit::tests {

/// A frame with all that is asked about it.
struct Example {
  model::Frame frame;
  planner::ContactList list;
  planner::Undoer undoer;
  planner::FrameRules rules;
  explicit Example(const std::string& text);
  Example(const Example&) = delete;
  Example& operator=(const Example&) = delete;
  /// Fails the test when there is none.
  [[nodiscard]] planner::ContactId id(const char* name) const;
  [[nodiscard]] planner::NamedPart part(const std::string& label) const;
  /// The greedy order's steps.
  [[nodiscard]] planner::StepContacts steps() const;
};

/// The undo moves of a frame as the brute-force oracle has them: shares no code with the planner.
class OracleRules : public planner::UndoRules {
 public:
  explicit OracleRules(const Example& example);
  [[nodiscard]] int contacts() const override;
  [[nodiscard]] std::vector<std::vector<planner::ContactId>> moves(const Made& made) override;
  [[nodiscard]] bool borderline() const { return oracle_.borderline(); }

 private:
  test::Oracle oracle_;
  std::vector<planner::ContactId> contact_of_bit_;
};

/// The strict relation equals what every state says.
void check_relation(Example& example, const EveryState& all);
/// Prices (depths) and lock-outs of every part.
void check_parts(Example& example, const EveryState& all);
/// Last calls in the greedy order, by the plain definition: put the part off behind every step that can be made without
/// it, as long as the state can be completed. `rules`: the same that `all` was made of.
void check_last_calls(Example& example, const EveryState& all, planner::UndoRules& rules);

/// Exact share of careless builders who get stuck: they make any contact that can be made at the moment, each as
/// likely, in any of the ways it can be made. For frames of a handful of contacts.
[[nodiscard]] double stuck_share(planner::UndoRules& rules);

}  // namespace dryfit::tests

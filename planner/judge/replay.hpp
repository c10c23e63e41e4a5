#pragma once
/// The independent judge of an order: replays it backwards by the plain text of the rules. Shares nothing with
/// the search but the model and the contact list.
#include <memory>
#include <string>
#include <vector>

#include "planner/state/step.hpp"

namespace dryfit::model {
class Message;
}

namespace dryfit::planner {

/// A step as somebody wrote it: only action and contacts are needed.
struct GivenStep {
  Action action = Action::screw;
  std::vector<ContactId> contacts;
  std::vector<PartId> moving;  ///< empty: any side that can
};

struct ReplayResult {
  bool legal = false;
  int first_bad_step = 0;  ///< number from 1; 0 when legal; one more than there are steps when contacts are missing
  std::string why;         ///< in English, e.g. "step 7: P3 cannot be screwed into C1: turning P3 would ..."
};

/// True when every contact is made exactly once and each step, undone from the last to the first, is one legal undo
/// move whose word fits all its contacts. `screw` may name besides its joint the holes that its pipe is passed through
/// just before, in one move. What a step meets depends only on what the steps up to it have made, so the judge goes on
/// after a bad step and reports the earliest one. O(steps * parts moved) times the bodies near them.
/// Lengths in `why` are in the frame's units, or in inches and metric units with `both_units`. `reason`, if given, gets
/// `why` without the number of the step, for any language.
[[nodiscard]] ReplayResult replay(const model::Frame& frame, const ContactList& list,
                                  const std::vector<GivenStep>& steps, bool both_units = false,
                                  model::Message* reason = nullptr);

/// Judges single steps of one frame. Set up once in O(n log n); a judgement costs about what moves in it.
/// Keeps references to the frame and the list. Not for use from two threads at once.
class MoveJudge {
 public:
  MoveJudge(const model::Frame& frame, const ContactList& list);
  ~MoveJudge();
  MoveJudge(MoveJudge&&) noexcept;
  MoveJudge& operator=(MoveJudge&&) noexcept;

  /// True when the step's contacts, all of them made now, come off by one legal undo move that undoes nothing else (by
  /// two for a pipe that is passed and screwed in). `made` has one entry per contact. When false, `why` (if given) says
  /// why in mechanical words, in English or as a message for any language.
  [[nodiscard]] bool can_undo(const std::vector<char>& made, const GivenStep& step, std::string* why = nullptr);
  [[nodiscard]] bool can_undo(const std::vector<char>& made, const GivenStep& step, model::Message& why);

 private:
  struct Inside;
  std::unique_ptr<Inside> inside_;
};

/// MoveJudge::can_undo for a single question.
[[nodiscard]] bool replay_move_is_legal(const model::Frame& frame, const ContactList& list,
                                        const std::vector<char>& made, Action action,
                                        const std::vector<ContactId>& contacts, std::string* why = nullptr);

}  // namespace dryfit::planner

#pragma once
/// What can be undone next, for anything that comes apart step by step: a frame, or an example of the literature that
/// is given by its rules alone. Counting needs no more.
#include <vector>

#include "planner/moves/moves.hpp"

namespace dryfit::planner {

class UndoRules {
 public:
  UndoRules() = default;
  UndoRules(const UndoRules&) = delete;
  UndoRules& operator=(const UndoRules&) = delete;
  virtual ~UndoRules() = default;

  /// Contacts are numbered from 0 to contacts() - 1.
  [[nodiscard]] virtual int contacts() const = 0;
  /// Every set of contacts that one legal move undoes when those marked in `made` are made: each set ascending and
  /// once, sets ascending.
  [[nodiscard]] virtual std::vector<std::vector<ContactId>> moves(const std::vector<char>& made) = 0;
};

/// The rules of legality of a frame. Cost of a question: one try per made contact.
class FrameRules : public UndoRules {
 public:
  /// The undoer must outlive the rules.
  explicit FrameRules(Undoer& undoer) : undoer_(&undoer) {}
  [[nodiscard]] int contacts() const override;
  [[nodiscard]] std::vector<std::vector<ContactId>> moves(const std::vector<char>& made) override;

 private:
  Undoer* undoer_;
};

}  // namespace dryfit::planner

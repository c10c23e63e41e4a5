#pragma once
/// One question put to the search, the judge and the oracle: can this contact be undone now?
#include <string>
#include <vector>

#include "planner/moves/moves.hpp"
#include "tests/support/frames/given_steps.hpp"
#include "tests/support/oracle/oracle.hpp"

namespace dryfit::test {

class ThreeVoices {
 public:
  /// A frame from format 1 text. Throws what the reader throws.
  explicit ThreeVoices(const std::string& text);

  /// Whether `id` can be undone in the finished frame less the contacts in `gone`: "yes" or "no" when all three agree,
  /// else who said what. Others may go along with it. Throws std::invalid_argument for an unknown contact.
  [[nodiscard]] std::string undoes(const std::string& id, const std::vector<std::string>& gone = {});

  [[nodiscard]] const model::Frame& frame() const { return piece_.frame; }
  [[nodiscard]] const model::Part& part(const std::string& id) const;
  [[nodiscard]] const model::Board& board(const std::string& id) const;

 private:
  Workpiece piece_;
  planner::Undoer undoer_;
  Oracle oracle_;
};

}  // namespace dryfit::test

#pragma once
/// Errors that point at the user's file. A reader collects all of them before it gives up.
#include <stdexcept>
#include <string>
#include <vector>

namespace dryfit::model {

/// 1-based; line 0 means the file as a whole.
struct SourcePos {
  int line = 0;
  int column = 0;
  friend constexpr auto operator<=>(const SourcePos&, const SourcePos&) = default;
};

/// One mistake. `text` is complete but for the position: what was found, what was expected, the nearest word.
struct InputFault {
  SourcePos where;
  std::string text;
};

/// The input is wrong and the user can mend it. what() is every fault, one line each:
/// "rack.yaml:14:9: part 'T1': unknown kind 'tea', expected ...; did you mean 'tee'?"
class InputError : public std::runtime_error {
 public:
  InputError(std::string file, std::vector<InputFault> faults);
  [[nodiscard]] const std::string& file() const noexcept { return file_; }
  [[nodiscard]] const std::vector<InputFault>& faults() const noexcept { return faults_; }

 private:
  std::string file_;
  std::vector<InputFault> faults_;
};

}  // namespace dryfit::model

#pragma once
/// Collects every mistake of a frame file, so that all are told in one go.
#include <string>
#include <string_view>
#include <vector>

#include "model/frame/input_error.hpp"

namespace dryfit::model {

/// What a message is about: "part 'T1'", "run 'left post'", or just "frame". Made into text only when needed.
/// Views: whoever is named must outlive the subject.
struct Subject {
  std::string_view what;
  std::string_view id;
  [[nodiscard]] std::string text() const;
};

class Faults {
 public:
  void add(SourcePos where, const Subject& subject, std::string_view text);
  [[nodiscard]] bool any() const { return !faults_.empty(); }
  /// Throws InputError with all faults, sorted by position and each told once, when there are any.
  void throw_if_any(const std::string& file);

 private:
  std::vector<InputFault> faults_;
};

}  // namespace dryfit::model

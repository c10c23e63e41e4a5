#pragma once
/// What a part that is on could be instead: stock lengths of a pipe, other directions of a fitting, other sizes.
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "cli/edit/offers.hpp"

namespace dryfit::cli {

/// A value that `--set` takes, and what else it can be.
struct Choice {
  std::string target;  ///< "T1.tee", "T1.branch-size"
  std::string value;   ///< as it is; "" where the file says none
  std::vector<std::string> others;
};

struct Choices {
  std::string part, kind;
  std::string length;                  ///< of a pipe, as the file holds it
  std::vector<LengthOffered> lengths;  ///< as those of an open end, where the pipe is screwed in somewhere
  std::vector<Choice> directions;      ///< one, or none where it takes none
  std::vector<Choice> sizes;           ///< of the part, of its outlet or its far end: with which the frame can be read
};

/// Every direction is tried in the text, and every size that no thread is in the way of. `name` is what the frame's file
/// is called. Throws UsageError when there is no such part. O(values tried times the reading of the frame).
[[nodiscard]] Choices choices_of(const LoadedFrame& loaded, const std::string& name, const std::string& part);
[[nodiscard]] Json choices_json(const Choices& choices);
/// For a terminal.
[[nodiscard]] std::string choices_text(const Choices& choices, model::Units units);

}  // namespace dryfit::cli

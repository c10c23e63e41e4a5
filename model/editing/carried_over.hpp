#pragma once
/// What another tool made of a frame file, carried over into the bytes that a person wrote.
#include <string>
#include <string_view>

#include "model/frame/frame.hpp"

namespace dryfit::model {

/// `text` with the values that `changed` has, another text of the same frame that says it without comments or order:
/// what the two agree on keeps its bytes. New values are written in one line; lengths told in mm are written as a
/// person types them in `units`. Throws std::invalid_argument when a text is no YAML, or a change would fall into runs
/// or boards that stand in one line. O(differences times length of the text).
[[nodiscard]] std::string with_changes_of(std::string_view text, std::string_view changed, Units units);

}  // namespace dryfit::model

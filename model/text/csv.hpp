#pragma once
/// Lines of comma-separated values, by RFC 4180 but for line ends inside of a field.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "model/frame/message.hpp"

namespace dryfit::model {

/// The fields of one line as views into it. A field that stands in double quotes may hold commas, and quotes written
/// twice (see csv_text); blanks round the quotes are let pass. nullopt, with `why` in words, for a quote that stays
/// open and for text behind a quoted field.
[[nodiscard]] std::optional<std::vector<std::string_view>> csv_fields(std::string_view line, Message* why);

/// What a field says: every quote once.
[[nodiscard]] std::string csv_text(std::string_view field);

/// A text as a field: in quotes where it holds a comma, a quote or a line end.
[[nodiscard]] std::string csv_field(const std::string& text);

}  // namespace dryfit::model

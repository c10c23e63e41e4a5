#pragma once
/// Lengths in messages: what is wrong with a phrase, and a length as it is told.
#include <optional>
#include <string_view>

#include "model/frame/frame.hpp"
#include "model/frame/message.hpp"

namespace dryfit::model {

/// parse_length() of length.hpp; where it is no length, `why` is what is wrong and what is expected.
[[nodiscard]] std::optional<double> parse_length(std::string_view text, Units units, Message& why);

/// fine_in_units() of length.hpp with its unit put into the language: "37.3 mm", "1-29/64 Zoll".
[[nodiscard]] Message length_said(double mm, Units units, bool up = false);

}  // namespace dryfit::model

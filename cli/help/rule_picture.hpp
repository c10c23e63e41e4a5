#pragma once
/// The picture of one rule of legality: a tiny frame with the move that the rule is about, or with what it forbids.
#include <string>

#include "cli/draw/paint/surface.hpp"

namespace dryfit::cli {

/// The bytes of the picture. Drawn from cli/docs/rules/RULE.yaml, whose first line is its caption. Throws UsageError
/// when there is no picture of that name, and DrawError.
[[nodiscard]] std::string rule_picture(const std::string& rule, PictureFormat format);

}  // namespace dryfit::cli

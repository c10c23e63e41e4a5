#pragma once
/// A door as a person says it: "30x78", "760mm x 2000mm", "60x30x78".
#include <string>

#include "planner/now/doorway.hpp"

namespace dryfit::cli {

/// Two lengths are the width and the height of a door, three the edges of whatever it is carried through or into. The
/// lengths stand in any order, parted by "x"; bare numbers are in `units`. Throws UsageError, beginning with the option,
/// for anything else and for an opening of no size.
[[nodiscard]] planner::Opening opening_said(const std::string& said, model::Units units);
/// "30 in x 78 in".
[[nodiscard]] std::string opening_text(const planner::Opening& opening, model::Units units);
/// Three edges, longest last: "1 in x 9-1/4 in x 30 in".
[[nodiscard]] std::string box_text(const planner::PieceBox& box, model::Units units);

}  // namespace dryfit::cli

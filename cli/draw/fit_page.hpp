#pragma once
/// Fits a scene onto a page.
#include <vector>

#include "cli/draw/number_grid.hpp"
#include "cli/draw/piece.hpp"
#include "cli/draw/view.hpp"

namespace dryfit::cli {

/// The largest scale at which all pieces lie in the area, centred. At most 1:1.
[[nodiscard]] PageMap fit_page(const std::vector<Piece>& pieces, const View& view, RectMm area);

}  // namespace dryfit::cli

#pragma once
/// Fits a scene onto a page.
#include <vector>

#include "cli/draw/body/piece.hpp"
#include "cli/draw/body/view.hpp"
#include "cli/draw/paint/number_grid.hpp"

namespace dryfit::cli {

/// The largest scale at which all pieces lie in the area, centred. At most 1:1.
[[nodiscard]] PageMap fit_page(const std::vector<Piece>& pieces, const View& view, RectMm area);

}  // namespace dryfit::cli

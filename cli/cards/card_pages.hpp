#pragma once
/// Build cards on paper: what to prepare, the cards to cut out, what to check at the end.
#include <string>
#include <vector>

#include "cli/cards/deck.hpp"
#include "cli/draw/paint/surface.hpp"
#include "cli/draw/sheet/board_plan.hpp"
#include "planner/base/foreman.hpp"

namespace dryfit::cli {

struct CardPaper {
  PaperSize size = PaperSize::a4;
  int per_page = 4;  ///< 4 or 2
  PictureFormat format = PictureFormat::pdf;
};

struct CardPages {
  std::vector<std::string> documents;  ///< a PDF, or an SVG a page
  int pages = 0;
};

/// Empty when the foreman ends the work. Throws DrawError.
[[nodiscard]] CardPages card_pages(const model::Frame& frame, const Deck& deck, const CardPaper& wanted,
                                   planner::Foreman* foreman = nullptr);

}  // namespace dryfit::cli

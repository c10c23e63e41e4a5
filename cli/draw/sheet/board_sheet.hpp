#pragma once
/// Paper for the drill: dimensioned board sheets and full-size templates.
#include <string>
#include <vector>

#include "cli/draw/paint/paper_pages.hpp"
#include "cli/draw/sheet/board_plan.hpp"

namespace dryfit::cli {

/// Width and height in mm, upright.
struct PaperMm {
  double width = 210.0;
  double height = 297.0;
};
[[nodiscard]] PaperMm paper_mm(PaperSize size);

/// One page (more when the table of holes is long): the board with each hole's centre from two edges, bits, the face
/// and the way of the grain, edges named, warnings. Lengths in `units`, in the table in both.
void add_board_sheet(PaperPages& pages, const std::string& frame_name, const BoardPlan& plan, model::Units units,
                     PaperSize paper);

/// Pages to be joined into a paper of the board's own size, where it has something to drill (tiling.hpp). Each has
/// centre crosses and outlines of its holes, the board's edges, the face and the way of the grain, marks that match
/// those of its neighbours within an overlap of 10 mm, and a ruler of 100 mm and one of 4 in; one that is not joined to
/// the page before says how far its hole is from the edges and from the hole before. Everything is 1:1.
void add_full_size(PaperPages& pages, const std::string& frame_name, const BoardPlan& plan, model::Units units,
                   PaperSize paper);

struct DrillPaper {
  PaperSize size = PaperSize::a4;
  bool full_size = false;  ///< with templates
  PictureFormat format = PictureFormat::pdf;
};

/// All pages: per board a sheet and, if wanted, its template; boards that are drilled alike share one, after the sheet
/// of the first. Throws DrawError when there is no board to drill.
[[nodiscard]] std::vector<std::string> drill_pages(const model::Frame& frame,
                                                   const std::vector<planner::DrillSheet>& sheets, model::Units units,
                                                   const DrillPaper& wanted);

}  // namespace dryfit::cli

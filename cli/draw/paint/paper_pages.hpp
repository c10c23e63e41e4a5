#pragma once
/// Pages of paper: all in one PDF, or each an SVG of its own, which a page in a browser prints as the PDF's.
#include <optional>
#include <string>
#include <vector>

#include "cli/draw/paint/surface.hpp"
#include "cli/draw/paint/svg_canvas.hpp"

namespace dryfit::cli {

/// By the ending of the file's name: PDF or SVG. Throws DrawError for others.
[[nodiscard]] PictureFormat paper_format_for(const std::string& path);

/// An SVG's text stays text and its bytes are the same wherever it is drawn; a PDF throws DrawError where there is no
/// cairo, and PNG everywhere.
class PaperPages {
 public:
  PaperPages(PictureFormat format, const std::string& title);
  /// Begins a page of that size; what is drawn on the result in mm goes onto it. Valid until the next call.
  Canvas& new_page(double width_mm, double height_mm);
  /// The PDF, or an SVG a page. Nothing can be added after that.
  [[nodiscard]] std::vector<std::string> finish();

 private:
  std::string title_;
  std::optional<PdfPages> pdf_;
  std::optional<SvgCanvas> svg_;  ///< the page that is being drawn
  std::vector<std::string> drawn_;
};

/// Writes the documents under that name, each whole or not at all; SVGs get numbers: cards.svg becomes cards-1.svg,
/// cards-2.svg. The names written. Throws UsageError.
std::vector<std::string> write_documents(const std::string& path, const std::vector<std::string>& documents);

/// "cards.pdf", "cards-1.svg to cards-9.svg".
[[nodiscard]] std::string documents_text(const std::vector<std::string>& files);

}  // namespace dryfit::cli

#pragma once
/// Pages that keep their bytes in memory: a file is written only when the whole drawing has succeeded.
#include <functional>
#include <memory>
#include <string>

#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/draw_error.hpp"

namespace dryfit::cli {

enum class PictureFormat { svg, pdf, png };

/// By the ending of the file's name, in either case. Throws DrawError that names the endings known.
[[nodiscard]] PictureFormat format_for(const std::string& path);

/// Throws DrawError for a picture that is too small or too large to be drawn.
void check_size(double width_mm, double height_mm);

/// Resolution of PNG pictures, dots per mm (about 300 per inch).
inline constexpr double kDotsPerMm = 12.0;

/// A single page of the given size in mm, drawn by `draw` in mm from the top left corner, on white. The bytes depend
/// on the drawing only: not on the time, nor on what was drawn before in the process. Where there is no cairo, SVG
/// alone can be drawn; DrawError for the others.
[[nodiscard]] std::string one_page(PictureFormat format, double width_mm, double height_mm, const std::string& title,
                                   const std::function<void(Canvas&)>& draw);

/// A PDF of several pages. Throws DrawError where there is no cairo.
class PdfPages {
 public:
  explicit PdfPages(const std::string& title);
  PdfPages(const PdfPages&) = delete;
  PdfPages& operator=(const PdfPages&) = delete;
  ~PdfPages();
  /// Begins a page of that size; what is drawn on the result in mm goes onto it. Valid until the next call.
  Canvas& new_page(double width_mm, double height_mm);
  /// The whole document. Nothing can be added after that.
  [[nodiscard]] std::string finish();

 private:
  struct Document;
  std::unique_ptr<Document> document_;
};

}  // namespace dryfit::cli

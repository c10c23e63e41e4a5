/// What surface.hpp promises, where there is no cairo: SVG alone.
#include "cli/draw/paint/surface.hpp"
#include "cli/draw/paint/svg_canvas.hpp"

namespace dryfit::cli {
namespace {

constexpr const char* kSvgAlone = "PDF and PNG are drawn by the program alone; here pictures are SVG";

}  // namespace

std::string one_page(PictureFormat format, double width_mm, double height_mm, const std::string& title,
                     const std::function<void(Canvas&)>& draw) {
  check_size(width_mm, height_mm);
  if (format != PictureFormat::svg) throw DrawError(kSvgAlone);
  SvgCanvas canvas(width_mm, height_mm, title);
  draw(canvas);
  return canvas.finish();
}

struct PdfPages::Document {};

PdfPages::PdfPages(const std::string& /*title*/) { throw DrawError(kSvgAlone); }

PdfPages::~PdfPages() = default;

Canvas& PdfPages::new_page(double /*width_mm*/, double /*height_mm*/) { throw DrawError(kSvgAlone); }

std::string PdfPages::finish() { throw DrawError(kSvgAlone); }

}  // namespace dryfit::cli

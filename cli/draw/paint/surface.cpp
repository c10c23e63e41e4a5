#include "cli/draw/paint/surface.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstring>
#include <map>
#include <memory>
#include <optional>

#include "cli/draw/paint/cairo_canvas.hpp"

namespace dryfit::cli {

struct CairoDeleter {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};
using SurfacePtr = std::unique_ptr<cairo_surface_t, CairoDeleter>;
using CairoPtr = std::unique_ptr<cairo_t, CairoDeleter>;

namespace {

constexpr double kPointsPerMm = 72.0 / 25.4;

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  // cairo is C: no exception may pass through it.
  try {
    static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  } catch (...) {
    return CAIRO_STATUS_NO_MEMORY;
  }
  return CAIRO_STATUS_SUCCESS;
}

/// Copies a number of path data with at most three decimals: cairo writes six, of which the last three are far below
/// what any printer shows and double the size of the file. Returns the index after the number.
std::size_t copy_number(const std::string& svg, std::size_t at, std::string& out) {
  std::size_t end = at;
  std::size_t dot = std::string::npos;
  while (end < svg.size() && (std::isdigit(static_cast<unsigned char>(svg[end])) != 0 || svg[end] == '.')) {
    if (svg[end] == '.') dot = end;
    ++end;
  }
  std::size_t last = end;
  if (dot != std::string::npos) {
    last = std::min(end, dot + 4);
    while (last > dot && (svg[last - 1] == '0' || svg[last - 1] == '.')) --last;
  }
  out.append(svg, at, last - at);
  return end;
}

/// cairo's SVG made independent of the process and smaller. cairo numbers surfaces over the life of the process
/// ("surface6"): they are numbered from 1 within the text. Numbers in path data are cut to three decimals.
std::string tidied(const std::string& svg) {
  constexpr std::string_view kWord = "surface";
  constexpr std::string_view kPath = " d=\"";
  std::map<std::string, int> numbers;
  std::string out;
  out.reserve(svg.size());
  std::size_t at = 0;
  while (at < svg.size()) {
    // Only names that cairo gives: id="surface6", #surface6.
    if (at > 0 && (svg[at - 1] == '"' || svg[at - 1] == '#') && svg.compare(at, kWord.size(), kWord) == 0) {
      std::size_t end = at + kWord.size();
      while (end < svg.size() && std::isdigit(static_cast<unsigned char>(svg[end])) != 0) ++end;
      const std::string number = svg.substr(at + kWord.size(), end - at - kWord.size());
      const int next = static_cast<int>(numbers.size()) + 1;
      out += fmt::format("{}{}", kWord, numbers.try_emplace(number, next).first->second);
      at = end;
    } else if (svg.compare(at, kPath.size(), kPath) == 0) {
      out += kPath;
      at += kPath.size();
      while (at < svg.size() && svg[at] != '"') {
        if (std::isdigit(static_cast<unsigned char>(svg[at])) != 0) {
          at = copy_number(svg, at, out);
        } else {
          out += svg[at++];
        }
      }
    } else {
      out += svg[at++];
    }
  }
  return out;
}

SurfacePtr pdf_surface(std::string& bytes, double width_mm, double height_mm, const std::string& title) {
  SurfacePtr surface(
      cairo_pdf_surface_create_for_stream(append, &bytes, width_mm * kPointsPerMm, height_mm * kPointsPerMm));
  check_cairo(cairo_surface_status(surface.get()), "starting a PDF");
  // The time of creation would make every run differ: any fixed one does.
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_MOD_DATE, "2000-01-01T00:00:00Z");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "dryfit");
  if (!title.empty()) cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
  return surface;
}

void finish_surface(cairo_surface_t* surface) {
  cairo_surface_finish(surface);
  check_cairo(cairo_surface_status(surface), "finishing the page");
}

std::string png_page(double width_mm, double height_mm, const std::function<void(Canvas&)>& draw) {
  const int width = static_cast<int>(std::lround(width_mm * kDotsPerMm));
  const int height = static_cast<int>(std::lround(height_mm * kDotsPerMm));
  SurfacePtr surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
  check_cairo(cairo_surface_status(surface.get()), "starting a picture");
  CairoPtr cairo(cairo_create(surface.get()));
  cairo_set_source_rgb(cairo.get(), 1, 1, 1);
  cairo_paint(cairo.get());
  cairo_scale(cairo.get(), kDotsPerMm, kDotsPerMm);
  CairoCanvas canvas(cairo.get());
  draw(canvas);
  check_cairo(cairo_status(cairo.get()), "drawing");
  std::string bytes;
  check_cairo(cairo_surface_write_to_png_stream(surface.get(), append, &bytes), "writing PNG");
  return bytes;
}

}  // namespace

std::string one_page(PictureFormat format, double width_mm, double height_mm, const std::string& title,
                     const std::function<void(Canvas&)>& draw) {
  check_size(width_mm, height_mm);
  if (format == PictureFormat::png) return png_page(width_mm, height_mm, draw);
  std::string bytes;
  {
    SurfacePtr surface;
    if (format == PictureFormat::pdf) {
      surface = pdf_surface(bytes, width_mm, height_mm, title);
    } else {
      surface.reset(
          cairo_svg_surface_create_for_stream(append, &bytes, width_mm * kPointsPerMm, height_mm * kPointsPerMm));
      check_cairo(cairo_surface_status(surface.get()), "starting an SVG");
    }
    CairoPtr cairo(cairo_create(surface.get()));
    cairo_scale(cairo.get(), kPointsPerMm, kPointsPerMm);
    cairo_set_source_rgb(cairo.get(), 1, 1, 1);
    cairo_paint(cairo.get());
    CairoCanvas canvas(cairo.get());
    draw(canvas);
    check_cairo(cairo_status(cairo.get()), "drawing");
    cairo.reset();
    finish_surface(surface.get());
  }
  return format == PictureFormat::svg ? tidied(bytes) : bytes;
}

struct PdfPages::Document {
  explicit Document(const std::string& title) : surface(pdf_surface(bytes, 210, 297, title)) {}
  std::string bytes;  ///< outlives the surface, which may still write when it goes
  SurfacePtr surface;
  CairoPtr cairo;
  std::optional<CairoCanvas> canvas;
};

PdfPages::PdfPages(const std::string& title) : document_(std::make_unique<Document>(title)) {}

PdfPages::~PdfPages() = default;

Canvas& PdfPages::new_page(double width_mm, double height_mm) {
  Document& now = *document_;
  if (now.cairo) cairo_show_page(now.cairo.get());
  now.cairo.reset();
  cairo_pdf_surface_set_size(now.surface.get(), width_mm * kPointsPerMm, height_mm * kPointsPerMm);
  now.cairo.reset(cairo_create(now.surface.get()));
  cairo_scale(now.cairo.get(), kPointsPerMm, kPointsPerMm);
  check_cairo(cairo_status(now.cairo.get()), "starting a page");
  return now.canvas.emplace(now.cairo.get());
}

std::string PdfPages::finish() {
  Document& now = *document_;
  if (now.cairo) {
    cairo_show_page(now.cairo.get());
    check_cairo(cairo_status(now.cairo.get()), "drawing");
  }
  now.cairo.reset();
  finish_surface(now.surface.get());
  return now.bytes;
}

}  // namespace dryfit::cli

#include "cli/draw/paint/surface.hpp"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <cmath>
#include <cstring>
#include <map>

namespace dryfit::cli {
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
  check(cairo_surface_status(surface.get()), "starting a PDF");
  // The time of creation would make every run differ: any fixed one does.
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATE_DATE, "2000-01-01T00:00:00Z");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_MOD_DATE, "2000-01-01T00:00:00Z");
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "dryfit");
  if (!title.empty()) cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, title.c_str());
  return surface;
}

void finish_surface(cairo_surface_t* surface) {
  cairo_surface_finish(surface);
  check(cairo_surface_status(surface), "finishing the page");
}

std::string png_page(double width_mm, double height_mm, const std::function<void(cairo_t*)>& draw) {
  const int width = static_cast<int>(std::lround(width_mm * kDotsPerMm));
  const int height = static_cast<int>(std::lround(height_mm * kDotsPerMm));
  SurfacePtr surface(cairo_image_surface_create(CAIRO_FORMAT_RGB24, width, height));
  check(cairo_surface_status(surface.get()), "starting a picture");
  CairoPtr cairo(cairo_create(surface.get()));
  cairo_set_source_rgb(cairo.get(), 1, 1, 1);
  cairo_paint(cairo.get());
  cairo_scale(cairo.get(), kDotsPerMm, kDotsPerMm);
  draw(cairo.get());
  check(cairo_status(cairo.get()), "drawing");
  std::string bytes;
  check(cairo_surface_write_to_png_stream(surface.get(), append, &bytes), "writing PNG");
  return bytes;
}

}  // namespace

void check(cairo_status_t status, const char* doing) {
  if (status == CAIRO_STATUS_SUCCESS) return;
  throw DrawError(fmt::format("{}: {}", doing, cairo_status_to_string(status)));
}

PictureFormat format_for(const std::string& path) {
  const std::size_t dot = path.rfind('.');
  std::string ending = dot == std::string::npos ? "" : path.substr(dot + 1);
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (ending == "svg") return PictureFormat::svg;
  if (ending == "pdf") return PictureFormat::pdf;
  if (ending == "png") return PictureFormat::png;
  throw DrawError(fmt::format("'{}': a picture's name ends in .svg, .pdf or .png", path));
}

std::string one_page(PictureFormat format, double width_mm, double height_mm, const std::string& title,
                     const std::function<void(cairo_t*)>& draw) {
  constexpr double kLargest = 5000.0;
  if (!(width_mm >= 10.0 && height_mm >= 10.0 && width_mm <= kLargest && height_mm <= kLargest)) {
    throw DrawError(fmt::format("a picture of {:.6g} x {:.6g} mm cannot be drawn: each side is from 10 to 5000 mm",
                                width_mm, height_mm));
  }
  if (format == PictureFormat::png) return png_page(width_mm, height_mm, draw);
  std::string bytes;
  {
    SurfacePtr surface;
    if (format == PictureFormat::pdf) {
      surface = pdf_surface(bytes, width_mm, height_mm, title);
    } else {
      surface.reset(
          cairo_svg_surface_create_for_stream(append, &bytes, width_mm * kPointsPerMm, height_mm * kPointsPerMm));
      check(cairo_surface_status(surface.get()), "starting an SVG");
    }
    CairoPtr cairo(cairo_create(surface.get()));
    cairo_scale(cairo.get(), kPointsPerMm, kPointsPerMm);
    cairo_set_source_rgb(cairo.get(), 1, 1, 1);
    cairo_paint(cairo.get());
    draw(cairo.get());
    check(cairo_status(cairo.get()), "drawing");
    cairo.reset();
    finish_surface(surface.get());
  }
  return format == PictureFormat::svg ? tidied(bytes) : bytes;
}

PdfPages::PdfPages(const std::string& title) : surface_(pdf_surface(bytes_, 210, 297, title)) {}

PdfPages::~PdfPages() {
  // bytes_ must outlive the surface, which may still write when it goes.
  cairo_.reset();
  surface_.reset();
}

cairo_t* PdfPages::new_page(double width_mm, double height_mm) {
  if (!first_) cairo_show_page(cairo_.get());
  first_ = false;
  cairo_.reset();
  cairo_pdf_surface_set_size(surface_.get(), width_mm * kPointsPerMm, height_mm * kPointsPerMm);
  cairo_.reset(cairo_create(surface_.get()));
  cairo_scale(cairo_.get(), kPointsPerMm, kPointsPerMm);
  check(cairo_status(cairo_.get()), "starting a page");
  return cairo_.get();
}

std::string PdfPages::finish() {
  if (cairo_) {
    cairo_show_page(cairo_.get());
    check(cairo_status(cairo_.get()), "drawing");
  }
  cairo_.reset();
  finish_surface(surface_.get());
  return bytes_;
}

}  // namespace dryfit::cli

#pragma once
/// Pages that keep their bytes in memory: a file is written only when the whole drawing has succeeded.
#include <cairo.h>

#include <functional>
#include <memory>
#include <string>

#include "cli/io/usage_error.hpp"

namespace dryfit::cli {

/// A drawing cannot be made or written; what() says why.
class DrawError : public UsageError {
 public:
  using UsageError::UsageError;
};

enum class PictureFormat { svg, pdf, png };

/// By the ending of the file's name, in either case. Throws DrawError that names the endings known.
[[nodiscard]] PictureFormat format_for(const std::string& path);

struct CairoDeleter {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* cairo) const { cairo_destroy(cairo); }
};
using SurfacePtr = std::unique_ptr<cairo_surface_t, CairoDeleter>;
using CairoPtr = std::unique_ptr<cairo_t, CairoDeleter>;

/// Throws DrawError with cairo's own words when something went wrong. cairo never does so itself.
void check(cairo_status_t status, const char* doing);

/// Resolution of PNG pictures, dots per mm (about 300 per inch).
inline constexpr double kDotsPerMm = 12.0;

/// A single page of the given size in mm, drawn by `draw` in mm from the top left corner, on white. The bytes depend
/// on the drawing only: not on the time, nor on what was drawn before in the process.
[[nodiscard]] std::string one_page(PictureFormat format, double width_mm, double height_mm, const std::string& title,
                                   const std::function<void(cairo_t*)>& draw);

/// A PDF of several pages.
class PdfPages {
 public:
  explicit PdfPages(const std::string& title);
  PdfPages(const PdfPages&) = delete;
  PdfPages& operator=(const PdfPages&) = delete;
  ~PdfPages();
  /// Begins a page of that size; what is drawn on the result in mm goes onto it. Valid until the next call.
  cairo_t* new_page(double width_mm, double height_mm);
  /// The whole document. Nothing can be added after that.
  [[nodiscard]] std::string finish();

 private:
  std::string bytes_;
  SurfacePtr surface_;
  CairoPtr cairo_;
  bool first_ = true;
};

}  // namespace dryfit::cli

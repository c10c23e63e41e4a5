#include "cli/draw/paint/cairo_canvas.hpp"

#include <fmt/format.h>
#include <pango/pangocairo.h>

#include <memory>

#include "cli/draw/paint/draw_error.hpp"

namespace dryfit::cli {
namespace {

struct PangoDeleter {
  void operator()(PangoLayout* layout) const { g_object_unref(layout); }
  void operator()(PangoFontDescription* font) const { pango_font_description_free(font); }
  void operator()(cairo_font_options_t* options) const { cairo_font_options_destroy(options); }
};
using LayoutPtr = std::unique_ptr<PangoLayout, PangoDeleter>;

/// Letters are laid out this much larger than they are drawn: pango rounds some of its numbers to whole units.
constexpr double kFiner = 16.0;

LayoutPtr layout_for(cairo_t* cairo, const std::string& text, const TextStyle& style) {
  LayoutPtr layout(pango_cairo_create_layout(cairo));
  PangoContext* context = pango_layout_get_context(layout.get());
  // The page may be scaled or turned: lay out as if it were not, so that widths never depend on it.
  pango_context_set_matrix(context, nullptr);
  const std::unique_ptr<cairo_font_options_t, PangoDeleter> options(cairo_font_options_create());
  cairo_font_options_set_hint_style(options.get(), CAIRO_HINT_STYLE_NONE);
  cairo_font_options_set_hint_metrics(options.get(), CAIRO_HINT_METRICS_OFF);
  cairo_font_options_set_antialias(options.get(), CAIRO_ANTIALIAS_GRAY);
  pango_cairo_context_set_font_options(context, options.get());
  pango_context_set_round_glyph_positions(context, FALSE);
  const std::unique_ptr<PangoFontDescription, PangoDeleter> font(
      pango_font_description_from_string("DejaVu Sans, Sans"));
  pango_font_description_set_absolute_size(font.get(), style.size * kFiner * PANGO_SCALE);
  if (style.bold) pango_font_description_set_weight(font.get(), PANGO_WEIGHT_BOLD);
  pango_layout_set_font_description(layout.get(), font.get());
  pango_layout_set_text(layout.get(), text.data(), static_cast<int>(text.size()));
  return layout;
}

}  // namespace

void CairoCanvas::dashes(double on, double off) {
  const double lengths[] = {on, off};
  cairo_set_dash(cairo_, lengths, on > 0.0 ? 2 : 0, 0.0);
}

double CairoCanvas::text_width(const std::string& text, const TextStyle& style) {
  const LayoutPtr layout = layout_for(cairo_, text, style);
  PangoRectangle logical;
  pango_layout_get_extents(layout.get(), nullptr, &logical);
  return logical.width / (kFiner * PANGO_SCALE);
}

void CairoCanvas::text(double x, double y, const std::string& text, const TextStyle& style, look::Tone tone) {
  const LayoutPtr layout = layout_for(cairo_, text, style);
  const double baseline = pango_layout_get_baseline(layout.get()) / (kFiner * PANGO_SCALE);
  cairo_save(cairo_);
  use(tone);
  cairo_translate(cairo_, x, y - baseline);
  cairo_scale(cairo_, 1.0 / kFiner, 1.0 / kFiner);
  cairo_move_to(cairo_, 0, 0);
  pango_cairo_show_layout(cairo_, layout.get());
  cairo_restore(cairo_);
}

void CairoCanvas::check(const char* doing) const { check_cairo(cairo_status(cairo_), doing); }

void check_cairo(cairo_status_t status, const char* doing) {
  if (status == CAIRO_STATUS_SUCCESS) return;
  throw DrawError(fmt::format("{}: {}", doing, cairo_status_to_string(status)));
}

}  // namespace dryfit::cli

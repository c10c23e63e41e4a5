#include "tests/support/seen/seen_picture.hpp"

#include <doctest/doctest.h>

#include <numeric>

#include "cli/draw/body/scene.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::tests {
namespace {

constexpr cli::RectMm kPage{0, 0, 100, 100};

}  // namespace

std::vector<model::PartId> all_parts(const model::Frame& frame) {
  std::vector<model::PartId> out(frame.parts.size());
  std::iota(out.begin(), out.end(), 0);
  return out;
}

SeenPicture::SeenPicture(const model::Frame& frame, const std::vector<model::PartId>& shown, const cli::View& view,
                         const std::optional<std::vector<int>>& drawn)
    : frame_(&frame),
      fixtures_(cli::fixtures_of(frame)),
      drawn_(drawn ? *drawn : cli::fixtures_at(fixtures_, shown)),
      shown_(frame.parts.size(), false),
      tree_(cli::pieces_of(frame, shown, fixtures_, drawn_)),
      map_(cli::fit_page(tree_.pieces(), view, kPage)),
      grid_(cli::grid_of(tree_, map_, kPage, 1.5)) {
  for (const model::PartId id : shown) shown_[at(id)] = true;
}

model::PartId SeenPicture::seen(double column, double row) const {
  const double u = ((column + 0.5) / grid_.per_mm - map_.left) / map_.scale;
  const double v = (map_.top - (row + 0.5) / grid_.per_mm) / map_.scale;
  const cli::Projection& onto = map_.projection;
  return first_seen(*frame_, shown_, {u * onto.right + v * onto.up, onto.toward}, fixtures_, drawn_);
}

bool SeenPicture::same(int column, int row) const { return seen(column, row) == grid_.at(column, row); }

bool SeenPicture::near(int column, int row) const {
  if (same(column, row)) return true;
  // Fine steps: between two bodies a third may show in a slit much thinner than a cell.
  for (int dy = -8; dy <= 8; ++dy) {
    for (int dx = -8; dx <= 8; ++dx) {
      if (seen(column + 0.125 * dx, row + 0.125 * dy) == grid_.at(column, row)) return true;
    }
  }
  return false;
}

cli::PictureReport report_of(const model::Frame& frame, const cli::PictureOptions& options) {
  cli::PictureReport report;
  static_cast<void>(cli::picture_bytes(cli::PictureFormat::svg, frame, options, &report));
  return report;
}

void check_labels(const cli::PictureReport& report) {
  for (std::size_t i = 0; i < report.labels.size(); ++i) {
    for (std::size_t j = i + 1; j < report.labels.size(); ++j) {
      CAPTURE(report.texts[i]);
      CAPTURE(report.texts[j]);
      CHECK_FALSE(cli::overlap(report.labels[i].box, report.labels[j].box));
    }
  }
}

}  // namespace dryfit::tests

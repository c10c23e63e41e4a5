#pragma once
/// Pictures against lines of sight, and their labels against one another.
#include <optional>
#include <vector>

#include "cli/draw/body/depth_tree.hpp"
#include "cli/draw/picture/fit_page.hpp"
#include "cli/draw/picture/picture.hpp"
#include "tests/support/seen/ray.hpp"

namespace dryfit::tests {

[[nodiscard]] std::vector<model::PartId> all_parts(const model::Frame& frame);

/// A picture as numbers of parts, 100 mm wide and high, beside what lines of sight meet.
class SeenPicture {
 public:
  /// With the fixtures told (indices into fixtures_of), or those that the shown parts have. The frame must outlive it.
  SeenPicture(const model::Frame& frame, const std::vector<model::PartId>& shown, const cli::View& view,
              const std::optional<std::vector<int>>& drawn = {});
  [[nodiscard]] const cli::NumberGrid& grid() const { return grid_; }
  /// The line of sight through the middle of the cell meets what the cell shows.
  [[nodiscard]] bool same(int column, int row) const;
  /// That one, or one within a cell of it.
  [[nodiscard]] bool near(int column, int row) const;

 private:
  [[nodiscard]] model::PartId seen(double column, double row) const;
  const model::Frame* frame_;
  std::vector<cli::Fixture> fixtures_;
  std::vector<int> drawn_;
  std::vector<bool> shown_;
  cli::DepthTree tree_;
  cli::PageMap map_;
  cli::NumberGrid grid_;
};

/// What drawing the picture had to report.
[[nodiscard]] cli::PictureReport report_of(const model::Frame& frame, const cli::PictureOptions& options);

/// No two labels of a picture overlap.
void check_labels(const cli::PictureReport& report);

}  // namespace dryfit::tests

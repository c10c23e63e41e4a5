#pragma once
/// A grid that outlines are filled into with numbers: cell by cell, without blending, the same on every machine.
#include <memory>
#include <vector>

#include "cli/draw/paint/canvas.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// A cell belongs to an outline when its centre lies inside.
class NumberCanvas final : public OutlineCanvas {
 public:
  /// `left` and `top`: page mm of the grid's corner; `per_mm`: cells per page mm. All cells are model::kNone.
  NumberCanvas(int width, int height, double left, double top, double per_mm);

  /// What is filled from now on.
  void number(model::PartId part) { number_ = part; }

  void move_to(double x, double y) override;
  void line_to(double x, double y) override;
  void close() override {}  // what is filled is closed anyhow
  void fill() override;
  void clip() override;
  void save() override;
  void restore() override;

  /// Row by row from the top left corner. Leaves the canvas empty.
  [[nodiscard]] std::vector<model::PartId> take_cells() { return std::move(cells_); }

 private:
  struct Point {
    double x = 0.0;
    double y = 0.0;
  };
  /// Cells that may be drawn on, in a box of the grid: outside of it none may.
  struct Mask {
    int left = 0, top = 0, right = 0, bottom = 0;  ///< the last two are past the end
    std::vector<char> open;                        ///< row by row; empty: all of the box
    [[nodiscard]] bool at(int column, int row) const {
      if (open.empty()) return true;
      return open[static_cast<std::size_t>(row - top) * static_cast<std::size_t>(right - left) +
                  static_cast<std::size_t>(column - left)] != 0;
    }
  };
  /// Calls `take(row, from, to)` for the spans of cells inside the path and the mask's box, and uses the path up.
  template <class Take>
  void each_span(const Take& take);

  int width_;
  int height_;
  double left_;
  double top_;
  double per_mm_;
  model::PartId number_ = model::kNone;
  std::vector<std::vector<Point>> path_;
  std::shared_ptr<const Mask> mask_;
  std::vector<std::shared_ptr<const Mask>> saved_;
  std::vector<model::PartId> cells_;
};

}  // namespace dryfit::cli

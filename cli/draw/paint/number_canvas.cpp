#include "cli/draw/paint/number_canvas.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// The first cell of a line of `count` whose centre is not before `at`, which is counted in cells.
int first_cell(double at, int low, int high) {
  return static_cast<int>(std::clamp(std::ceil(at - 0.5), static_cast<double>(low), static_cast<double>(high)));
}

}  // namespace

NumberCanvas::NumberCanvas(int width, int height, double left, double top, double per_mm)
    : width_(width), height_(height), left_(left), top_(top), per_mm_(per_mm) {
  Mask all;
  all.right = width;
  all.bottom = height;
  mask_ = std::make_shared<const Mask>(std::move(all));
  cells_.assign(at(width) * at(height), model::kNone);
}

void NumberCanvas::move_to(double x, double y) {
  path_.emplace_back();
  line_to(x, y);
}

void NumberCanvas::line_to(double x, double y) {
  if (path_.empty()) path_.emplace_back();
  path_.back().push_back({(x - left_) * per_mm_, (y - top_) * per_mm_});
}

template <class Take>
void NumberCanvas::each_span(const Take& take) {
  const Mask& mask = *mask_;
  double highest = mask.bottom;
  double lowest = mask.top;
  for (const std::vector<Point>& loop : path_) {
    for (const Point& p : loop) {
      highest = std::min(highest, p.y);
      lowest = std::max(lowest, p.y);
    }
  }
  const int top = first_cell(highest, mask.top, mask.bottom);
  const int bottom = first_cell(lowest, mask.top, mask.bottom);
  // Where edges cross the middle of a row: the place, and +1 or -1 by the way the edge goes.
  std::vector<std::vector<std::pair<double, int>>> crossings(at(std::max(0, bottom - top)));
  for (const std::vector<Point>& loop : path_) {
    for (std::size_t k = 0; k < loop.size(); ++k) {
      Point a = loop[k];
      Point b = loop[(k + 1) % loop.size()];
      if (a.y == b.y) continue;
      const int way = a.y < b.y ? 1 : -1;
      if (way < 0) std::swap(a, b);
      const int end = first_cell(b.y, top, bottom);
      for (int row = first_cell(a.y, top, bottom); row < end; ++row) {
        const double share = (row + 0.5 - a.y) / (b.y - a.y);
        crossings[at(row - top)].emplace_back(a.x + share * (b.x - a.x), way);
      }
    }
  }
  path_.clear();
  for (int row = top; row < bottom; ++row) {
    auto& here = crossings[at(row - top)];
    std::sort(here.begin(), here.end());
    int inside = 0;
    for (std::size_t k = 0; k + 1 < here.size(); ++k) {
      inside += here[k].second;
      if (inside == 0) continue;
      const int from = first_cell(here[k].first, mask.left, mask.right);
      const int to = first_cell(here[k + 1].first, mask.left, mask.right);
      if (from < to) take(row, from, to);
    }
  }
}

void NumberCanvas::fill() {
  each_span([&](int row, int from, int to) {
    for (int column = from; column < to; ++column) {
      if (mask_->at(column, row)) cells_[at(row) * at(width_) + at(column)] = number_;
    }
  });
}

void NumberCanvas::clip() {
  struct Span {
    int row, from, to;
  };
  std::vector<Span> spans;
  each_span([&](int row, int from, int to) { spans.push_back({row, from, to}); });
  Mask mask;
  if (!spans.empty()) {
    mask.left = width_;
    mask.top = height_;
  }
  for (const Span& span : spans) {
    mask.left = std::min(mask.left, span.from);
    mask.right = std::max(mask.right, span.to);
    mask.top = std::min(mask.top, span.row);
    mask.bottom = std::max(mask.bottom, span.row + 1);
  }
  mask.open.assign(at(mask.right - mask.left) * at(mask.bottom - mask.top), 0);
  for (const Span& span : spans) {
    for (int column = span.from; column < span.to; ++column) {
      mask.open[at(span.row - mask.top) * at(mask.right - mask.left) + at(column - mask.left)] =
          static_cast<char>(mask_->at(column, span.row));
    }
  }
  mask_ = std::make_shared<const Mask>(std::move(mask));
}

void NumberCanvas::save() { saved_.push_back(mask_); }

void NumberCanvas::restore() {
  mask_ = std::move(saved_.back());
  saved_.pop_back();
}

}  // namespace dryfit::cli

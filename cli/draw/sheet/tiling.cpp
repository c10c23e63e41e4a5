#include "cli/draw/sheet/tiling.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// What a hole takes along one side of the board, with the arms of its cross; a slot goes out to its edge.
struct Span {
  double lo = 0.0;
  double hi = 0.0;
  [[nodiscard]] bool on(double start, double page) const { return lo >= start - 1e-6 && hi <= start + page + 1e-6; }
  [[nodiscard]] bool meets(double start, double page) const { return lo < start + page && hi > start; }
};

Span span_along(const PlanHole& hole, double centre, int open, double size) {
  const double reach = hole.diameter / 2.0 + Tiling::kCross;
  return {hole.notch && open < 0 ? 0.0 : centre - reach, hole.notch && open > 0 ? size : centre + reach};
}

struct Worked {
  Span x;
  Span y;
};

std::vector<Worked> worked_on(const BoardPlan& plan) {
  std::vector<Worked> out;
  for (const PlanHole& hole : plan.holes) {
    out.push_back(
        {span_along(hole, hole.x, hole.open_x, plan.width), span_along(hole, hole.y, hole.open_y, plan.height)});
  }
  return out;
}

/// Where the pages begin along one side of a board of that size.
std::vector<double> starts_for(std::vector<Span> spans, double page, double size) {
  constexpr double kClear = 2.0;
  std::sort(spans.begin(), spans.end(), [](const Span& a, const Span& b) { return a.lo < b.lo; });
  std::vector<double> out;
  for (const Span& span : spans) {
    if (std::any_of(out.begin(), out.end(), [&](double start) { return span.on(start, page); })) continue;
    if (out.empty()) {
      out.push_back(span.on(-Tiling::kSurround, page) ? -Tiling::kSurround
                                                      : std::max(-Tiling::kSurround, span.lo - kClear));
    } else {
      const double joined = out.back() + page - Tiling::kOverlap;
      const double with_edge = size + Tiling::kSurround - page;  // the last page that shows the far edge
      if (span.on(joined, page)) {
        out.push_back(joined);
      } else if (span.lo - kClear <= joined) {
        out.push_back(span.lo - kClear > out.back() + 1.0 ? span.lo - kClear : joined);
      } else {
        out.push_back(with_edge > joined && span.on(with_edge, page) ? with_edge : span.lo - kClear);
      }
    }
    // What is longer than a page goes on over the next.
    while (out.back() + page < span.hi - 1e-6) out.push_back(out.back() + page - Tiling::kOverlap);
  }
  if (out.empty()) out.push_back(-Tiling::kSurround);
  return out;
}

void choose_printed(const std::vector<Worked>& worked, Tiling& out) {
  out.printed.assign(out.lefts.size() * out.lowers.size(), false);
  for (const Worked& hole : worked) {
    bool found = false;
    for (std::size_t pass = 0; pass < 2 && !found; ++pass) {  // on one page; else on all that it meets
      for (std::size_t row = 0; row < out.lowers.size(); ++row) {
        for (std::size_t column = 0; column < out.lefts.size(); ++column) {
          const bool shows =
              pass == 0 ? !found && hole.x.on(out.lefts[column], out.width) && hole.y.on(out.lowers[row], out.height)
                        : hole.x.meets(out.lefts[column], out.width) && hole.y.meets(out.lowers[row], out.height);
          if (!shows) continue;
          out.printed[row * out.lefts.size() + column] = true;
          found = true;
        }
      }
    }
  }
  if (worked.empty()) out.printed.front() = true;
}

}  // namespace

bool Tiling::prints(int column, int row) const {
  if (column < 0 || row < 0 || column >= columns() || row >= rows()) return false;
  return printed[at(row) * lefts.size() + at(column)];
}

bool Tiling::joined_right(int column, int row) const {
  return prints(column, row) && prints(column + 1, row) &&
         lefts[at(column)] + width - lefts[at(column) + 1] >= kOverlap - 1e-6;
}

bool Tiling::joined_above(int column, int row) const {
  return prints(column, row) && prints(column, row + 1) &&
         lowers[at(row)] + height - lowers[at(row) + 1] >= kOverlap - 1e-6;
}

int Tiling::number(int column, int row) const {
  const auto here = printed.begin() + static_cast<std::ptrdiff_t>(at(row) * lefts.size() + at(column));
  return static_cast<int>(std::count(printed.begin(), here, true)) + 1;
}

int Tiling::pages() const { return static_cast<int>(std::count(printed.begin(), printed.end(), true)); }

Tiling tiling_for(const BoardPlan& plan, double paper_width, double paper_height) {
  Tiling out;
  out.paper_width = paper_width;
  out.paper_height = paper_height;
  out.width = paper_width - 2 * Tiling::kMargin;
  out.height = paper_height - 2 * Tiling::kMargin - Tiling::kFoot;
  const std::vector<Worked> worked = worked_on(plan);
  std::vector<Span> across, up;
  for (const Worked& hole : worked) {
    across.push_back(hole.x);
    up.push_back(hole.y);
  }
  out.lefts = starts_for(std::move(across), out.width, plan.width);
  out.lowers = starts_for(std::move(up), out.height, plan.height);
  choose_printed(worked, out);
  out.whole = out.lefts.back() + out.width >= plan.width + 0.5 && out.lowers.back() + out.height >= plan.height + 0.5;
  return out;
}

}  // namespace dryfit::cli

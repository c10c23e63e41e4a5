#include "planner/shop/screws.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length.hpp"

namespace dryfit::planner {
namespace {

using model::Board;
using model::Fastening;
using model::Frame;

constexpr int kEach = 2;            ///< per strap, clip and board fixing
constexpr int kFlangeScrews = 4;    ///< where no table says
constexpr double kShorter = 1.5;    ///< mm of wood that stay whole beyond the point
constexpr double kIntoWood = 38.1;  ///< mm that hold in a stud, behind what covers it
constexpr double kCover = 12.7;     ///< mm of plasterboard on a wall
/// Lengths as they are sold (common practice, no source), in and mm.
constexpr std::array<double, 11> kInches{0.5, 0.625, 0.75, 1.0, 1.25, 1.5, 1.75, 2.0, 2.5, 3.0, 3.5};
constexpr std::array<double, 13> kMetric{12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 65, 80, 90};

bool in_inches(const Frame& frame) { return frame.units == model::Units::in; }

/// What is sold, mm, ascending.
std::vector<double> sold(const Frame& frame) {
  std::vector<double> out;
  if (in_inches(frame)) {
    for (const double length : kInches) out.push_back(length * model::kMmPerInch);
  } else {
    out.assign(kMetric.begin(), kMetric.end());
  }
  return out;
}

std::optional<double> longest_below(const Frame& frame, double most) {
  std::optional<double> best;
  for (const double length : sold(frame)) {
    if (length <= most) best = length;
  }
  return best;
}

std::optional<double> shortest_above(const Frame& frame, double least) {
  for (const double length : sold(frame)) {
    if (length >= least - 1e-6) return length;
  }
  return std::nullopt;
}

double thickness(const Board& board) { return board.hi[board.normal] - board.lo[board.normal]; }

std::optional<double> length_of(const Frame& frame, const Fastening& f) {
  const double most = in_inches(frame) ? 1.5 * model::kMmPerInch : 40.0;
  const auto into = [&](const Board& board) {
    return longest_below(frame, std::min(most, thickness(board) - kShorter));
  };
  switch (f.kind) {
    case Fastening::Kind::flange_to_board: return into(frame.board_of(f.other));
    case Fastening::Kind::strap: return into(frame.board_of(f.part));
    case Fastening::Kind::flange_to_surface: return in_inches(frame) ? 2.5 * model::kMmPerInch : 65.0;
    case Fastening::Kind::clip: return in_inches(frame) ? 2.0 * model::kMmPerInch : 50.0;
    case Fastening::Kind::board_to_surface: break;
  }
  const Board& board = frame.board_of(f.part);
  if (f.surface != model::kNone && frame.surface(f.surface).normal.axis() != board.normal) return std::nullopt;
  return shortest_above(frame, thickness(board) + kCover + kIntoWood);
}

/// Of screws that fill the holes of a plate for pipe of this size, or that hold straps, clips and boards.
int screw_number(const Frame& frame, const Fastening& f) {
  const bool flange = f.kind == Fastening::Kind::flange_to_board || f.kind == Fastening::Kind::flange_to_surface;
  int number = f.kind == Fastening::Kind::board_to_surface ? 10 : 8;
  int mm = f.kind == Fastening::Kind::board_to_surface ? 5 : 4;
  if (flange) {
    const std::string size = model::nominal_sizes()[at(frame.part(f.part).size)];
    const bool narrow = size == "1/4" || size == "3/8" || size == "1/2";
    const bool usual = size == "3/4" || size == "1";
    number = narrow ? 10 : usual ? 12 : 14;
    mm = narrow || usual ? 5 : 6;
  }
  return in_inches(frame) ? number : mm;
}

}  // namespace

std::string ScrewSize::gauge() const {
  if (number == 0) return "";
  return inches ? fmt::format("No. {}", number) : fmt::format("{} mm", number);
}

int screw_count(const Frame& frame, const Fastening& f) {
  if (f.kind != Fastening::Kind::flange_to_surface && f.kind != Fastening::Kind::flange_to_board)
    return kEach * f.count;
  const auto holes = model::dimension(frame.standard, frame.part(f.part).size, model::Dimension::flange_screws);
  return holes ? static_cast<int>(std::lround(holes->value)) : kFlangeScrews;
}

std::optional<ScrewSize> screw_size(const Frame& frame, const Fastening& f) {
  const std::optional<double> length = length_of(frame, f);
  if (!length) return std::nullopt;
  return ScrewSize{screw_number(frame, f), in_inches(frame), *length};
}

}  // namespace dryfit::planner

#include "planner/shop/measured.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

/// A pair of a sheet and the spacing that it is to have.
struct Wanted {
  std::size_t pair = 0;
  const Measured* measured = nullptr;
};

std::array<double, 2> between(const DrillSheet& sheet, const DrillPair& pair) {
  const DrillHole& a = sheet.holes[at(pair.first)];
  const DrillHole& b = sheet.holes[at(pair.second)];
  return {b.from_low[0] - a.from_low[0], b.from_low[1] - a.from_low[1]};
}

double distance(const DrillSheet& sheet, const DrillPair& pair) {
  const auto d = between(sheet, pair);
  return std::hypot(d[0], d[1]);
}

std::vector<Wanted> wanted_of(const DrillSheet& sheet, const std::vector<Measured>& measured) {
  std::vector<Wanted> out;
  for (const Measured& one : measured) {
    for (std::size_t k = 0; k < sheet.pairs.size(); ++k) {
      const auto pipe = [&](int hole) { return sheet.holes[at(hole)].pipe; };
      const model::PartId a = pipe(sheet.pairs[k].first), b = pipe(sheet.pairs[k].second);
      if ((one.first == a && one.second == b) || (one.first == b && one.second == a)) out.push_back({k, &one});
    }
  }
  return out;
}

/// Each pair in turn is set right, until all are: what is consistent is met, and the holes stay near to where they
/// were.
void settle(DrillSheet& sheet, const std::vector<Wanted>& wanted) {
  constexpr int kRounds = 4000;
  constexpr double kDone = 1e-6;
  for (int round = 0; round < kRounds; ++round) {
    double worst = 0.0;
    for (const Wanted& want : wanted) {
      const DrillPair& pair = sheet.pairs[want.pair];
      const auto d = between(sheet, pair);
      const double length = std::hypot(d[0], d[1]);
      if (length < 1e-9) continue;
      const double half = 0.5 * (want.measured->spacing - length) / length;
      worst = std::max(worst, std::abs(want.measured->spacing - length));
      for (std::size_t k = 0; k < 2; ++k) {
        sheet.holes[at(pair.first)].from_low[k] -= half * d[k];
        sheet.holes[at(pair.second)].from_low[k] += half * d[k];
      }
    }
    if (worst < kDone) return;
  }
}

Drop worst_of(const std::vector<DrillPair>& pairs) {
  Drop worst = Drop::free;
  for (const DrillPair& pair : pairs) worst = std::max(worst, pair.drop);
  return worst;
}

/// Wood round the holes and what holds of pairs and board, at the holes' new places.
void tell_anew(DrillSheet& sheet, const std::vector<Wanted>& wanted) {
  for (DrillHole& hole : sheet.holes) {
    double edge = 1e300;
    for (std::size_t k = 0; k < 2; ++k) {
      hole.from_high[k] = sheet.size[k] - hole.from_low[k];
      const int open = sheet.axes[k] == 0 ? hole.open.x : sheet.axes[k] == 1 ? hole.open.y : hole.open.z;
      if (!hole.notch || open >= 0) edge = std::min(edge, hole.from_low[k]);
      if (!hole.notch || open <= 0) edge = std::min(edge, hole.from_high[k]);
    }
    hole.to_edge = edge - hole.hole / 2.0;
    double other = 1e300;
    for (const DrillHole& near : sheet.holes) {
      if (&near == &hole) continue;
      other = std::min(other, std::hypot(near.from_low[0] - hole.from_low[0], near.from_low[1] - hole.from_low[1]) -
                                  (near.hole + hole.hole) / 2.0);
    }
    hole.to_hole = sheet.holes.size() > 1 ? other : 0.0;
  }
  const bool leans = sheet.drop > worst_of(sheet.pairs);  // then the verdict is that of what carries the board
  for (DrillPair& pair : sheet.pairs) pair.spacing = distance(sheet, pair);
  for (const Wanted& want : wanted) {
    DrillPair& pair = sheet.pairs[want.pair];
    pair.measured = want.measured->spacing;
    pair.posts = want.measured->spacing;
    pair.drop = Drop::free;
  }
  if (!leans) sheet.drop = worst_of(sheet.pairs);
}

}  // namespace

std::optional<MeasuredFault> lay_out_measured(std::vector<DrillSheet>& sheets, const std::vector<Measured>& measured) {
  std::vector<DrillSheet> out = sheets;
  std::vector<bool> used(measured.size(), false);
  for (DrillSheet& sheet : out) {
    const std::vector<Wanted> wanted = wanted_of(sheet, measured);
    if (wanted.empty()) continue;
    for (const Wanted& want : wanted) {
      used[static_cast<std::size_t>(want.measured - measured.data())] = true;
      const double drawn = distance(sheet, sheet.pairs[want.pair]);
      if (std::abs(drawn - want.measured->spacing) > kMeasuredOff)
        return MeasuredFault{MeasuredFault::Kind::far_off, *want.measured, drawn};
    }
    settle(sheet, wanted);
    for (const Wanted& want : wanted) {
      const double comes = distance(sheet, sheet.pairs[want.pair]);
      if (std::abs(comes - want.measured->spacing) > kMeasuredTogether)
        return MeasuredFault{MeasuredFault::Kind::apart, *want.measured, comes};
    }
    tell_anew(sheet, wanted);
  }
  for (std::size_t i = 0; i < measured.size(); ++i) {
    if (!used[i]) return MeasuredFault{MeasuredFault::Kind::no_board, measured[i], 0.0};
  }
  sheets = std::move(out);
  return std::nullopt;
}

}  // namespace dryfit::planner

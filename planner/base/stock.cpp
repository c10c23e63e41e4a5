#include "planner/base/stock.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"

namespace dryfit::planner {

using model::Dimension;

namespace {

constexpr double kSameLength = 0.1;  ///< mm

}  // namespace

std::optional<ThreadOf> thread_of(model::Standard standard, model::MakeUp make_up, int size) {
  const auto pitch = model::dimension(standard, size, Dimension::pitch);
  const auto engaged = model::dimension(
      standard, size, make_up == model::MakeUp::hand ? Dimension::hand_engagement : Dimension::wrench_engagement);
  const auto coupling = model::dimension(standard, size, Dimension::coupling_length);
  if (!pitch || !engaged || !coupling) return std::nullopt;
  ThreadOf out;
  out.pitch = pitch->value;
  out.engaged = engaged->value;
  out.coupling_gap = coupling->value - 2 * engaged->value;
  for (const auto* datum : {&*pitch, &*engaged, &*coupling}) {
    if (datum->confidence == model::Confidence::memory) out.from_memory = true;
  }
  return out;
}

std::vector<double> stock_lengths(model::Standard standard, int size) {
  std::vector<double> out;
  for (const model::StockPipe& pipe : model::stock_pipes(standard)) {
    if (pipe.size == size) out.push_back(pipe.length);
  }
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

std::string stock_item(model::Standard standard, int size, double length) {
  for (const model::StockPipe& pipe : model::stock_pipes(standard)) {
    if (pipe.size == size && std::abs(pipe.length - length) <= kSameLength) return pipe.item;
  }
  return {};
}

std::vector<StockSum> stock_sums(const std::vector<double>& lengths, double coupling_gap, double lo, double hi,
                                 double widen, int max_pieces) {
  std::vector<StockSum> out;
  const double middle = (lo + hi) / 2;
  // A bag is built longest piece first; the last and shortest piece is looked up, not tried.
  std::vector<double> bag;
  const auto extend = [&](const auto& self, std::size_t longest, double sum, int pieces) -> void {
    const double gaps = (pieces - 1) * coupling_gap;
    const double from = lo - pieces * widen - gaps - sum;
    const double to = hi + pieces * widen - gaps - sum;
    if (static_cast<int>(bag.size()) == pieces - 1) {
      auto it = std::lower_bound(lengths.begin(), lengths.end(), from);
      for (; it != lengths.end() && *it <= to && at(it - lengths.begin()) <= longest; ++it) {
        StockSum found{bag, sum + *it + gaps};
        found.pieces.push_back(*it);
        out.push_back(std::move(found));
      }
      return;
    }
    const int left = pieces - static_cast<int>(bag.size());
    for (std::size_t i = longest + 1; i-- > 0;) {
      // The rest are no longer than this piece and no shorter than the shortest.
      if (lengths[i] * left < from) break;
      if (lengths[i] + (left - 1) * lengths.front() > to) continue;
      bag.push_back(lengths[i]);
      self(self, i, sum + lengths[i], pieces);
      bag.pop_back();
    }
  };
  if (lengths.empty()) return out;
  for (int pieces = 1; pieces <= max_pieces; ++pieces) extend(extend, lengths.size() - 1, 0.0, pieces);
  std::stable_sort(out.begin(), out.end(), [&](const StockSum& a, const StockSum& b) {
    if (a.pieces.size() != b.pieces.size()) return a.pieces.size() < b.pieces.size();
    const double da = std::abs(a.length - middle);
    const double db = std::abs(b.length - middle);
    if (da != db) return da < db;
    return a.pieces > b.pieces;
  });
  return out;
}

}  // namespace dryfit::planner

#pragma once
/// Stock lengths and what couplings make of them.
#include <optional>
#include <string>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::planner {

/// What the standard and the make-up say about joints of one size. Lengths in mm.
struct ThreadOf {
  double pitch = 0.0;
  double engaged = 0.0;       ///< as made up (hand or wrench)
  double coupling_gap = 0.0;  ///< between two pipe ends in one coupling: its length less two engagements
  bool from_memory = false;   ///< a number here is not confirmed by a published source
};

/// nullopt when the tables have no such size.
[[nodiscard]] std::optional<ThreadOf> thread_of(model::Standard standard, model::MakeUp make_up, int size);

/// Lengths a counter sells in that size, ascending, each once, mm.
[[nodiscard]] std::vector<double> stock_lengths(model::Standard standard, int size);
/// "close nipple", "nipple", "pre-threaded pipe" or "" when no stock has that length (within 0.1 mm).
[[nodiscard]] std::string stock_item(model::Standard standard, int size, double length);

/// A bag of stock pieces: lengths, longest first.
struct StockSum {
  std::vector<double> pieces;
  double length = 0.0;  ///< end to end, the couplings' gaps in
};

/// All bags of 1..max_pieces pieces, joined by couplings, whose end-to-end length lies within lo..hi(n), where the
/// window may grow with the number of pieces n: [lo - n * widen, hi + n * widen]. Exhaustive; sorted by number of
/// pieces, then distance from the middle of the window, then pieces. O(number of bags of max_pieces - 1 pieces,
/// times log of the number of stock lengths, plus the answers).
[[nodiscard]] std::vector<StockSum> stock_sums(const std::vector<double>& lengths, double coupling_gap, double lo,
                                               double hi, double widen, int max_pieces);

}  // namespace dryfit::planner

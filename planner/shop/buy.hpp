#pragma once
/// What to buy, grouped as a counter sells it. Lengths in mm, masses in kg.
#include <optional>
#include <string>
#include <vector>

#include "planner/fit/fit.hpp"
#include "planner/shop/span.hpp"

namespace dryfit::planner {

/// How the counter sorts it, in the order of the list.
enum class BuyGroup { pipe, fitting, hardware, board, bit };
[[nodiscard]] const char* word_for(BuyGroup group);

struct BuyLine {
  BuyGroup group = BuyGroup::pipe;
  std::string size;     ///< "3/4", "3/4 x 1/2", of screws "No. 12" or "5 mm"; "" where it has none
  std::string item;     ///< "nipple", "cut and thread", "tee", "pipe strap", "board", "bit", ...
  double length = 0.0;  ///< pipes: end to end; screws: as sold, see screw_size(); boards: 0
  std::string note;     ///< "one end plain", "finished 36 in x 9-1/4 in x 3/4 in", "fits 1-3/8 in holes": for machines
  std::vector<double> sizes;  ///< boards: length, width and thickness rough, then finished, mm
  std::string nominal;        ///< boards: what the yard calls it, "1 x 12"; "" where it has no such name
  int screws = 0;             ///< flanges: that each is fastened with; 0 where no table says
  int count = 0;
  int spares = 0;                   ///< to have at hand beside `count`; 0 unless asked for
  double mass = 0.0;                ///< of one, kg; 0 for bits and screws
  std::optional<double> price;      ///< of one
  std::vector<std::string> labels;  ///< part labels it is for, in file order
  bool from_memory = false;         ///< its mass rests on a table row that no published source confirms
};

struct Shopping {
  std::vector<BuyLine> lines;      ///< by group, then as a counter sorts: size, item, length
  double mass = 0.0;               ///< of everything, without spares
  std::optional<double> price;     ///< of everything with spares, when every price is known
  std::vector<std::string> heavy;  ///< labels of single parts that take two people or more, see lifting.hpp
  double lifting_limit = 0.0;      ///< kg that one person may lift held close
  std::string lifting_source;
};

struct BuyOptions {
  bool spares = false;
  const PriceList* prices = nullptr;
};

/// O(parts log parts). Screws: see screw_count() and screw_size(). Rough boards: 1/2 in over in length, up to the next quarter inch (metric: 10 mm, up to
/// the next 5 mm); as wide as the next board that is sold, of a sheet or beyond the widest 1/4 in (5 mm) over; thickness
/// as finished (common practice, no source). Spares: one
/// coupling and one cap (where used) per size; of each closure that has to be turned, and of the leg whose threads
/// stray most, the next stock lengths below and above its shortest pipe; one screw in ten.
[[nodiscard]] Shopping shopping_of(const model::Frame& frame, const Fit& fit, const BuyOptions& options = {});

}  // namespace dryfit::planner

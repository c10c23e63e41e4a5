#pragma once
/// What a counter asks: a CSV file of prices.
#include <string>
#include <string_view>

#include "model/frame/frame.hpp"
#include "planner/shop/span.hpp"

namespace dryfit::cli {

/// Reads lines `size,item,length,price` under that very heading; blank lines and lines that start with # are let pass.
/// Fields may stand in quotes (model/text/csv.hpp).
/// `size` is a nominal pipe size, `item` is "pipe" or a kind of the part table, `length` (pipes only) a length phrase
/// in `units`, `price` a number. Throws model::InputError with every fault of the file.
[[nodiscard]] planner::PriceList read_prices(std::string_view bytes, const std::string& file, model::Units units);

}  // namespace dryfit::cli

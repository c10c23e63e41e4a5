#pragma once
/// A list of what to buy in the words of a counter, the same on the screen and on paper.
#include <string>
#include <vector>

#include "cli/words/lengths.hpp"
#include "planner/shop/buy.hpp"

namespace dryfit::cli {

/// One line to tick off.
struct BuyEntry {
  int count = 0;
  std::string what;    ///< "3/4 in nipple, 6 in long"
  std::string labels;  ///< "P1 and P6"; "" for none
  std::string price;   ///< of one, "" when not known
};

/// Lines of one kind, in the order of the list, under a heading: "Pipe", "Fittings", ..., "Spares".
struct BuySection {
  std::string heading;
  std::vector<BuyEntry> entries;
  std::vector<std::string> notes;  ///< "Cut pieces of 3/4 in: 2.4 m of pipe in all."
};

/// Sections that are not empty. What is bought as a spare stands in the last one only.
[[nodiscard]] std::vector<BuySection> buy_sections(const planner::Shopping& shopping, const Lengths& lengths);

/// So many of a line as a counter calls them: "3/4 in nipple, 6 in long", "screws into boards, ...".
[[nodiscard]] std::string what_text(const planner::BuyLine& line, int count, const Lengths& lengths);

/// What has to be said under the list: who lifts, what is not confirmed. Whole sentences.
[[nodiscard]] std::vector<std::string> buy_remarks(const planner::Shopping& shopping, model::Units units);

}  // namespace dryfit::cli

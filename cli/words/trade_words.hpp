#pragma once
/// Words of the trade that stand in the tables of the model and the planner, in the language that is spoken.
#include <string>

#include "cli/words/lengths.hpp"
#include "planner/shop/buy.hpp"

namespace dryfit::cli {

/// What a counter calls an item of the list: "45 elbow" for elbow45, "floor flange" for flange, "board, oak" for a
/// board of oak. A word that is not known is returned as it is.
[[nodiscard]] std::string counter_word(const std::string& item);
/// The kind of a part in running text: "flange", "45 elbow"; "end" for a bare pipe end.
[[nodiscard]] std::string kind_word(const std::string& kind);
/// What a board is made of: "oak", "plywood".
[[nodiscard]] std::string stock_word(const std::string& stock);
/// A bit as it is labelled: "1-3/8 in", "35 mm".
[[nodiscard]] std::string bit_text(const std::string& bit);
/// What a line of the list is for, as JSON has it in English: screws by what they hold, pipe by its ends.
[[nodiscard]] std::string purpose_text(const std::string& note);
/// Screws by their size, as a counter has them: "No. 12 x 5/8 in", "5 x 16 mm". `gauge` as in planner::BuyLine.
[[nodiscard]] std::string screw_text(const std::string& gauge, double length, const Lengths& lengths);
/// Where a table row comes from.
[[nodiscard]] std::string source_text(const std::string& source);
/// A surface by its name alone: "wall".
[[nodiscard]] std::string surface_word(const std::string& id);
/// What something is screwed to: "the wall".
[[nodiscard]] std::string the_surface(const std::string& id);
/// What something is undone from: "from the wall".
[[nodiscard]] std::string from_surface(const std::string& id);

}  // namespace dryfit::cli

#include "cli/order/opening.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "cli/io/usage_error.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/text/length.hpp"
#include "model/text/length_fault.hpp"

namespace dryfit::cli {
namespace {

/// What stands between two "x", without the blanks at its ends.
std::vector<std::string> sides_of(const std::string& said) {
  std::vector<std::string> sides(1);
  for (const char letter : said) {
    if (letter == 'x' || letter == 'X') {
      sides.emplace_back();
    } else {
      sides.back() += letter;
    }
  }
  for (std::string& side : sides) {
    const auto first = side.find_first_not_of(' ');
    side = first == std::string::npos ? "" : side.substr(first, side.find_last_not_of(' ') - first + 1);
  }
  return sides;
}

}  // namespace

planner::Opening opening_said(const std::string& said, model::Units units) {
  const std::vector<std::string> sides = sides_of(said);
  if (sides.size() != 2 && sides.size() != 3) {
    throw UsageError(say(
        "--carry: '{}' is no opening; say width x height of a door, such as 30x78, or three edges, such as 60x30x78",
        said));
  }
  planner::Opening opening = planner::Opening::door(0.0, 0.0);
  for (std::size_t i = 0; i < sides.size(); ++i) {
    model::Message why;
    const auto length = model::parse_length(sides[i], units, why);
    if (!length) throw UsageError(say("--carry: '{}' in '{}': {}", sides[i], said, cli::said(why)));
    if (*length <= 0.0) {
      throw UsageError(say("--carry: '{}' in '{}': an opening needs sides longer than 0", sides[i], said));
    }
    opening.sides[i] = *length;
  }
  return opening;
}

std::string opening_text(const planner::Opening& opening, model::Units units) {
  std::string text;
  for (const double side : opening.sides) {
    if (std::isinf(side)) continue;
    if (!text.empty()) text += " x ";
    text += length_text(side, units);
  }
  return text;
}

std::string box_text(const planner::PieceBox& box, model::Units units) {
  return fmt::format("{} x {} x {}", length_text(box.edges[0], units), length_text(box.edges[1], units),
                     length_text(box.edges[2], units));
}

}  // namespace dryfit::cli

#pragma once
/// A change of design as JSON and in words.
#include <iosfwd>
#include <string>
#include <vector>

#include "cli/change/change_answer.hpp"
#include "cli/json/json_answer.hpp"

namespace dryfit::cli {

[[nodiscard]] Json change_json(const ChangeAnswer& answer);
void print_change(const ChangeAnswer& answer, std::ostream& out);

/// The old frame, of which no order is known, and why: `old_frame` of a document.
void add_never_stood(Json& document, const LoadedFrame& design, const Finding& found);
void print_never_stood(const LoadedFrame& design, const Finding& found, std::ostream& out);

/// A step after which the price is higher by two moves or more (by effort: by half a minute).
struct PriceJump {
  int step = 0;
  double from = 0.0;
  double to = 0.0;
};
[[nodiscard]] std::vector<PriceJump> jumps_of(const std::vector<planner::PriceAt>& curve, bool by_effort);

/// "3 moves", "40 s", "2 min": a price as the answer counts.
[[nodiscard]] std::string price_text(double price, bool by_effort);

}  // namespace dryfit::cli

#pragma once
/// What now, in words and as JSON.
#include <iosfwd>

#include "cli/json/json_answer.hpp"
#include "cli/order/now_answer.hpp"

namespace dryfit::cli {

/// Adds `built`, `undo`, `undo_moves`, `undo_moves_at_least`, `undo_proven`, `stays`, `steps`, `effort`, and, where
/// they were asked for, `replaced` and `without`.
void add_now(Json& document, const LoadedFrame& loaded, const Finding& finding, const NowAsked& asked,
             const NowAnswer& answer);

void print_now(const LoadedFrame& loaded, const Finding& finding, const NowAsked& asked, const NowAnswer& answer,
               std::ostream& out);

}  // namespace dryfit::cli

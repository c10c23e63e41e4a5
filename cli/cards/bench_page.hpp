#pragma once
/// One page for the bench that works offline: all steps with pictures, big buttons, steps done remembered.
#include <string>

#include "cli/cards/deck.hpp"
#include "planner/base/foreman.hpp"

namespace dryfit::cli {

/// An HTML document that needs nothing beside itself and is read without scripts too; empty when the foreman ends the
/// work. Throws DrawError.
[[nodiscard]] std::string bench_page(const model::Frame& frame, const Deck& deck, planner::Foreman* foreman = nullptr);

}  // namespace dryfit::cli

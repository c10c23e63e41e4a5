#pragma once
/// What a card says for when it does not go as planned: people stop for the night, or a part is missing.
#include "cli/cards/card.hpp"
#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/order/order_plan.hpp"

namespace dryfit::cli {

/// Fills Card::stop and Card::missing of all cards, and says on the cover how to read what they say of stopping. Of large
/// frames nothing is said. O(steps) undo moves asked for a part.
void add_asides(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan, Working* working, Deck& deck);

}  // namespace dryfit::cli

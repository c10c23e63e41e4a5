#include "cli/program/command_table.hpp"

#include <array>

#include "cli/cards/command_cards.hpp"
#include "cli/change/command_change.hpp"
#include "cli/check/command_check.hpp"
#include "cli/check/command_fit.hpp"
#include "cli/edit/command_edit.hpp"
#include "cli/help/command_explain.hpp"
#include "cli/help/command_new.hpp"
#include "cli/help/command_schema.hpp"
#include "cli/manual/command_manual.hpp"
#include "cli/order/command_early.hpp"
#include "cli/order/command_graph.hpp"
#include "cli/order/command_order.hpp"
#include "cli/order/command_replay.hpp"
#include "cli/pocket/command_pocket.hpp"
#include "cli/shop/command_buy.hpp"
#include "cli/shop/command_drill.hpp"
#include "cli/shop/command_span.hpp"
#include "cli/show/command_show.hpp"

namespace dryfit::cli {
namespace {

/// Manual pages and completions are written from the table itself.
Job set_up_manual_of_all(OptionList& list) { return set_up_manual(list, command_table()); }

}  // namespace

std::span<const Command> command_table() {
  static constexpr auto kCommands = std::to_array<Command>({
      {"new", "a frame file to start from, every line explained", set_up_new},
      {"check", "does it fit, and can it be built at all?", set_up_check},
      {"order", "the numbered steps to build it, with the least effort", set_up_order},
      {"early", "what must go on early, and what forgetting it costs", set_up_early},
      {"replay", "can it be built in your own order? The first step that can't be made, and why", set_up_replay},
      {"change", "what must come off for a change of the design, and until when does it cost nothing?", set_up_change},
      {"fit", "does everything line up and stand level? Turns to give or take, hole clearances", set_up_fit},
      {"span", "which stock pieces and couplings make a length?", set_up_span},
      {"buy", "what to buy, what to cut, and what it weighs", set_up_buy},
      {"show", "a picture of the frame, whole or at a step", set_up_show},
      {"drill", "where the holes go, with which bit, and whether the boards will go on", set_up_drill},
      {"graph", "what must come before what, as a graph in DOT", set_up_graph},
      {"cards", "numbered build cards to print, or one page that works offline at the bench", set_up_cards},
      {"edit", "small changes in the text of a frame file, all else left as it was written", set_up_edit},
      {"pocket", "all of dryfit in one HTML file for a phone or a desktop, without a network", set_up_pocket},
      {"explain", "one rule of what hands can do, with a small drawing", set_up_explain},
      {"schema", "the JSON Schema of the frame file, or of what a command prints with --json", set_up_schema},
      {"manual", "manual pages and completions, as they are installed", set_up_manual_of_all, true},
  });
  return kCommands;
}

}  // namespace dryfit::cli

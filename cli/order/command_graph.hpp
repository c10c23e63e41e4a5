#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit graph`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_graph(OptionList& list);

}  // namespace dryfit::cli

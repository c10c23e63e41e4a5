#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit order`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_order(OptionList& list);

}  // namespace dryfit::cli

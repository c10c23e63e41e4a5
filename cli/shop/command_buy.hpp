#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit buy`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_buy(OptionList& list);

}  // namespace dryfit::cli

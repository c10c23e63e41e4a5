#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit check`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_check(OptionList& list);

}  // namespace dryfit::cli

#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit early`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_early(OptionList& list);

}  // namespace dryfit::cli

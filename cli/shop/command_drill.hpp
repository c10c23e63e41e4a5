#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit drill`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_drill(OptionList& list);

}  // namespace dryfit::cli

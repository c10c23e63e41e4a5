#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit replay`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_replay(OptionList& list);

}  // namespace dryfit::cli

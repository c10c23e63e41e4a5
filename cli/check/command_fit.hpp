#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit fit`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_fit(OptionList& list);

}  // namespace dryfit::cli

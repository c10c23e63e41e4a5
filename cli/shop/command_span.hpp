#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `dryfit span`: see command_table.cpp for the question it answers.
[[nodiscard]] Job set_up_span(OptionList& list);

}  // namespace dryfit::cli

#pragma once
/// The one table of commands.
#include <span>

#include "cli/call/command.hpp"

namespace dryfit::cli {

/// In the order of the help text. To add a command: write its two files and one line in command_table.cpp.
[[nodiscard]] std::span<const Command> command_table();

}  // namespace dryfit::cli

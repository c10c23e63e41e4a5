#pragma once
/// What is the same for every command of the table.
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// Declares a command's options on `app`, those that all commands have as well.
[[nodiscard]] Job declare(const Command& command, CLI::App& app);

/// For builds and packages: not in the help text, the manual pages and the completions.
[[nodiscard]] bool is_hidden(const Command& command);

}  // namespace dryfit::cli

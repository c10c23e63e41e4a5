#pragma once
/// What is the same for every command of the table.
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// Declares a command's options on `app`, those that all commands have as well.
[[nodiscard]] Job declare(const Command& command, CLI::App& app);

}  // namespace dryfit::cli

#pragma once
/// What is the same for every command of the table.
#include "cli/call/command.hpp"

namespace dryfit::cli {

/// Declares a command's options, those that all commands have as well.
[[nodiscard]] Job declare(const Command& command, OptionList& list);

/// Declares --units on a command; what is asked for holds for the whole run, see lengths_asked().
void add_units_option(OptionList& list);

}  // namespace dryfit::cli

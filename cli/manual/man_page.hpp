#pragma once
/// Manual pages in the man macros (man(7)): one for the program, one for every command.
#include <string>
#include <vector>

#include "cli/manual/command_words.hpp"

namespace dryfit::cli {

/// dryfit(1): the commands, exit codes, files, cautions.
[[nodiscard]] std::string program_page(const std::vector<CommandWords>& commands);

/// dryfit-NAME(1): one command with all its options.
[[nodiscard]] std::string command_page(const CommandWords& command);

}  // namespace dryfit::cli

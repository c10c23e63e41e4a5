#pragma once
/// Completion scripts for shells, written from the command table.
#include <string>
#include <vector>

#include "cli/manual/command_words.hpp"

namespace dryfit::cli {

[[nodiscard]] std::string bash_completions(const std::vector<CommandWords>& commands);
[[nodiscard]] std::string zsh_completions(const std::vector<CommandWords>& commands);
[[nodiscard]] std::string fish_completions(const std::vector<CommandWords>& commands);

}  // namespace dryfit::cli

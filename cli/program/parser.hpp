#pragma once
/// Splits the words of a call into a command and what was given to its options. The only unit that knows the option
/// library.
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "cli/call/option.hpp"

namespace dryfit::cli {

/// A command as the parser knows it.
struct ParsedCommand {
  const char* name;
  const char* answer;
  bool hidden = false;
  OptionList options;
};

/// What a call asks for: a text to print (help, the version), or a command.
struct Call {
  std::optional<std::string> text;
  std::size_t command = 0;  ///< index into the commands
  Given given;
};

/// Throws UsageError, in the program's own words: "there is no option '--peple'; did you mean '--people'?". Values are
/// not judged here, see take_options().
[[nodiscard]] Call parse_call(std::span<const ParsedCommand> commands, const std::vector<std::string>& args);

}  // namespace dryfit::cli

#pragma once
/// The command table as data: what manual pages and completions are written from. It is read off the parser itself, so
/// that nothing can be documented that is not parsed, nor the other way round.
#include <span>
#include <string>
#include <vector>

#include "cli/call/command.hpp"

namespace dryfit::cli {

/// An option, a flag or a positional of one command.
struct OptionWords {
  std::vector<std::string> names;  ///< "-o", "--output"; for a positional its one name, "FRAME"
  bool positional = false;
  bool required = false;
  bool repeated = false;  ///< may have several values
  bool takes_value = false;
  bool number = false;               ///< the value is a number
  std::string value;                 ///< what the value is called: "OUTPUT", "N", "a4|letter"
  std::vector<std::string> choices;  ///< when only these words are taken
  std::string standard;              ///< the value when none is given; empty: none
  std::string text;                  ///< one line
};

struct CommandWords {
  std::string name;
  std::string answer;                ///< the question that it answers
  std::vector<OptionWords> options;  ///< positionals first, each as declared
};

/// All commands of the table but the hidden ones, in its order.
[[nodiscard]] std::vector<CommandWords> all_command_words(std::span<const Command> table);

}  // namespace dryfit::cli

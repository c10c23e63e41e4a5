#pragma once
/// What one command is. Parsing, help and the list in the documentation all come from the table of commands
/// (cli/program/command_table.hpp).
#include <functional>

#include "cli/call/option.hpp"
#include "cli/io/streams.hpp"

namespace dryfit::cli {

/// Carries out a command whose options have been parsed; returns an ExitCode. May throw UsageError (the call is
/// wrong) or model::InputError (the frame file is wrong); both mean exit code 2 and nothing on `out`.
using Job = std::function<int(const Streams&)>;

/// One command, in its own file command_NAME.{hpp,cpp}.
struct Command {
  const char* name;
  const char* answer;               ///< one line: the question that it answers
  Job (*set_up)(OptionList& list);  ///< declares the options; the job reads what they were set to
  bool hidden = false;              ///< for builds and packages: not in the help text, manual pages and completions
};

}  // namespace dryfit::cli

#pragma once
/// The whole program but for the process: parses the words of a call, carries it out, turns errors into exit codes.
#include <string>
#include <vector>

#include "cli/io/streams.hpp"

namespace dryfit::cli {

/// Runs `dryfit ARGS...` (the program's own name left out) and returns the exit code. Never throws on bad input.
/// Messages go to the log (cli/io/log.hpp), but for faults of a frame file, which go to `streams.err` bare, so
/// that an editor finds file:line:column at the start of the line.
[[nodiscard]] int run_program(const std::vector<std::string>& words, const Streams& streams);

}  // namespace dryfit::cli

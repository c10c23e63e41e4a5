/// The process: streams, terminal, signals. Everything else is run_program().
#include <unistd.h>

#include <csignal>
#include <cstdlib>
#include <exception>
#include <iostream>
#include <string>
#include <vector>

#include "cli/io/descriptor_buffer.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/log.hpp"
#include "cli/program/program.hpp"

namespace {

/// https://no-color.org: set and not empty means no colour.
bool colour_wanted(int descriptor) {
  const char* no_color = std::getenv("NO_COLOR");
  return isatty(descriptor) == 1 && (no_color == nullptr || *no_color == '\0');
}

}  // namespace

int main(int argc, char** argv) {
  // A closed pipe is an error of writing, reported by the exit code, not a sudden death in the middle of a file.
  std::signal(SIGPIPE, SIG_IGN);
  std::signal(SIGXFSZ, SIG_IGN);
  std::ios::sync_with_stdio(false);
  dryfit::cli::log_to_standard_error(colour_wanted(STDERR_FILENO));
  const std::vector<std::string> args(argv + (argc > 0 ? 1 : 0), argv + argc);
  try {
    dryfit::cli::DescriptorBuffer buffer(STDOUT_FILENO);
    std::ostream out(&buffer);
    return dryfit::cli::run_program(args, {std::cin, out, std::cerr, &buffer.error(), isatty(STDERR_FILENO) == 1});
  } catch (const std::exception& error) {
    std::cerr << "dryfit: internal error: " << error.what() << '\n';
    return dryfit::cli::kUnusable;
  }
}

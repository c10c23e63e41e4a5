#include "cli/call/declare.hpp"

#include <spdlog/spdlog.h>

#include <CLI/App.hpp>
#include <CLI/Validators.hpp>
#include <memory>

#include "cli/io/working.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

Job declare(const Command& command, CLI::App& app) {
  const auto verbose = std::make_shared<bool>(false);
  app.set_help_flag("-h,--help", "this text");
  app.add_flag("-v,--verbose", *verbose, "also report on standard error what the program is doing");
  const Job job = command.set_up(app);
  app.add_option_function<std::string>("--language", speak,
                                       "en or de; as LC_ALL, LC_MESSAGES or LANG has it when not given")
      ->check(CLI::IsMember(languages()));
  return [verbose, job](const Streams& streams) {
    spdlog::set_level(*verbose ? spdlog::level::debug : spdlog::level::warn);
    if (*verbose && streams.working != nullptr) streams.working->be_quiet();
    return job(streams);
  };
}

}  // namespace dryfit::cli

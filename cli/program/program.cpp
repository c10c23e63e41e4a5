#include "cli/program/program.hpp"

#include <spdlog/spdlog.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <cerrno>
#include <cstring>
#include <new>
#include <optional>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/io/working.hpp"
#include "cli/program/call_fault.hpp"
#include "cli/program/command_table.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "dryfit_version.hpp"
#include "model/frame/input_error.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {
namespace {

constexpr const char* kIntroduction =
    "dryfit rehearses on paper the build of a frame of threaded pipe, fittings and boards: whether it fits, whether it "
    "can be put together at all, and in which order.";
constexpr const char* kClosing =
    "Exit code: 0 yes, 1 no, 2 the input or the call cannot be used, 3 undecided within the limits given.\n"
    "dryfit is no structural engineer: loads, guards, stairs and anything over people's heads go to local codes and\n"
    "licensed practice.\n";

/// A first word that is no command deserves a better answer than "unexpected argument".
std::optional<std::string> unknown_command(const std::vector<std::string>& args) {
  if (args.empty() || args.front().starts_with('-')) return std::nullopt;
  std::vector<std::string> names;
  for (const Command& command : command_table()) names.emplace_back(command.name);
  if (std::find(names.begin(), names.end(), args.front()) != names.end()) return std::nullopt;
  std::string text = "there is no command '" + args.front() + "'";
  if (const auto near = model::nearest_word(args.front(), names)) text += "; did you mean '" + *near + "'?";
  return text;
}

std::string help_call(const CLI::App& app) {
  for (const CLI::App* chosen : app.get_subcommands()) return "dryfit " + chosen->get_name() + " --help";
  return "dryfit --help";
}

/// Runs the job and turns what went wrong into words and exit code 2.
int carry_out(const Job& job, const Streams& given, bool json = false) {
  Working working(given.err, given.terminal && !json);
  Streams streams = given;
  streams.working = &working;
  try {
    const int code = job(streams);
    streams.out.flush();
    if (!streams.out) {
      const int error = streams.write_error != nullptr ? *streams.write_error : 0;
      // A reader that has left (head, a pager that was quit) has seen enough and needs no message.
      if (error != EPIPE) {
        spdlog::error("cannot write to standard output: {}", error != 0 ? std::strerror(error) : "write failed");
      }
      return kUnusable;
    }
    return code;
  } catch (const model::InputError& error) {
    working.end();
    streams.err << error.what() << '\n';
  } catch (const UsageError& error) {
    working.end();
    spdlog::error("{}", error.what());
  } catch (const std::bad_alloc&) {
    working.end();
    spdlog::error("memory ran out before there was an answer: 'ulimit -v' or the machine allows no more");
    return kUndecided;
  }
  return kUnusable;
}

/// The answer is for a program: nobody looks at standard error meanwhile.
bool asks_for_json(const CLI::App& app) {
  for (const CLI::App* chosen : app.get_subcommands()) {
    const CLI::Option* json = chosen->get_option_no_throw("--json");
    return json != nullptr && json->count() > 0;
  }
  return false;
}

/// Language and units are chosen for one run: by the environment and the frame where the call does not say. What calls
/// the library by itself hears English.
struct WhileRunning {
  WhileRunning() { choose(""); }
  ~WhileRunning() { choose("en"); }
  WhileRunning(const WhileRunning&) = delete;
  WhileRunning& operator=(const WhileRunning&) = delete;

 private:
  static void choose(const char* language) {
    speak(language);
    show_lengths_in("");
  }
};

}  // namespace

int run_program(const std::vector<std::string>& args, const Streams& streams) {
  const WhileRunning speech;
  if (const auto problem = unknown_command(args)) {
    spdlog::error("{}; see 'dryfit --help'", *problem);
    return kUnusable;
  }
  CLI::App app{kIntroduction, "dryfit"};
  app.footer(kClosing);
  app.set_version_flag("--version", "dryfit " DRYFIT_VERSION);
  app.require_subcommand(1);
  app.get_formatter()->column_width(28);
  Job chosen;
  for (const Command& command : command_table()) {
    CLI::App* sub = app.add_subcommand(command.name, command.answer);
    if (command.hidden) sub->group("");
    const Job job = declare(command, *sub);
    sub->callback([&chosen, job] { chosen = job; });
  }
  try {
    app.parse(std::vector<std::string>(args.rbegin(), args.rend()));  // CLI11 takes them last first
  } catch (const CLI::CallForHelp&) {
    streams.out << app.help();
    return carry_out([](const Streams&) { return kYes; }, streams);
  } catch (const CLI::CallForVersion& version) {
    streams.out << version.what() << '\n';
    return carry_out([](const Streams&) { return kYes; }, streams);
  } catch (const CLI::ParseError& error) {
    spdlog::error("{}; see '{}'", call_fault(app, error), help_call(app));
    return kUnusable;
  }
  return carry_out(chosen, streams, asks_for_json(app));
}

}  // namespace dryfit::cli

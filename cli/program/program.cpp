#include "cli/program/program.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <new>
#include <ostream>
#include <utility>

#include "cli/call/declare.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/inputs.hpp"
#include "cli/io/log.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/io/working.hpp"
#include "cli/program/command_table.hpp"
#include "cli/program/parser.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/frame/input_error.hpp"

namespace dryfit::cli {
namespace {

/// Runs the job and turns what went wrong into words and exit code 2.
int carry_out(const Job& job, const Streams& given, bool json = false) {
  Working working(given.err, given.terminal && !json, given.progress);
  Streams streams = given;
  streams.working = &working;
  try {
    const int code = job(streams);
    streams.out.flush();
    if (!streams.out) {
      const int error = streams.write_error != nullptr ? *streams.write_error : 0;
      // A reader that has left (head, a pager that was quit) has seen enough and needs no message.
      if (error != EPIPE) {
        log_error(say("cannot write to standard output: {}",
                      error != 0 ? std::string(std::strerror(error)) : say("write failed")));
      }
      return kUnusable;
    }
    return code;
  } catch (const model::InputError& error) {
    working.end();
    streams.err << said(error) << '\n';
  } catch (const UsageError& error) {
    working.end();
    log_error(error.what());
  } catch (const std::bad_alloc&) {
    working.end();
    log_error(say("memory ran out before there was an answer: 'ulimit -v' or the machine allows no more"));
    return kUndecided;
  }
  return kUnusable;
}

/// The answer is for a program: nobody looks at standard error meanwhile.
bool asks_for_json(const OptionList& options, const Given& given) {
  for (std::size_t i = 0; i < given.size(); ++i) {
    if (options.all()[i].told() == "--json") return given[i].has_value();
  }
  return false;
}

/// Where the words of a call are explained.
std::string help_call(const std::vector<ParsedCommand>& commands, const std::vector<std::string>& args) {
  for (const ParsedCommand& command : commands) {
    if (!args.empty() && args.front() == command.name) return fmt::format("dryfit {} --help", command.name);
  }
  return "dryfit --help";
}

/// `help` and `help COMMAND` are what many type first; they ask for what --help says.
std::vector<std::string> with_help_as_option(std::vector<std::string> args) {
  if (args.empty() || args.front() != "help") return args;
  args.front() = "--help";
  if (args.size() > 1 && !args[1].starts_with("-")) std::swap(args[0], args[1]);
  return args;
}

/// The language that the call asks for, before its words are understood: what is wrong with them is told in it.
std::string language_asked(const std::vector<std::string>& args) {
  constexpr std::string_view kOption = "--language";
  std::string asked;
  for (std::size_t i = 0; i < args.size(); ++i) {
    if (args[i] == kOption && i + 1 < args.size()) asked = args[i + 1];
    if (args[i].starts_with(std::string(kOption) + "=")) asked = args[i].substr(kOption.size() + 1);
  }
  const std::vector<std::string> known = languages();
  return std::find(known.begin(), known.end(), asked) == known.end() ? "" : asked;
}

/// Language and units are chosen for one run: by the environment and the frame where the call does not say. What calls
/// the library by itself hears English.
struct WhileRunning {
  explicit WhileRunning(const std::string& language) {
    choose(language);
    forget_inputs();
  }
  ~WhileRunning() { choose("en"); }
  WhileRunning(const WhileRunning&) = delete;
  WhileRunning& operator=(const WhileRunning&) = delete;

 private:
  static void choose(const std::string& language) {
    speak(language);
    show_lengths_in("");
  }
};

}  // namespace

int run_program(const std::vector<std::string>& words, const Streams& streams) {
  const std::vector<std::string> args = with_help_as_option(words);
  const WhileRunning speech(language_asked(args));
  std::vector<ParsedCommand> commands;
  std::vector<Job> jobs;
  for (const Command& command : command_table()) {
    ParsedCommand& parsed = commands.emplace_back(ParsedCommand{command.name, command.answer, command.hidden, {}});
    jobs.push_back(declare(command, parsed.options));
  }
  Job job = [](const Streams&) { return kYes; };
  bool json = false;
  try {
    const Call call = parse_call(commands, args);
    if (call.text) {
      streams.out << *call.text;
    } else {
      const OptionList& options = commands[call.command].options;
      take_options(options, call.given);
      job = jobs[call.command];
      json = asks_for_json(options, call.given);
    }
  } catch (const UsageError& error) {
    log_error(say("{}; see '{}'", error.what(), help_call(commands, args)));
    return kUnusable;
  }
  return carry_out(job, streams, json);
}

}  // namespace dryfit::cli

#include "cli/program/parser.hpp"

#include <fmt/format.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>

#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "dryfit_version.hpp"
#include "model/frame/plain_text.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {
namespace {

constexpr const char* kIntroduction =
    "dryfit goes through the build of a frame of threaded pipe, fittings and boards on paper: does everything line up, "
    "can it be put together at all, and in which order?";
constexpr const char* kClosing =
    "Exit code: 0 yes, 1 no, 2 the input or the call cannot be used, 3 undecided within the limits given.\n"
    "dryfit is not a structural check. For loads, guardrails, stairs or anything overhead, follow your local code and\n"
    "ask a licensed (UK: chartered) engineer.\n";
constexpr int kAnyNumber = 1 << 29;  ///< the library's own sign for "as many as there are"

/// What help says of the value: "TEXT", "in|mm|both", "N in 1 - 20".
std::string value_words(const Option& option) {
  if (!option.words.empty()) return fmt::format("{}", fmt::join(option.words, "|"));
  if (option.kind == Option::Kind::text) return "TEXT";
  const bool bounded = option.within && option.within->first > -1e9 && option.within->second < 1e9;
  return bounded ? fmt::format("N ({:.10g} to {:.10g})", option.within->first, option.within->second) : "N";
}

bool is_help(const Option& option) { return option.told() == "--help"; }

void add(CLI::App& app, const Option& option, std::vector<std::string>& values) {
  if (is_help(option)) {
    app.set_help_flag(option.names, option.text);
    return;
  }
  CLI::Option* added = option.kind == Option::Kind::flag ? app.add_flag(option.names, option.text)
                                                         : app.add_option(option.names, values, option.text);
  added->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
  if (option.kind == Option::Kind::flag) return;
  const bool many = option.is_many && option.parts == 0;
  added->expected(1, many ? kAnyNumber : 1);
  added->allow_extra_args(many);  // or the first option by its place would take what the next one waits for
  added->type_name(value_words(option))->default_str(option.standard);
}

std::vector<std::string> names_of(const OptionList& options) {
  std::vector<std::string> names;
  for (const Option& option : options.all()) {
    for (const std::string& name : option.all_names()) names.push_back(name);
  }
  return names;
}

/// Of words that nothing takes: an unknown option explains what follows it as well.
std::string unexpected(const OptionList& options, const std::vector<std::string>& words) {
  for (const std::string& word : words) {
    if (word.size() < 2 || word.front() != '-') continue;
    const std::string name = word.substr(0, word.find('='));
    std::vector<std::string> known = names_of(options);
    std::erase_if(known, [](const std::string& other) { return !other.starts_with("--"); });  // a letter is near to all
    const auto near = model::nearest_word(name, known);
    return say("there is no option '{}'{}", model::shown(name), near ? say("; did you mean '{}'?", *near) : "");
  }
  std::vector<std::string> quoted;
  for (const std::string& word : words) quoted.push_back("'" + model::shown(word) + "'");
  return words.size() == 1 ? say("{} was not expected", listed(quoted)) : say("{} were not expected", listed(quoted));
}

/// The option that ends the call, or that another option follows, where its value should stand.
const Option* without_value(const OptionList& options, const std::vector<std::string>& args) {
  const std::vector<std::string> known = names_of(options);
  const auto is_option = [&](const std::string& word) {
    if (word == "--help" || word == "-h") return false;  // is answered whatever stands beside it
    return std::find(known.begin(), known.end(), word.substr(0, word.find('='))) != known.end();
  };
  for (std::size_t i = 1; i < args.size(); ++i) {
    for (const Option& option : options.all()) {
      const std::vector<std::string> names = option.all_names();
      const bool here = std::find(names.begin(), names.end(), args[i]) != names.end();
      if (!here || option.positional() || option.kind == Option::Kind::flag) continue;
      if (i + 1 == args.size() || is_option(args[i + 1])) return &option;
    }
  }
  return nullptr;
}

/// "--units needs a value: in, mm or both".
std::string value_missing(const Option& option) {
  if (!option.example.empty()) return say("{0} needs a value, such as {0} {1}", option.told(), option.example);
  if (!option.words.empty()) return say("{} needs a value: {}", option.told(), listed_or(option.words));
  if (option.kind == Option::Kind::text) return say("{} needs a value", option.told());
  return say("{} needs a number", option.told());
}

/// A first word that is no command deserves a better answer than that it was not expected.
std::string no_command(std::span<const ParsedCommand> commands, const std::string& word) {
  std::vector<std::string> names;
  for (const ParsedCommand& command : commands) names.emplace_back(command.name);
  const auto near = model::nearest_word(word, names);
  return say("there is no command '{}'{}", model::shown(word), near ? say("; did you mean '{}'?", *near) : "");
}

/// The library's parser, and where it puts what it finds.
struct Parser {
  explicit Parser(std::span<const ParsedCommand> commands) : app(kIntroduction, "dryfit") {
    app.footer(kClosing);
    app.set_version_flag("--version", "dryfit " DRYFIT_VERSION);
    app.get_formatter()->column_width(28);
    for (const ParsedCommand& command : commands) {
      CLI::App* sub = app.add_subcommand(command.name, command.answer)->allow_extras();
      if (command.hidden) sub->group("");
      for (const Option& option : command.options.all()) add(*sub, option, values.emplace_back());
      subs.push_back(sub);
    }
  }

  CLI::App app;
  std::vector<CLI::App*> subs;
  std::deque<std::vector<std::string>> values;
};

Given given_to(const CLI::App& sub, const OptionList& options) {
  Given given;
  for (const Option& option : options.all()) {
    const CLI::Option* found = is_help(option) ? nullptr : sub.get_option(option.told());
    const bool there = found != nullptr && found->count() > 0;
    given.push_back(there ? std::optional(found->results()) : std::nullopt);
  }
  return given;
}

}  // namespace

Call parse_call(std::span<const ParsedCommand> commands, const std::vector<std::string>& args) {
  if (args.empty()) throw UsageError(say("say what to do: dryfit COMMAND, such as dryfit check FRAME"));
  const auto named = std::find_if(commands.begin(), commands.end(),
                                  [&](const ParsedCommand& command) { return args.front() == command.name; });
  if (named == commands.end() && args.front().front() != '-') throw UsageError(no_command(commands, args.front()));
  if (named != commands.end()) {
    // The library would take the option behind it for the value.
    if (const Option* option = without_value(named->options, args)) throw UsageError(value_missing(*option));
  }
  Parser parser(commands);
  try {
    parser.app.parse(std::vector<std::string>(args.rbegin(), args.rend()));  // the library takes them last first
  } catch (const CLI::CallForHelp&) {
    return {.text = parser.app.help(), .command = 0, .given = {}};
  } catch (const CLI::CallForVersion& version) {
    return {.text = std::string(version.what()) + "\n", .command = 0, .given = {}};
  } catch (const CLI::ParseError& error) {
    if (named == commands.end()) throw UsageError(unexpected({}, args));
    throw UsageError(model::shown(error.what()));
  }
  if (named == commands.end()) throw UsageError(say("say what to do: dryfit COMMAND, such as dryfit check FRAME"));
  const CLI::App& sub = *parser.subs[static_cast<std::size_t>(named - commands.begin())];
  if (const auto extra = sub.remaining(); !extra.empty()) throw UsageError(unexpected(named->options, extra));
  return {.text = std::nullopt,
          .command = static_cast<std::size_t>(named - commands.begin()),
          .given = given_to(sub, named->options)};
}

}  // namespace dryfit::cli

#include "cli/program/call_fault.hpp"

#include <fmt/format.h>

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <charconv>
#include <optional>
#include <regex>
#include <vector>

#include "cli/words/words.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {
namespace {

const CLI::App& chosen_command(const CLI::App& app) {
  const auto commands = app.get_subcommands();
  return commands.empty() ? app : *commands.front();
}

std::string quoted(const std::string& word) { return "'" + word + "'"; }

std::string and_nearest(const std::string& word, const std::vector<std::string>& known) {
  const auto near = model::nearest_word(word, known);
  return near && *near != word ? fmt::format("; did you mean '{}'?", *near) : std::string();
}

/// An unknown option explains what follows it as well.
std::string unexpected(const CLI::App& command) {
  std::vector<std::string> known;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) known.push_back("--" + name);
  }
  std::vector<std::string> words;
  for (const std::string& word : command.remaining()) {
    if (word.size() > 1 && word.front() == '-') {
      const std::string name = word.substr(0, word.find('='));
      return fmt::format("there is no option '{}'{}", name, and_nearest(name, known));
    }
    words.push_back(quoted(word));
  }
  return fmt::format("{} {} not expected", listed(words), words.size() == 1 ? "was" : "were");
}

bool is_number(const std::string& text) {
  double value = 0.0;
  const char* end = text.data() + text.size();
  const auto [stop, error] = std::from_chars(text.data(), end, value);
  return error == std::errc() && stop == end;
}

/// "1 to 20", "a number above 0". The parser writes the ends of a range with all their digits.
std::string range_text(const CLI::App& command, const std::string& option, const std::string& low,
                       const std::string& high) {
  const CLI::Option* found = command.get_option_no_throw(option);
  const std::string type = found != nullptr ? found->get_type_name() : std::string();
  if (type.find("NONNEGATIVE") != std::string::npos) return "0 or more";
  if (type.find("POSITIVE") != std::string::npos) return "a number above 0";
  return fmt::format("{:.10g} to {:.10g}", std::stod(low), std::stod(high));
}

std::string invalid(const CLI::App& command, const std::string& said) {
  static const std::regex kRange(R"(^(\S+): Value (.*) not in range (\S+) to (\S+)$)");
  static const std::regex kWords(R"(^(\S+): (.*) not in \{(.*)\}$)");
  std::smatch part;
  if (std::regex_match(said, part, kRange)) {
    const std::string value = part[2];
    if (!is_number(value)) return fmt::format("{}: '{}' is no number", part[1].str(), value);
    return fmt::format("{}: expected {}, got '{}'", part[1].str(), range_text(command, part[1], part[3], part[4]),
                       value);
  }
  if (std::regex_match(said, part, kWords)) {
    std::vector<std::string> words;
    const std::string list = part[3];
    for (std::size_t at = 0; at <= list.size();) {
      const std::size_t comma = std::min(list.find(',', at), list.size());
      words.push_back(list.substr(at, comma - at));
      at = comma + 1;
    }
    return fmt::format("{}: expected {}, got '{}'{}", part[1].str(), listed_or(words), part[2].str(),
                       and_nearest(part[2], words));
  }
  return said;
}

std::string not_converted(const CLI::App& command, const std::string& said) {
  static const std::regex kValue(R"(^Could not convert: (\S+) = (.*)$)");
  std::smatch part;
  if (!std::regex_match(said, part, kValue)) return said;
  const CLI::Option* option = command.get_option_no_throw(part[1]);
  if (option != nullptr && option->get_items_expected_max() == 0) {
    return fmt::format("{} takes no value, got '{}'", part[1].str(), part[2].str());
  }
  const bool number = is_number(part[2]);
  return fmt::format("{}: '{}' is no {}", part[1].str(), part[2].str(), number ? "whole number" : "number");
}

std::string miscounted(const std::string& said) {
  static const std::regex kCount(R"(^(\S+): (?:At least|At Most|Exactly)? ?(\d+) required but received (\d+)$)",
                                 std::regex::icase);
  static const std::regex kNone(R"(^(\S+): .*(required|missing).*$)");
  std::smatch part;
  if (std::regex_match(said, part, kCount)) {
    if (part[2] == "1") return fmt::format("{} is given more than once", part[1].str());
    return fmt::format("{}: expected {} values, got {}", part[1].str(), part[2].str(), part[3].str());
  }
  if (std::regex_match(said, part, kNone)) return fmt::format("{}: its value is missing", part[1].str());
  return said;
}

/// "A excludes B" and "A requires B".
std::string paired(const std::string& said, const char* verb, const char* pattern) {
  const std::size_t at = said.find(verb);
  if (at == std::string::npos) return said;
  return fmt::format(fmt::runtime(pattern), said.substr(0, at), said.substr(at + std::string_view(verb).size()));
}

}  // namespace

std::string call_fault(const CLI::App& app, const CLI::ParseError& error) {
  std::string said = error.what();
  const auto kind = static_cast<CLI::ExitCodes>(error.get_exit_code());
  const CLI::App& command = chosen_command(app);
  if (kind == CLI::ExitCodes::RequiredError) {
    if (&command == &app) return "a command is needed";
    const std::size_t at = said.rfind(" is required");
    return at == std::string::npos ? said : said.substr(0, at) + " is needed";
  }
  if (kind == CLI::ExitCodes::ExtrasError) return unexpected(command);
  if (kind == CLI::ExitCodes::ValidationError) return invalid(command, said);
  if (kind == CLI::ExitCodes::ConversionError) return not_converted(command, said);
  if (kind == CLI::ExitCodes::ArgumentMismatch) return miscounted(said);
  if (kind == CLI::ExitCodes::ExcludesError) return paired(said, " excludes ", "{} and {} exclude each other");
  if (kind == CLI::ExitCodes::RequiresError) return paired(said, " requires ", "{} needs {}");
  return said;
}

}  // namespace dryfit::cli

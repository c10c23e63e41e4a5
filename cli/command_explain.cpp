#include "cli/command_explain.hpp"

#include <fmt/ranges.h>

#include <CLI/App.hpp>
#include <CLI/Validators.hpp>
#include <memory>
#include <ostream>
#include <span>

#include "cli/exit_code.hpp"
#include "cli/usage_error.hpp"
#include "cli/words.hpp"
#include "model/nearest.hpp"
#include "model/tables.hpp"

namespace dryfit::cli {

/// cli/docs/rules.md. Defined in a source that the build writes (see model/data/embed.cmake).
std::span<const model::BuiltInFile> rule_files();

namespace {

constexpr std::string_view kHeading = "\n## ";

struct Rule {
  std::string name;
  std::string text;
};

/// The sections of the page, by their headings.
std::vector<Rule> rules() {
  std::vector<Rule> all;
  const std::string_view page = rule_files().front().text;
  for (std::size_t at = page.find(kHeading); at != std::string_view::npos;) {
    const std::size_t begin = at + kHeading.size();
    const std::size_t line = page.find('\n', begin);
    at = page.find(kHeading, line);
    const std::size_t end = at == std::string_view::npos ? page.size() : at;
    all.push_back({std::string(page.substr(begin, line - begin)), std::string(page.substr(line + 1, end - line - 1))});
  }
  return all;
}

std::vector<std::string> rule_names() {
  std::vector<std::string> names;
  for (const Rule& rule : rules()) names.push_back(rule.name);
  return names;
}

int explain(const std::string& name, const Streams& streams) {
  if (name.empty()) {
    streams.out << "The rules, each told by `dryfit explain RULE`: " << wrapped(listed(rule_names()), 2, 96) << ".\n";
    return kYes;
  }
  for (const Rule& rule : rules()) {
    if (rule.name != name) continue;
    const std::size_t text = rule.text.find_first_not_of('\n');
    streams.out << name << ":\n\n" << rule.text.substr(text, rule.text.find_last_not_of('\n') + 1 - text) << '\n';
    return kYes;
  }
  const auto near = model::nearest_word(name, rule_names());
  throw UsageError(fmt::format("there is no rule '{}', expected {}{}", name, listed_or(rule_names()),
                               near ? fmt::format("; did you mean '{}'?", *near) : std::string()));
}

}  // namespace

Job set_up_explain(CLI::App& app) {
  const auto name = std::make_shared<std::string>();
  app.add_option("RULE", *name, "the rule; when not given, their names")
      // Named for help and completions; a wrong one is told by explain, with the nearest word.
      ->check(CLI::Validator([](std::string&) { return std::string(); },
                             fmt::format("{{{}}}", fmt::join(rule_names(), ",")), ""));
  return [name](const Streams& streams) { return explain(*name, streams); };
}

}  // namespace dryfit::cli

#include "cli/help/command_explain.hpp"

#include <fmt/ostream.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <memory>
#include <ostream>
#include <span>

#include "cli/help/rule_picture.hpp"
#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/standards/tables.hpp"
#include "model/text/nearest.hpp"

namespace dryfit::cli {

/// cli/docs/rules.md, and in other languages rules.de.md and so on. Defined in a source that the build writes (see
/// model/data/embed.cmake).
std::span<const model::BuiltInFile> rule_files();

namespace {

constexpr std::string_view kHeading = "\n## ";

struct Rule {
  std::string name;
  std::string text;
};

/// The page in that language; in English where there is none.
std::string_view page_in(const std::string& language) {
  std::string_view english;
  for (const model::BuiltInFile& file : rule_files()) {
    if (file.name == "rules." + language + ".md") return file.text;
    if (file.name == "rules.md") english = file.text;
  }
  return english;
}

/// The sections of the page, by their headings, which are the names of the rules in every language.
std::vector<Rule> rules_in(const std::string& language) {
  std::vector<Rule> all;
  const std::string_view page = page_in(language);
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
  for (const Rule& rule : rules_in("en")) names.push_back(rule.name);
  return names;
}

/// The text without the page's picture, which is no use to a terminal.
std::string_view told(std::string_view text) {
  const auto skip_blank = [&] { text.remove_prefix(std::min(text.size(), text.find_first_not_of('\n'))); };
  skip_blank();
  if (text.starts_with("![")) {
    text.remove_prefix(std::min(text.size(), text.find('\n')));
    skip_blank();
  }
  return text.substr(0, text.find_last_not_of('\n') + 1);
}

struct ExplainCall {
  std::string rule;
  std::string file;
};

int explain(const ExplainCall& options, const Streams& streams) {
  const std::string& name = options.rule;
  if (name.empty()) {
    if (!options.file.empty()) throw UsageError(say("-o draws one rule: say which"));
    const std::string names = wrapped(listed(rule_names()), 2, 96);
    streams.out << say("The rules, each told by `dryfit explain RULE`: {}.", names) << '\n';
    return kYes;
  }
  for (const Rule& rule : rules_in(language_spoken())) {
    if (rule.name != name) continue;
    if (!options.file.empty()) {
      write_file(options.file, rule_picture(name, format_for(options.file)));
      streams.out << say("{}: a picture of the rule '{}'", options.file, name) << '\n';
    } else {
      streams.out << name << ":\n\n" << told(rule.text) << '\n';
    }
    return kYes;
  }
  const auto near = model::nearest_word(name, rule_names());
  throw UsageError(say("there is no rule '{}', expected {}{}", name, listed_or(rule_names()),
                       near ? say("; did you mean '{}'?", *near) : std::string()));
}

}  // namespace

Job set_up_explain(OptionList& list) {
  const auto options = std::make_shared<ExplainCall>();
  list.value("RULE", options->rule, "the rule; when not given, their names")
      // Named for help and completions; a wrong one is told by explain, with the nearest word.
      .such_as(rule_names());
  list.value("-o,--output", options->file, "draw the rule instead: a name that ends in .svg, .pdf or .png");
  return [options](const Streams& streams) { return explain(*options, streams); };
}

}  // namespace dryfit::cli

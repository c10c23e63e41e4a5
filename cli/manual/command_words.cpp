#include "cli/manual/command_words.hpp"

#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>
#include <algorithm>
#include <cctype>

#include "cli/call/declare.hpp"

namespace dryfit::cli {
namespace {

/// "TEXT:{a4,letter}" to its words; empty when any text is taken.
std::vector<std::string> choices_of(const std::string& type) {
  std::vector<std::string> words;
  const std::size_t open = type.find('{');
  const std::size_t close = type.find('}');
  if (open == std::string::npos || close == std::string::npos) return words;
  for (std::size_t begin = open + 1; begin < close;) {
    const std::size_t end = std::min(type.find(',', begin), close);
    words.push_back(type.substr(begin, end - begin));
    begin = end + 1;
  }
  return words;
}

std::string upper(std::string text) {
  for (char& c : text) c = static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  return text;
}

std::string joined(const std::vector<std::string>& words, char by) {
  std::string text;
  for (const std::string& word : words) {
    if (!text.empty()) text += by;
    text += word;
  }
  return text;
}

OptionWords words_of(const CLI::Option& option) {
  OptionWords words;
  words.positional = option.get_positional();
  if (words.positional) {
    words.names = {option.get_single_name()};
  } else {
    for (const std::string& name : option.get_snames()) words.names.push_back("-" + name);
    for (const std::string& name : option.get_lnames()) words.names.push_back("--" + name);
  }
  words.required = option.get_required();
  words.takes_value = option.get_items_expected_max() > 0;
  words.repeated = option.get_items_expected_max() > 1;
  const std::string type = option.get_type_name();
  words.number = type.starts_with("INT") || type.starts_with("UINT") || type.starts_with("FLOAT");
  words.choices = choices_of(type);
  words.value = !words.choices.empty() ? joined(words.choices, '|')
                : words.number         ? "N"
                                       : upper(option.get_lnames().empty() ? "value" : option.get_lnames().front());
  words.standard = option.get_default_str();
  words.text = option.get_description();
  return words;
}

}  // namespace

std::vector<CommandWords> all_command_words(std::span<const Command> table) {
  std::vector<CommandWords> all;
  for (const Command& command : table) {
    if (command.hidden) continue;
    CLI::App app{command.answer, command.name};
    const Job never_run = declare(command, app);
    CommandWords words{command.name, command.answer, {}};
    for (const CLI::Option* option : app.get_options()) words.options.push_back(words_of(*option));
    std::stable_partition(words.options.begin(), words.options.end(),
                          [](const OptionWords& option) { return option.positional; });
    all.push_back(std::move(words));
  }
  return all;
}

}  // namespace dryfit::cli

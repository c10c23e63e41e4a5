#include "cli/manual/command_words.hpp"

#include <algorithm>
#include <cctype>

#include "cli/call/declare.hpp"

namespace dryfit::cli {
namespace {

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

OptionWords words_of(const Option& option) {
  OptionWords words;
  words.positional = option.positional();
  words.names = option.all_names();
  words.required = option.is_required;
  words.takes_value = option.kind != Option::Kind::flag;
  words.repeated = words.takes_value && (option.is_many || option.parts != 0);
  words.number = option.kind == Option::Kind::whole || option.kind == Option::Kind::number;
  words.choices = option.words;
  words.value = !words.choices.empty() ? joined(words.choices, '|')
                : words.number         ? "N"
                : words.positional     ? "VALUE"
                                       : upper(option.told().substr(2));
  words.standard = option.standard;
  words.text = option.text;
  return words;
}

}  // namespace

std::vector<CommandWords> all_command_words(std::span<const Command> table) {
  std::vector<CommandWords> all;
  for (const Command& command : table) {
    if (command.hidden) continue;
    OptionList list;
    const Job never_run = declare(command, list);
    CommandWords words{command.name, command.answer, {}};
    for (const Option& option : list.all()) words.options.push_back(words_of(option));
    std::stable_partition(words.options.begin(), words.options.end(),
                          [](const OptionWords& option) { return option.positional; });
    all.push_back(std::move(words));
  }
  return all;
}

}  // namespace dryfit::cli

#include "cli/manual/completions.hpp"

#include <fmt/ranges.h>

namespace dryfit::cli {
namespace {

std::string joined(const std::vector<std::string>& words, const char* by) {
  return fmt::format("{}", fmt::join(words, by));
}

/// In single quotes for any of the three shells.
std::string quoted(const std::string& text, const char* quote_inside) {
  std::string out;
  for (const char c : text) {
    if (c == '\'') {
      out += quote_inside;
    } else {
      out += c;
    }
  }
  return "'" + out + "'";
}

std::vector<std::string> option_names(const CommandWords& command) {
  std::vector<std::string> names;
  for (const OptionWords& option : command.options) {
    if (!option.positional) names.insert(names.end(), option.names.begin(), option.names.end());
  }
  return names;
}

const OptionWords* first_positional(const CommandWords& command) {
  for (const OptionWords& option : command.options) {
    if (option.positional) return &option;
  }
  return nullptr;
}

/// What completes a value: words, nothing (a number), or a file.
enum class Value { words, nothing, file };
Value value_of(const OptionWords& option) {
  if (!option.choices.empty()) return Value::words;
  return option.number ? Value::nothing : Value::file;
}

}  // namespace

std::string bash_completions(const std::vector<CommandWords>& commands) {
  std::vector<std::string> names;
  for (const CommandWords& command : commands) names.push_back(command.name);
  std::string text = fmt::format(
      "# bash completion for dryfit, written by the program from its command table\n"
      "_dryfit() {{\n"
      "  local cur=${{COMP_WORDS[COMP_CWORD]}} prev=${{COMP_WORDS[COMP_CWORD-1]}} command=${{COMP_WORDS[1]}}\n"
      "  local options='' words=''\n"
      "  COMPREPLY=()\n"
      "  if ((COMP_CWORD == 1)); then\n"
      "    COMPREPLY=($(compgen -W '{} --help --version' -- \"$cur\"))\n"
      "    return\n"
      "  fi\n"
      "  case $command in\n",
      joined(names, " "));
  for (const CommandWords& command : commands) {
    text += fmt::format("    {})\n      options='{}'\n", command.name, joined(option_names(command), " "));
    std::string cases;
    for (const OptionWords& option : command.options) {
      if (option.positional || !option.takes_value) continue;
      const std::string pattern = joined(option.names, "|");
      switch (value_of(option)) {
        case Value::words:
          cases += fmt::format("        {}) COMPREPLY=($(compgen -W '{}' -- \"$cur\")); return ;;\n", pattern,
                               joined(option.choices, " "));
          break;
        case Value::nothing: cases += fmt::format("        {}) return ;;\n", pattern); break;
        case Value::file:
          cases += fmt::format("        {}) COMPREPLY=($(compgen -f -- \"$cur\")); return ;;\n", pattern);
          break;
      }
    }
    if (!cases.empty()) text += "      case $prev in\n" + cases + "      esac\n";
    const OptionWords* first = first_positional(command);
    if (first != nullptr && !first->choices.empty()) {
      text += fmt::format("      words='{}'\n", joined(first->choices, " "));
    }
    text += "      ;;\n";
  }
  return text +
         "  esac\n"
         "  if [[ $cur == -* ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$options\" -- \"$cur\"))\n"
         "  elif [[ -n $words ]]; then\n"
         "    COMPREPLY=($(compgen -W \"$words\" -- \"$cur\"))\n"
         "  else\n"
         "    local IFS=$'\\n'\n"
         "    COMPREPLY=($(compgen -f -- \"$cur\"))\n"
         "  fi\n"
         "}\n"
         "complete -o filenames -F _dryfit dryfit\n";
}

std::string zsh_completions(const std::vector<CommandWords>& commands) {
  constexpr const char* kInside = "'\\''";
  // In an argument specification brackets and colons have a meaning.
  const auto described = [](const std::string& text) {
    std::string out;
    for (const char c : text) {
      if (c == '[' || c == ']' || c == ':' || c == '\\') out += '\\';
      out += c;
    }
    return out;
  };
  std::string text =
      "#compdef dryfit\n# zsh completion for dryfit, written by the program from its command table\n"
      "_dryfit() {\n  local -a commands\n  commands=(\n";
  for (const CommandWords& command : commands) {
    text += fmt::format("    {}\n", quoted(command.name + ":" + described(command.answer), kInside));
  }
  text +=
      "  )\n  if ((CURRENT == 2)); then\n    _describe command commands\n    return\n  fi\n"
      "  local command=$words[2]\n  shift words\n  ((CURRENT--))\n  case $command in\n";
  for (const CommandWords& command : commands) {
    text += fmt::format("    {})\n      _arguments", command.name);
    for (const OptionWords& option : command.options) {
      std::string action;
      if (option.takes_value) {
        switch (value_of(option)) {
          case Value::words: action = "(" + joined(option.choices, " ") + ")"; break;
          case Value::nothing: action = " "; break;
          case Value::file: action = "_files"; break;
        }
      }
      if (option.positional) {
        text += " \\\n        " + quoted(fmt::format("{}:{}:{}",
                                                     option.repeated   ? "*"
                                                     : option.required ? ""
                                                                       : ":",
                                                     described(option.names.front()), action),
                                         kInside);
        continue;
      }
      for (const std::string& name : option.names) {
        std::string spec = (option.repeated ? "*" : "") + name + "[" + described(option.text) + "]";
        if (option.takes_value) spec += ":" + described(option.value) + ":" + action;
        text += " \\\n        " + quoted(spec, kInside);
      }
    }
    text += "\n      ;;\n";
  }
  return text + "  esac\n}\n_dryfit \"$@\"\n";
}

std::string fish_completions(const std::vector<CommandWords>& commands) {
  constexpr const char* kInside = "\\'";
  std::string text = "# fish completion for dryfit, written by the program from its command table\n";
  for (const CommandWords& command : commands) {
    text += fmt::format("complete -c dryfit -f -n __fish_use_subcommand -a {} -d {}\n", command.name,
                        quoted(command.answer, kInside));
  }
  for (const CommandWords& command : commands) {
    const std::string start = fmt::format("complete -c dryfit -n '__fish_seen_subcommand_from {}'", command.name);
    for (const OptionWords& option : command.options) {
      if (option.positional) {
        if (!option.choices.empty()) text += fmt::format("{} -f -a '{}'\n", start, joined(option.choices, " "));
        continue;
      }
      text += start;
      for (const std::string& name : option.names) {
        text += name.starts_with("--") ? " -l " + name.substr(2) : " -s " + name.substr(1);
      }
      if (option.takes_value) {
        switch (value_of(option)) {
          case Value::words: text += fmt::format(" -x -a '{}'", joined(option.choices, " ")); break;
          case Value::nothing: text += " -x"; break;
          case Value::file: text += " -r"; break;
        }
      }
      text += fmt::format(" -d {}\n", quoted(option.text, kInside));
    }
  }
  return text;
}

}  // namespace dryfit::cli

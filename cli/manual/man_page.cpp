#include "cli/manual/man_page.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "dryfit_version.hpp"

namespace dryfit::cli {
namespace {

/// Text as troff takes it: no hyphenation of options, nothing read as a macro.
std::string plain(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\\') {
      out += "\\e";
    } else if (c == '-') {
      out += "\\-";
    } else if (c == '`') {
      out += "\\(oq";  // only ever opens a quoted call
    } else if (c == '\'') {
      out += "\\(aq";
    } else {
      out += c;
    }
  }
  return out.empty() || out.front() != '.' ? out : "\\&" + out;
}

std::string head(const std::string& name, const std::string& what) {
  std::string title = name;
  std::transform(title.begin(), title.end(), title.begin(),
                 [](unsigned char c) { return static_cast<char>(std::toupper(c)); });
  return fmt::format(".TH {} 1 \"{}\" \"dryfit {}\" \"User commands\"\n.SH NAME\n{} \\- {}\n", plain(title),
                     DRYFIT_DATE, DRYFIT_VERSION, plain(name), plain(what));
}

/// "-o, --output OUTPUT" in bold and italics.
std::string option_head(const OptionWords& option) {
  std::string text;
  for (const std::string& name : option.names) {
    if (!text.empty()) text += ", ";
    text += (option.positional ? "\\fI" : "\\fB") + plain(name) + "\\fR";
  }
  if (option.takes_value && !option.positional) text += " \\fI" + plain(option.value) + "\\fR";
  return text;
}

std::string option_entry(const OptionWords& option) {
  std::string text = ".TP\n" + option_head(option) + "\n" + plain(option.text);
  if (option.positional && !option.choices.empty()) text += fmt::format(": {}", plain(option.value));
  if (!option.standard.empty()) text += fmt::format(" (when not given: {})", plain(option.standard));
  if (option.required && !option.positional) text += " (required)";
  return text + "\n";
}

std::string synopsis(const CommandWords& command) {
  std::string text = ".B dryfit " + plain(command.name) + "\n[\\fIoptions\\fR]\n";
  for (const OptionWords& option : command.options) {
    if (option.positional) {
      const std::string name = "\\fI" + plain(option.names.front()) + "\\fR" + (option.repeated ? "..." : "");
      text += option.required ? name + "\n" : "[" + name + "]\n";
    } else if (option.required) {
      text += option_head(option) + "\n";
    }
  }
  return text;
}

constexpr const char* kExitCodes =
    ".SH EXIT STATUS\n"
    ".TP\n0\nYes: it fits, it can be built, in this order too, the change costs nothing.\n"
    ".TP\n1\nNo: parts in the same place, something does not line up, it cannot be built or not in this order, something\n"
    "must come off. That is an answer, not a failure.\n"
    ".TP\n2\nThe input or the call cannot be used. Nothing is printed on standard output and nothing is written.\n"
    ".TP\n3\nUndecided within the limits given.\n";

constexpr const char* kCautions =
    ".SH CAUTIONS\n"
    "Wear gloves and eye protection; ream cut pipe and wipe it out. Ventilate when you degrease pipe or oil wood, keep\n"
    "flames away, and spread oily rags flat to dry outdoors: they can set themselves on fire. Don\\(aqt climb on a frame or\n"
    "load it until it is fastened to floor or wall; a frame that stands free can tip. Lock casters before you work on it.\n"
    "Look for cables, water and heating pipes before you drill into a wall or a floor. Into a wall, screws go into studs or\n"
    "rated anchors; into a floor, into joists or rated anchors in concrete.\n"
    ".PP\n"
    "dryfit is not a structural check. For loads, guardrails, stairs or anything overhead, follow your local code and ask a\n"
    "licensed (UK: chartered) engineer. Pipe that carries gas or water under pressure is none of its business.\n";

}  // namespace

std::string program_page(const std::vector<CommandWords>& commands) {
  std::string text = head("dryfit", "go through the build of a frame of threaded pipe on paper");
  text +=
      ".SH SYNOPSIS\n.B dryfit\n\\fIcommand\\fR [\\fIoptions\\fR] \\fIFRAME\\fR\n"
      ".SH DESCRIPTION\n"
      "dryfit reads a frame file: pipes and fittings in the order you would screw them together, boards and the pipes\n"
      "they are drilled for. It works out where every part lies from the dimensions of the thread and fitting standards,\n"
      "says whether everything lines up, whether the frame can be put together at all, and in which order.\n"
      ".PP\n"
      "Results go to standard output, everything else to standard error. \\- stands for standard input. With\n"
      "\\fB\\-\\-json\\fR commands that answer print one JSON document, whose schema \\fBdryfit schema\\fR prints.\n"
      ".SH COMMANDS\n";
  for (const CommandWords& command : commands) {
    text += fmt::format(".TP\n\\fBdryfit {}\\fR\n{}\n", plain(command.name), plain(command.answer));
  }
  text += kExitCodes;
  text +=
      ".SH ENVIRONMENT\n.TP\nNO_COLOR\nWhen set and not empty, messages have no colour.\n"
      ".TP\nLANGUAGE, LC_ALL, LC_MESSAGES, LANG\nThe language of answers where a call has no \\-\\-language; English "
      "where there is no catalogue of it.\n"
      ".SH EXAMPLES\n.nf\ndryfit check rack.yaml\ndryfit order rack.yaml\ndryfit show rack.yaml \\-o rack.svg\n.fi\n";
  text += kCautions;
  text += ".SH SEE ALSO\n";
  for (std::size_t i = 0; i < commands.size(); ++i) {
    text += fmt::format(".BR dryfit\\-{} (1){}\n", plain(commands[i].name), i + 1 < commands.size() ? "," : "");
  }
  return text;
}

std::string command_page(const CommandWords& command) {
  std::string text = head("dryfit-" + command.name, command.answer);
  text += ".SH SYNOPSIS\n" + synopsis(command) + ".SH OPTIONS\n";
  for (const OptionWords& option : command.options) text += option_entry(option);
  text += kExitCodes;
  return text + ".SH SEE ALSO\n.BR dryfit (1)\n";
}

}  // namespace dryfit::cli

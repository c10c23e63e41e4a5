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
    ".TP\n0\nYes: it fits, it can be built, it is legal, the change is free.\n"
    ".TP\n1\nNo: an overlap, an open closure, a locked frame, an illegal order, work to undo. That is an answer, not a "
    "failure.\n"
    ".TP\n2\nThe input or the call cannot be used. Nothing is printed on standard output and nothing is written.\n"
    ".TP\n3\nUndecided within the limits given.\n";

constexpr const char* kCautions =
    ".SH CAUTIONS\n"
    "Wear gloves and eye protection. Ventilate when you degrease pipe or oil wood, keep fire away, and spread oily rags\n"
    "flat to dry outdoors. Nobody climbs on a frame or loads it before it is fastened; screws go into studs or solid\n"
    "anchors, and never into a wall whose cables and pipes you have not looked for.\n"
    ".PP\n"
    "dryfit is no structural engineer. Loads, guards, handrails, stairs and anything over people\\(aqs heads go to local\n"
    "codes and licensed practice, and pipe that carries gas or water under pressure is none of its business.\n";

}  // namespace

std::string program_page(const std::vector<CommandWords>& commands) {
  std::string text = head("dryfit", "rehearse the build of a frame of threaded pipe on paper");
  text +=
      ".SH SYNOPSIS\n.B dryfit\n\\fIcommand\\fR [\\fIoptions\\fR] \\fIFRAME\\fR\n"
      ".SH DESCRIPTION\n"
      "dryfit reads a frame file: pipes and fittings in the order they are screwed together, boards and the pipes they\n"
      "are drilled for. It places every part by the dimensions of the thread and fitting standards, says whether\n"
      "everything meets, whether the frame can be put together at all, and in which order.\n"
      ".PP\n"
      "Results go to standard output, everything else to standard error. Every command takes \\- for standard input.\n"
      "With \\fB\\-\\-json\\fR it prints one JSON document, whose schema \\fBdryfit schema\\fR prints.\n"
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

#include "cli/help/command_new.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <filesystem>
#include <istream>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/words.hpp"
#include "model/frame/frame.hpp"
#include "model/placing/reader.hpp"

namespace dryfit::cli {
namespace {

struct NewCall {
  std::string name = "Small shelf";
  std::string units = "in";
  std::string standard;
  std::string size;
  std::string file;
  bool ask = false;
};

/// A name in YAML: quoted, so that no letter in it can mean something.
std::string in_quotes(const std::string& text) { return nlohmann::json(text).dump(); }

/// A shelf on two posts with a rail, with what each line means. It can be built as it stands.
std::string start_of(const NewCall& options) {
  const bool inches = options.units == "in";
  // Lengths that a counter sells: inches, or the same pieces in millimetres.
  const auto length = [&](double inch) {
    if (inches) return fmt::format("{:g}", inch);
    const double mm = inch * 25.4;
    return options.units == "mm" ? fmt::format("{:g}", mm) : fmt::format("{:g}", mm / 10.0);
  };
  return fmt::format(
      R"(# A frame file: pipes and fittings in the order they are screwed together. Nobody types coordinates.
# Change a line, then:  dryfit check FILE   dryfit order FILE   dryfit show FILE -o picture.svg
dryfit: 1                       # the number of the format
name: {name}
units: {units}                       # in, mm or cm: what a bare number means; 114 mm and 4-1/2 in work anywhere
pipe: {{standard: {standard}, size: {size}}}   # npt or iso7; the size of every part that gives none
make-up: hand                   # hand, or wrench for joints that are tightened: everything gets a little shorter

surfaces:
  floor: {{normal: up, at: 0}}    # the side it faces, and where it is

runs:
  left post:
    from: floor                 # a flange that stands on a surface is screwed to it
    at: [0, 0]                  # where on the floor: from left to right, from front to back
    parts:                      # name: kind, or name: {{kind: value}}; each name once, it is taped on the part
      - FL: flange
      - P1: {{pipe: {p6}}}             # the length of the pipe from end to end, threads included
      - T1: {{tee: right}}        # walked straight through; its branch points to the right
      - P2: {{pipe: {p12}}}
      - C1: coupling            # what the shelf rests on
      - P3: {{pipe: {p6}}}             # it passes through the shelf
      - K1: cap
  rail:
    from: T1.right              # a port: part, dot, direction
    parts:
      - P4: {{pipe: {p24}}}
    to: T2.left                 # where it meets the other post
  right post:
    from: floor
    go: up                      # no `at`: the rail places it
    parts:
      - FR: flange
      - P5: {{pipe: {p6}}}
      - T2: {{tee: left}}
      - P6: {{pipe: {p12}}}
      - C2: coupling
      - P7: {{pipe: {p6}}}
      - K2: cap

boards:
  S1:
    through: [P3, P7]           # drilled for these pipes: trapped once caps are on
    rests-on: [C1, C2]
    size: {{x: {b30}, y: {b8}, z: {b075}}}
    reach: {{left: {r2}, front: {r4}}}    # from the first pipe's centre to the left and to the front edge
    stock: pine                 # gives its weight
)",
      fmt::arg("name", in_quotes(options.name)), fmt::arg("units", options.units),
      fmt::arg("standard", options.standard.empty() ? (inches ? "npt" : "iso7") : options.standard),
      fmt::arg("size", options.size.empty() ? "3/4" : options.size), fmt::arg("p6", length(6)),
      fmt::arg("p12", length(12)), fmt::arg("p24", length(24)), fmt::arg("b30", length(30)), fmt::arg("b8", length(8)),
      fmt::arg("b075", length(0.75)), fmt::arg("r2", length(2)), fmt::arg("r4", length(4)));
}

/// One question; an empty line keeps what is there. Asked again until the answer is one of `words` (empty: any text).
void ask(const Streams& streams, const char* question, const std::vector<std::string>& words, std::string& value) {
  while (true) {
    fmt::print(streams.err, "{}{} [{}]: ", question, words.empty() ? "" : " (" + listed_or(words) + ")", value);
    streams.err.flush();
    std::string line;
    if (!std::getline(streams.in, line) || line.empty()) return;
    if (words.empty() || std::find(words.begin(), words.end(), line) != words.end()) {
      value = line;
      return;
    }
  }
}

int start_frame(NewCall options, const Streams& streams) {
  if (options.ask) {
    ask(streams, "What is it called?", {}, options.name);
    ask(streams, "Lengths in", {"in", "mm", "cm"}, options.units);
    if (options.standard.empty()) options.standard = options.units == "in" ? "npt" : "iso7";
    ask(streams, "Threads", {"npt", "iso7"}, options.standard);
    if (options.size.empty()) options.size = "3/4";
    ask(streams, "Size of pipe", model::nominal_sizes(), options.size);
  }
  const std::string text = start_of(options);
  static_cast<void>(model::read_frame(text, options.file.empty() ? "the new frame" : options.file));
  if (options.file.empty()) {
    streams.out << text;
    return kYes;
  }
  // Somebody's evening may be in the file that is there.
  if (std::filesystem::exists(options.file)) throw UsageError(fmt::format("'{}' is there already", options.file));
  write_file(options.file, text);
  fmt::print(streams.out, "{}: a frame to start from; look at it with `dryfit order {}`\n", options.file, options.file);
  return kYes;
}

}  // namespace

Job set_up_new(OptionList& list) {
  const auto options = std::make_shared<NewCall>();
  list.value("-o,--output", options->file, "write it into this file, which must not be there yet");
  list.flag("--ask", options->ask, "ask for name, units, threads and size one by one");
  list.value("--name", options->name, "what the frame is called").show_default();
  list.value("--units", options->units, "what a bare number means").one_of({"in", "mm", "cm"}).show_default();
  list.value("--standard", options->standard, "npt or iso7; by the units when not given").one_of({"npt", "iso7"});
  list.value("--size", options->size, "nominal size of pipe").one_of(model::nominal_sizes());
  return [options](const Streams& streams) { return start_frame(*options, streams); };
}

}  // namespace dryfit::cli

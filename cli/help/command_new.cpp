#include "cli/help/command_new.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <filesystem>
#include <istream>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <string_view>

#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
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
constexpr std::string_view kSmallShelf =
    R"(# A frame file: pipes and fittings in the order you would screw them together. Only the first post needs a place.
# Change a line, then:  dryfit check FILE   dryfit order FILE   dryfit show FILE -o picture.svg
dryfit: 1                       # the number of the format
name: {name}
units: {units}                       # in, mm or cm: what a number without a unit means; 114 mm and 4-1/2 in work anywhere
pipe: {{standard: {standard}, size: {size}}}   # npt or iso7; the size of every part that gives none
make-up: hand                   # hand, or wrench for joints that are tightened: everything gets a little shorter

surfaces:
  floor: {{normal: up, at: 0}}    # which way it faces, and where it is

runs:
  left post:
    from: floor                 # a flange that stands first on a surface is screwed to it; anything else only stands
    at: [0, 0]                  # where on the floor: to the right, to the back
    parts:                      # a line for each part: its own name, which is taped on it, and what it is
      - FL: flange
      - P1: {{pipe: {p6}}}             # the length of the pipe from end to end, threads included
      - T1: {{tee: right}}        # the run goes straight through; the outlet points to the right
      - P2: {{pipe: {p12}}}
      - C1: coupling            # what the shelf rests on
      - P3: {{pipe: {p6}}}             # goes through the shelf
      - K1: cap
  rail:
    from: T1.right              # the outlet of T1 that points to the right
    parts:
      - P4: {{pipe: {p24}}}
    to: T2.left                 # where it is screwed into the other post
  right post:
    from: floor
    go: up                      # no `at`: the rail says where it stands
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
    through: [P3, P7]           # drilled for these pipes: once the caps are on it can't come off
    rests-on: [C1, C2]
    size: {{x: {b30}, y: {b8}, z: {b075}}}
    reach: {{left: {r2}, front: {r4}}}    # from the first pipe's centre to the left and to the front edge
    stock: pine                 # what it is made of, for its weight
)";

/// The small shelf with its name, its threads and lengths that are sold for them.
std::string start_of(const NewCall& options) {
  const bool inches = options.units == "in";
  const std::string standard = options.standard.empty() ? (inches ? "npt" : "iso7") : options.standard;
  const auto written = [&](double mm) {
    if (options.units == "mm") return fmt::format("{:g}", mm);
    return options.units == "cm" ? fmt::format("{:g}", mm / 10.0) : fmt::format("{:g} mm", mm);
  };
  // Lengths that a counter sells: in inches where the threads are American, round millimetres elsewhere.
  const auto length = [&](double inch, double mm) {
    if (standard != "npt") return written(mm);
    return inches ? fmt::format("{:g}", inch) : written(inch * 25.4);
  };
  const auto board = [&](const char* inch, double mm) { return inches ? std::string(inch) : written(mm); };
  return fmt::format(kSmallShelf, fmt::arg("name", in_quotes(options.name)), fmt::arg("units", options.units),
                     fmt::arg("standard", standard), fmt::arg("size", options.size.empty() ? "3/4" : options.size),
                     fmt::arg("p6", length(6, 150)), fmt::arg("p12", length(12, 300)), fmt::arg("p24", length(24, 600)),
                     fmt::arg("b30", board("30", 750)), fmt::arg("b8", board("7-1/4", 200)),
                     fmt::arg("b075", board("3/4", 18)), fmt::arg("r2", board("2", 50)),
                     fmt::arg("r4", board("3-5/8", 100)));
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
  if (std::filesystem::exists(options.file)) throw UsageError(say("'{}' is there already", options.file));
  write_file(options.file, text);
  fmt::print(streams.out, "{}: a frame to start from; look at it with `dryfit order {}`\n", options.file, options.file);
  return kYes;
}

}  // namespace

Job set_up_new(OptionList& list) {
  const auto options = std::make_shared<NewCall>();
  list.value("-o,--output", options->file, "write it into this file; a file that is there is not written over");
  list.flag("--ask", options->ask, "ask for name, units, threads and size one by one");
  list.value("--name", options->name, "what the frame is called").show_default();
  list.value("--units", options->units, "what a number without a unit means").one_of({"in", "mm", "cm"}).show_default();
  list.value("--standard", options->standard, "npt or iso7; by the units when not given").one_of({"npt", "iso7"});
  list.value("--size", options->size, "nominal size of pipe").one_of(model::nominal_sizes());
  return [options](const Streams& streams) { return start_frame(*options, streams); };
}

}  // namespace dryfit::cli

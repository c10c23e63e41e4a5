#include "cli/edit/command_edit.hpp"

#include <fmt/format.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <stdexcept>

#include "cli/call/declare.hpp"
#include "cli/edit/put_on.hpp"
#include "cli/io/atomic_file.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/words/say.hpp"
#include "model/editing/edit.hpp"
#include "model/editing/grow.hpp"

namespace dryfit::cli {
namespace {

struct EditCall {
  std::string frame;
  std::vector<std::string> set;
  std::vector<std::string> add;
  std::vector<std::string> take_off;
  std::string file;
  bool json = false;
};

/// The two sides of the first '='.
std::pair<std::string, std::string> two_sides(const std::string& option, const std::string& given) {
  const std::size_t equals = given.find('=');
  if (equals == std::string::npos || equals == 0 || equals + 1 == given.size()) {
    throw UsageError(fmt::format("{} {}: expected something on both sides of '='", option, given));
  }
  return {given.substr(0, equals), given.substr(equals + 1)};
}

int edit_frame(const EditCall& call, const Streams& streams) {
  if (call.set.empty() && call.add.empty() && call.take_off.empty()) {
    throw UsageError("nothing to change: --set, --add or --take-off is needed");
  }
  std::string text = read_text(call.frame, streams.in);
  const std::string name = plain_name(call.frame);
  std::vector<std::string> added;
  try {
    for (const std::string& setting : call.set) {
      const auto [target, value] = two_sides("--set", setting);
      text = model::with_value(text, target, value);
    }
    for (const std::string& part : call.take_off) text = model::without_last_part(text, part);
  } catch (const std::invalid_argument& error) {
    throw UsageError(error.what());
  }
  for (const std::string& addition : call.add) {
    const auto [place, what] = two_sides("--add", addition);
    PutOn made = put_on(text, name, place, what);
    text = std::move(made.text);
    added.push_back(std::move(made.id));
  }
  // Nothing is given out that the reader refuses.
  const LoadedFrame changed = loaded_from(text, fmt::format("{} as changed", name));
  if (!call.file.empty()) write_file(call.file, text);
  if (call.json) {
    Json document = envelope("edit", changed.frame, "edited");
    document["added"] = added;
    document["text"] = text;
    print(streams.out, document);
  } else if (call.file.empty()) {
    streams.out << text;
  } else {
    streams.out << say("{}: written", call.file) << '\n';
  }
  return kYes;
}

}  // namespace

Job set_up_edit(OptionList& list) {
  const auto call = std::make_shared<EditCall>();
  list.value("FRAME", call->frame, "the frame file; - for standard input").required();
  list.value("--set", call->set, "another value: P9.length=24, S1.size.x=40");
  list.value(
      "--add", call->add,
      "a part on a free end or a surface: P5.end=coupling, T1.right=\"pipe: 12\", floor@0,24=flange; it is named");
  list.value("--take-off", call->take_off, "a part that is the last of its run");
  list.value("-o,--output", call->file, "write the changed file here instead of printing it");
  list.flag("--json", call->json, "one JSON document that holds the changed text");
  return [call](const Streams& streams) { return edit_frame(*call, streams); };
}

}  // namespace dryfit::cli

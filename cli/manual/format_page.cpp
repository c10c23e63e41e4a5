#include "cli/manual/format_page.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <span>

#include "cli/json/schemas.hpp"
#include "model/standards/tables.hpp"

namespace dryfit::cli {

/// cli/docs/frames/*.yaml. Defined in a source that the build writes (see model/data/embed.cmake).
std::span<const model::BuiltInFile> example_frames();

namespace {

constexpr std::string_view kHowItIsWritten =
    R"(The file is YAML, plain text that any editor writes. `name: value` on a line; what belongs to a name stands under it,
indented by blanks (never tabs), or behind it in braces: `{pipe: 6, size: 1/2}`. Lists stand in brackets, `[P1, P2]`, or
have a line with a dash for each item. What follows a `#` is a note to yourself. `dryfit new -o FILE` writes a file to
start from; `dryfit check FILE` says what is wrong, with line and column.

## How a frame is told

**Directions** are as you stand in front of the frame: `right`, `left`, `up`, `down`, `back` (away from you), `front`
(toward you). Places are counted along them: x to the right, y to the back, z up.

                z up   y back
                 |    /
                 |   /
                 |  /
                 | /
                 +------------ x right

**A run** is pipe and fittings one after the other, as you would screw them together: up a post, along a rail. The run's
way is known all along: a tee is gone straight through, an elbow says where it goes on. Pipe and fitting take turns.

**The first part** decides how a run stands. A `flange` is screwed to the surface that the run starts from. Any other
first part (a `foot`, a `caster`, a `cap`, a bare pipe) merely stands there: nothing holds it down.

**Where it is** needs to be said once. The first post gets `at`. What another run reaches with its `to`, or starts from
with its `from`, has its place from there: give it no `at`, or the two places will not agree.

**A board** says what goes `through` it, what it `rests-on`, its `size`, and how far it reaches from the first pipe's centre
to two of its edges.

)";

constexpr std::string_view kMeasures = R"(## What is measured where

Fittings differ from maker to maker. Measure yours and write it behind the part, as in
`- T1: {tee: right, measured: {centre-to-end: 1-5/16, band: 1-1/2}}`, or `- C1: {coupling: , measured: {length: 1-1/2}}`
(a part without a value leaves it empty). What you measured goes before the table, and the star behind a number goes.

    tee (elbow and cross alike)          coupling, union              cap

          |<- centre ->|                 |<-- length -->|         +--------+ ---
          |   to end   |                 +--------------+ ---     |        |  height
    +-----|------------+ ---             |              |         |        |
    |     |            |  band           |              | band    +-+    +-+ ---
    |     +            |                 |              |           |pipe|
    +---+   +----------+ ---             +--------------+ ---       |    |
        |   |
        +---+ outlet

    flange                       foot                         caster

        |pipe|                      |pipe|                       |pipe|
        +----+ ---                  +----+ ---                   +----+ ---
        |    |  height              |    |  height               |    |  height
    +---+    +---+               +--+    +--+                 +--+    +--+
    +------------+ ---           +----------+ ---             |  wheel   |
    |<- plate -->|               |<- plate->|                 +----------+ ---
        |<-->| band                 |<-->| band               |<- plate->| the circle that the wheel sweeps

The **centre** of a tee, elbow or cross is where its axes meet; **centre-to-end** goes from there to the face of an opening.
The **band** is the thick collar round an opening, across the outside. The **plate** is the round plate of a flange, its
**height** goes from the underside of the plate to the face of the opening. Of a street elbow, `centre-to-end` is the
female arm and `length` goes from the centre to the tip of the male end. Of a plug or bushing, `length` is over all and
`height` that of the head.

`mass` is what one part weighs: `6 oz`, `0.4 lb`, `180 g`, `0.2 kg`. Feet and casters follow no standard at all: the table has
orders of magnitude only, so measure them.

)";

constexpr std::string_view kMistakes = R"(## Mistakes

Every mistake of a file is told in one go, with its line and column (the first hundred, and how many more). Unknown words
are mistakes, and nothing is guessed. The file is UTF-8 text of at most 16 MiB, YAML or JSON; control characters, marks that
turn the direction of writing and the like are refused: what a frame says is what people see of it. The rest of this page
is written from the schema of the file, `dryfit schema frame`, which editors take for completion and checking.

)";

/// One whole frame of each sort, as it is.
std::string whole_frames() {
  struct Example {
    std::string_view file, title;
  };
  static constexpr Example kExamples[] = {{"wall-shelf.yaml", "On a wall"},
                                          {"standing-rack.yaml", "Standing free, on feet"},
                                          {"trolley.yaml", "On casters"},
                                          {"floor-to-ceiling.yaml", "Between floor and ceiling"}};
  std::string text = "## Four whole frames\n\n";
  for (const Example& example : kExamples) {
    for (const model::BuiltInFile& file : example_frames()) {
      if (file.name == example.file) text += fmt::format("### {}\n\n```yaml\n{}```\n\n", example.title, file.text);
    }
  }
  return text;
}

using Schema = nlohmann::ordered_json;

constexpr std::string_view kWithin = "#/definitions/";

/// The name of the definition that a node refers to; empty when it is written out.
std::string referred(const Schema& node) {
  if (node.contains("$ref")) return node["$ref"].get<std::string>().substr(kWithin.size());
  return node.contains("allOf") ? referred(node["allOf"][0]) : std::string();
}

std::string words(const Schema& list) {
  std::string text;
  for (const Schema& word : list) {
    if (!word.is_string()) continue;  // the same in another spelling
    text += (text.empty() ? "`" : ", `") + word.get<std::string>() + "`";
  }
  return text;
}

/// What may stand as the value, in a few words.
std::string value_text(const Schema& node) {
  const std::string name = referred(node);
  if (name == "names") return "list of names";
  if (!name.empty()) return name;
  if (node.contains("enum")) return words(node["enum"]);
  if (node.contains("anyOf")) {
    std::string text;
    for (const Schema& one : node["anyOf"]) text += (text.empty() ? "" : ", or ") + value_text(one);
    return text;
  }
  if (!node.contains("type")) return "";
  const Schema& type = node["type"];
  if (type == "null") return "nothing";
  if (type == "array") return node.contains("items") ? "list of " + value_text(node["items"]) : "list";
  if (type == "object") {
    if (!node.contains("properties")) {
      if (!node.contains("additionalProperties")) return "map";
      std::string value = value_text(node["additionalProperties"]);
      std::erase(value, '`');  // the whole stands in such marks
      return "`{name: " + value + "}`";
    }
    std::string keys;
    for (const auto& [key, value] : node["properties"].items()) keys += (keys.empty() ? "`" : ", `") + key + "`";
    return "map of " + keys;
  }
  if (type == "string" || type.is_array()) return "text";
  return type.get<std::string>();
}

std::string table(const Schema& object) {
  std::string text = "| key | value | meaning |\n| --- | --- | --- |\n";
  for (const auto& [key, value] : object["properties"].items()) {
    bool needed = false;
    if (object.contains("required")) {
      for (const Schema& one : object["required"]) needed = needed || one == key;
    }
    std::string meaning = value.value("description", std::string());
    if (needed) meaning += " Always needed.";
    text += fmt::format("| `{}` | {} | {} |\n", key, value_text(value), meaning);
  }
  return text + "\n";
}

}  // namespace

std::string format_page() {
  const Schema schema = *schema_named("frame");
  const Schema& definitions = schema["definitions"];
  std::string text = "# The frame file, format 1\n\n" + schema["description"].get<std::string>() + "\n\n" +
                     std::string(kHowItIsWritten) + whole_frames() + std::string(kMeasures) + std::string(kMistakes) +
                     "## At the top\n\n" + table(schema);
  text += "## A surface\n\n" + table(schema["properties"]["surfaces"]["additionalProperties"]);
  text += "## A run\n\n" + definitions["run"]["description"].get<std::string>() + "\n\n" + table(definitions["run"]);
  text += "## A part\n\n" + definitions["part"]["description"].get<std::string>() +
          "\n\n| kind | value | meaning | options | measured |\n| --- | --- | --- | --- | --- |\n";
  for (const Schema& kind : definitions["part"]["additionalProperties"]["anyOf"]) {
    if (!kind.contains("title")) continue;
    const std::string name = kind["title"];
    std::string options, measured;
    for (const auto& [key, value] : kind["properties"].items()) {
      if (key == name || key == "measured") continue;
      options += (options.empty() ? "`" : ", `") + key + "`";
    }
    if (kind["properties"].contains("measured")) {
      for (const auto& [key, value] : kind["properties"]["measured"]["properties"].items()) {
        measured += (measured.empty() ? "`" : ", `") + key + "`";
      }
    }
    text += fmt::format("| `{}` | {} | {} | {} | {} |\n", name, value_text(kind["properties"][name]),
                        kind["properties"][name]["description"].get<std::string>(), options, measured);
  }
  text += "\n## Options of parts\n\n| option | value | meaning |\n| --- | --- | --- |\n";
  Schema told = Schema::object();
  for (const Schema& kind : definitions["part"]["additionalProperties"]["anyOf"]) {
    if (!kind.contains("title")) continue;
    for (const auto& [key, value] : kind["properties"].items()) {
      if (key == kind["title"] || told.contains(key)) continue;
      told[key] = true;
      text += fmt::format("| `{}` | {} | {} |\n", key,
                          key == "measured" ? "map of lengths and a weight" : value_text(value),
                          value["description"].get<std::string>());
    }
  }
  text += "\n## A board\n\n" + table(definitions["board"]);
  text += "## Values\n\n| value | meaning |\n| --- | --- |\n";
  for (const auto& [name, value] : definitions.items()) {
    if (name == "run" || name == "part" || name == "board" || name == "names") continue;
    text += fmt::format("| {} | {}{} |\n", name, value["description"].get<std::string>(),
                        value.contains("enum") ? " One of " + words(value["enum"]) + "." : std::string());
  }
  return text;
}

}  // namespace dryfit::cli

#include "cli/manual/format_page.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/json/schemas.hpp"

namespace dryfit::cli {
namespace {

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
      return node.contains("additionalProperties") ? "`{name: " + value_text(node["additionalProperties"]) + "}`"
                                                   : "map";
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
  std::string text =
      "# The frame file, format 1\n\n" + schema["description"].get<std::string>() +
      "\n\nThis page is written from the schema of the frame file, `dryfit schema frame`, which editors "
      "take for completion and\nchecking. Unknown keys are errors; every mistake of a file is told in one "
      "go, with line and column: the first hundred, and how many more.\n\nThe file is UTF-8 text of at most 16 MiB, "
      "YAML or JSON; its lines end as they do on the writer's machine (LF, CRLF or CR).\nControl characters, marks that "
      "turn the direction of writing, separators of lines and code points that are no characters are\nrefused, also "
      "where they are written as escapes: what a frame says is what people see of it.\n\n## At the top\n\n" +
      table(schema);
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
      text += fmt::format("| `{}` | {} | {} |\n", key, key == "measured" ? "map of lengths" : value_text(value),
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

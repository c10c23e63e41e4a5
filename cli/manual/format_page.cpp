#include "cli/manual/format_page.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <span>
#include <sstream>
#include <string_view>

#include "cli/json/schemas.hpp"
#include "model/standards/tables.hpp"

namespace dryfit::cli {

/// cli/docs/frames/*.yaml and cli/docs/format/*.md. Defined in a source that the build writes (see
/// model/data/embed.cmake).
std::span<const model::BuiltInFile> format_sources();

namespace {

std::string_view source(std::string_view name) {
  for (const model::BuiltInFile& file : format_sources()) {
    if (file.name == name) return file.text;
  }
  return "";
}

/// The first half of the page. A line "@wall-shelf.yaml" stands for that whole frame.
std::string beginning() {
  std::istringstream in{std::string(source("beginning.md"))};
  std::string text;
  for (std::string line; std::getline(in, line);) {
    text +=
        line.starts_with('@') ? fmt::format("```yaml\n{}```\n", source(std::string_view(line).substr(1))) : line + "\n";
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
                     beginning() + std::string(source("measures.md")) + std::string(source("what-a-file-may-be.md")) +
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

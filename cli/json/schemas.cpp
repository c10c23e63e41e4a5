#include "cli/json/schemas.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <span>

#include "model/standards/tables.hpp"

namespace dryfit::cli {

/// The files of cli/schemas. Defined in a source that the build writes (see model/data/embed.cmake).
std::span<const model::BuiltInFile> schema_files();

namespace {

using Schema = nlohmann::ordered_json;

constexpr std::string_view kEnding = ".json";
constexpr std::string_view kShared = "shared";
constexpr std::string_view kFrame = "frame";
constexpr std::string_view kWithin = "#/definitions/";

std::string_view stem(const model::BuiltInFile& file) { return file.name.substr(0, file.name.size() - kEnding.size()); }

std::optional<Schema> parsed(std::string_view name) {
  for (const model::BuiltInFile& file : schema_files()) {
    if (stem(file) == name) return Schema::parse(file.text);
  }
  return std::nullopt;
}

/// Names of the definitions that `part` refers to, and of those that these refer to. `definitions` holds them all.
void collect_used(const Schema& part, const Schema& definitions, std::set<std::string>& used) {
  for (const auto& [key, value] : part.items()) {
    if (key == "$ref" && value.is_string()) {
      const std::string name = value.get<std::string>().substr(kWithin.size());
      if (used.insert(name).second) collect_used(definitions.at(name), definitions, used);
    } else if (value.is_structured()) {
      collect_used(value, definitions, used);
    }
  }
}

}  // namespace

const std::vector<std::string>& schema_names() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const model::BuiltInFile& file : schema_files()) {
      if (stem(file) != kShared) all.emplace_back(stem(file));
    }
    std::sort(all.begin(), all.end(), [](const std::string& a, const std::string& b) {
      return std::pair(a != kFrame, a) < std::pair(b != kFrame, b);
    });
    return all;
  }();
  return names;
}

std::optional<Schema> schema_named(std::string_view name) {
  if (name == kShared) return std::nullopt;
  std::optional<Schema> schema = parsed(name);
  if (!schema || schema->contains("definitions")) return schema;
  const Schema shared = parsed(kShared)->at("definitions");
  std::set<std::string> used;
  collect_used(*schema, shared, used);
  Schema definitions = Schema::object();
  for (const auto& [key, value] : shared.items()) {
    if (used.count(key) == 1) definitions[key] = value;
  }
  if (!definitions.empty()) (*schema)["definitions"] = std::move(definitions);
  return schema;
}

}  // namespace dryfit::cli

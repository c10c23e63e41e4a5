#include "tests/support/program/schema_check.hpp"

#include <doctest/doctest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <map>
#include <memory>
#include <regex>
#include <sstream>
#include <valijson/adapters/nlohmann_json_adapter.hpp>
#include <valijson/schema.hpp>
#include <valijson/schema_parser.hpp>
#include <valijson/validation_results.hpp>
#include <valijson/validator.hpp>

#include "cli/json/schemas.hpp"

namespace dryfit::tests {
namespace {

using nlohmann::json;

const json& schema_json(const std::string& name) {
  static std::map<std::string, json> known;
  const auto found = known.find(name);
  if (found != known.end()) return found->second;
  const auto schema = cli::schema_named(name);
  REQUIRE_MESSAGE(schema.has_value(), "there is no schema '", name, "' in cli/schemas");
  return known.emplace(name, json::parse(schema->dump())).first->second;
}

const valijson::Schema& compiled(const std::string& name) {
  static std::map<std::string, std::unique_ptr<valijson::Schema>> known;
  std::unique_ptr<valijson::Schema>& schema = known[name];
  if (schema == nullptr) {
    schema = std::make_unique<valijson::Schema>();
    valijson::SchemaParser parser;
    parser.populateSchema(valijson::adapters::NlohmannJsonAdapter(schema_json(name)), *schema);
  }
  return *schema;
}

/// The schema that a reference leads to; `node` itself when it is none.
const json& resolved(const json& whole, const json& node) {
  if (!node.is_object()) return node;
  if (node.contains("$ref")) {
    return resolved(whole, whole.at(json::json_pointer(node["$ref"].get<std::string>().substr(1))));
  }
  if (node.contains("allOf") && node["allOf"].size() == 1) return resolved(whole, node["allOf"][0]);
  return node;
}

void describe(const json& whole, const json& node, const std::string& path, std::set<std::string>& out) {
  const json& schema = resolved(whole, node);
  if (schema.contains("items")) describe(whole, schema["items"], path + "[]", out);
  if (!schema.contains("properties")) return;
  for (const auto& [key, value] : schema["properties"].items()) {
    const std::string at = path.empty() ? key : path + "." + key;
    out.insert(at);
    describe(whole, value, at, out);
  }
}

void list_keys(const json& document, const std::string& path, std::set<std::string>& out) {
  if (document.is_array()) {
    for (const json& item : document) list_keys(item, path + "[]", out);
  } else if (document.is_object()) {
    for (const auto& [key, value] : document.items()) {
      const std::string at = path.empty() ? key : path + "." + key;
      out.insert(at);
      list_keys(value, at, out);
    }
  }
}

json json_of(const YAML::Node& node) {
  if (node.IsSequence()) {
    json list = json::array();
    for (const auto& item : node) list.push_back(json_of(item));
    return list;
  }
  if (node.IsMap()) {
    json map = json::object();
    for (const auto& pair : node) map[pair.first.Scalar()] = json_of(pair.second);
    return map;
  }
  if (!node.IsScalar()) return nullptr;
  const std::string& text = node.Scalar();
  if (node.Tag() == "!") return text;  // quoted
  static const std::regex integer("[-+]?[0-9]+"), decimal("[-+]?(\\.[0-9]+|[0-9]+(\\.[0-9]*)?)([eE][-+]?[0-9]+)?");
  if (text.empty() || text == "~" || text == "null") return nullptr;
  if (text == "true" || text == "false") return text == "true";
  if (std::regex_match(text, integer)) return std::stoll(text);
  if (std::regex_match(text, decimal)) return std::stod(text);
  return text;
}

}  // namespace

std::vector<std::string> faults_by_schema(const std::string& schema, const json& document) {
  valijson::Validator validator;
  valijson::ValidationResults results;
  const valijson::adapters::NlohmannJsonAdapter target(document);
  std::vector<std::string> faults;
  if (validator.validate(compiled(schema), target, &results)) return faults;
  valijson::ValidationResults::Error error;
  while (results.popError(error)) {
    std::string where;
    for (const std::string& step : error.context) where += step;
    faults.push_back(schema + ": " + where + ": " + error.description);
  }
  return faults;
}

std::set<std::string> described_keys(const std::string& schema) {
  std::set<std::string> keys;
  describe(schema_json(schema), schema_json(schema), "", keys);
  return keys;
}

std::set<std::string> undescribed_keys(const std::string& schema, const json& document, std::set<std::string>& seen) {
  const std::set<std::string> known = described_keys(schema);
  std::set<std::string> keys, unknown;
  list_keys(document, "", keys);
  for (const std::string& key : keys) (known.count(key) == 1 ? seen : unknown).insert(key);
  return unknown;
}

json json_of_yaml(const std::string& text) { return json_of(YAML::Load(text)); }

void check_printed_json(const std::vector<std::string>& args, const std::string& printed) {
  if (args.empty() || printed.empty() || std::find(args.begin(), args.end(), "--json") == args.end()) return;
  if (std::find(args.begin(), args.end(), "--help") != args.end()) return;
  std::vector<json> documents;
  if (args.front() == "check") {
    std::istringstream lines(printed);
    for (std::string line; std::getline(lines, line);) documents.push_back(json::parse(line));
  } else {
    documents.push_back(json::parse(printed));
  }
  for (const json& document : documents) {
    for (const std::string& fault : faults_by_schema(args.front(), document)) {
      FAIL_CHECK("what the call printed is not as cli/schemas says: ", fault);
    }
  }
}

}  // namespace dryfit::tests

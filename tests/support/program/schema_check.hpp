#pragma once
/// Holds documents against the schemas of the program.
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

namespace dryfit::tests {

/// What the schema of that name (see cli/json/schemas.hpp) finds wrong with a document; empty when it is valid.
[[nodiscard]] std::vector<std::string> faults_by_schema(const std::string& schema, const nlohmann::json& document);

/// Keys that are in a document and not in its schema, as "steps[].weight_kg". Array places are not told apart.
/// Every key that is in the schema is added to `seen`, in the same spelling.
[[nodiscard]] std::set<std::string> undescribed_keys(const std::string& schema, const nlohmann::json& document,
                                                     std::set<std::string>& seen);

/// Every key that the schema knows, in the same spelling.
[[nodiscard]] std::set<std::string> described_keys(const std::string& schema);

/// A YAML text as the JSON that an editor's checker makes of it: by the core schema of YAML 1.2.
[[nodiscard]] nlohmann::json json_of_yaml(const std::string& text);

/// Fails the running test when what a call with --json printed is not as its schema says.
void check_printed_json(const std::vector<std::string>& args, const std::string& printed);

}  // namespace dryfit::tests

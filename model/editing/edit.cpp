#include "model/editing/edit.hpp"

#include <yaml-cpp/yaml.h>

#include <optional>
#include <stdexcept>
#include <vector>

#include "model/geometry/at.hpp"

namespace dryfit::model {
namespace {

std::vector<std::string> split(std::string_view text) {
  std::vector<std::string> words;
  while (true) {
    const auto dot = text.find('.');
    words.emplace_back(text.substr(0, dot));
    if (dot == std::string_view::npos) return words;
    text.remove_prefix(dot + 1);
  }
}

/// The value of `key` in a map, or an undefined node. Never creates keys.
YAML::Node in_map(const YAML::Node& map, const std::string& key) {
  if (!map.IsMap()) return YAML::Node(YAML::NodeType::Undefined);
  for (const auto& entry : map) {
    if (entry.first.IsScalar() && entry.first.Scalar() == key) return entry.second;
  }
  return YAML::Node(YAML::NodeType::Undefined);
}

/// What the file says of a part: "{pipe: 6}" or "coupling".
YAML::Node part_named(const YAML::Node& root, const std::string& id) {
  const YAML::Node runs = in_map(root, "runs");
  if (!runs.IsDefined() || !runs.IsMap()) return YAML::Node(YAML::NodeType::Undefined);
  for (const auto& run : runs) {
    const YAML::Node parts = in_map(run.second, "parts");
    if (!parts.IsDefined() || !parts.IsSequence()) continue;
    for (const auto& part : parts) {
      const YAML::Node found = in_map(part, id);
      if (found.IsDefined()) return found;
    }
  }
  return YAML::Node(YAML::NodeType::Undefined);
}

/// Where a scalar stands in the text: [from, to). Quoted scalars with their quotes.
std::pair<std::size_t, std::size_t> place_of(std::string_view text, const YAML::Node& scalar) {
  const auto from = at(scalar.Mark().pos);
  const char quote = from < text.size() ? text[from] : '\0';
  if (quote == '"' || quote == '\'') {
    const auto end = text.find(quote, from + 1);
    return {from, end == std::string_view::npos ? text.size() : end + 1};
  }
  return {from, from + scalar.Scalar().size()};
}

}  // namespace

std::string with_value(std::string_view text, std::string_view target, std::string_view value) {
  const std::vector<std::string> path = split(target);
  if (path.size() < 2 || path.size() > 3) {
    throw std::invalid_argument("'" + std::string(target) +
                                "' names no value, expected PART.length, PART.size or BOARD.KEY");
  }
  YAML::Node root;
  try {
    root = YAML::Load(std::string(text));
  } catch (const YAML::Exception& e) {
    throw std::invalid_argument(std::string("the file cannot be read as YAML: ") + e.what());
  }
  YAML::Node found(YAML::NodeType::Undefined);
  const YAML::Node part = part_named(root, path[0]);
  if (part.IsDefined()) {
    if (path[1] == "length") {
      found.reset(in_map(part, "pipe"));
      if (!found.IsDefined()) throw std::invalid_argument("'" + path[0] + "' is no pipe: it has no length to set");
    } else {
      found.reset(in_map(part, path[1]));
    }
  } else {
    const YAML::Node board = in_map(in_map(root, "boards"), path[0]);
    if (!board.IsDefined()) {
      throw std::invalid_argument("there is no part or board '" + path[0] + "' in the file");
    }
    found.reset(in_map(board, path[1]));
    if (path.size() == 3 && found.IsDefined()) {
      const YAML::Node inner = in_map(found, path[2]);
      found.reset(inner);
    }
  }
  if (!found.IsDefined() || !found.IsScalar()) {
    throw std::invalid_argument("'" + path[0] + "' has no value '" + std::string(target.substr(path[0].size() + 1)) +
                                "' in the file to set");
  }
  const auto [from, to] = place_of(text, found);
  std::string result(text.substr(0, from));
  result += value;
  result += text.substr(to);
  return result;
}

}  // namespace dryfit::model

#include "cli/json/inch_fields.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <string_view>

#include "model/text/length.hpp"

namespace dryfit::cli {
namespace {

/// `mm` (a number, a list of lengths or null) changed piece by piece.
template <typename Change>
Json mapped(const Json& mm, const Change& change) {
  if (mm.is_number()) return change(mm.get<double>());
  if (!mm.is_array()) return nullptr;
  Json list = Json::array();
  for (const Json& each : mm) list.push_back(mapped(each, change));
  return list;
}

Json decimal(double mm) { return std::round(mm / model::kMmPerInch * 1e4) / 1e4 + 0.0; }

Json fraction(double mm) {
  std::string text = model::inches(mm);
  text.erase(text.size() - std::string_view(" in").size());
  return text;
}

Json per_foot(double mm_per_m) { return std::round(mm_per_m * 12.0 / 1000.0 * 1e4) / 1e4 + 0.0; }

Json widened(const Json& node) {
  if (node.is_array()) {
    Json list = Json::array();
    for (const Json& each : node) list.push_back(widened(each));
    return list;
  }
  if (!node.is_object()) return node;
  constexpr std::string_view kLength = "_mm";
  constexpr std::string_view kSlope = "_mm_per_m";
  Json out = Json::object();
  const auto add = [&](const std::string& key, Json value) {
    if (!node.contains(key)) out[key] = std::move(value);
  };
  for (const auto& [key, value] : node.items()) {
    out[key] = widened(value);
    if (key.ends_with(kSlope)) {
      add(key.substr(0, key.size() - kSlope.size()) + "_in_per_ft", mapped(value, per_foot));
    } else if (key.ends_with(kLength)) {
      const std::string name = key.substr(0, key.size() - kLength.size());
      add(name + "_in", mapped(value, decimal));
      add(name + "_fraction_in", mapped(value, fraction));
    }
  }
  return out;
}

}  // namespace

Json with_inches(const Json& document, const std::string& asked) {
  return asked == "in" || asked == "both" ? widened(document) : document;
}

}  // namespace dryfit::cli

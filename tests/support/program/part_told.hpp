#pragma once
/// A part in what `early --json` says.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <string>

namespace dryfit::tests {

/// The part called that; fails the test when there is none.
[[nodiscard]] inline const nlohmann::json& part_told(const nlohmann::json& document, const std::string& label) {
  for (const nlohmann::json& part : document["parts"]) {
    if (part["part"] == label) return part;
  }
  REQUIRE_MESSAGE(false, label);
  return document;
}

}  // namespace dryfit::tests

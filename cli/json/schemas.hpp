#pragma once
/// The JSON Schemas (draft 7) of the frame file and of every answer. They are written in cli/schemas, one file each,
/// and built into the program; what several have in common stands in shared.json and is put in where it is used.
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace dryfit::cli {

/// "frame" first, then the commands that answer with --json, by the alphabet.
[[nodiscard]] const std::vector<std::string>& schema_names();

/// The schema, whole: it refers to nothing outside itself. None when there is none of that name.
[[nodiscard]] std::optional<nlohmann::ordered_json> schema_named(std::string_view name);

}  // namespace dryfit::cli

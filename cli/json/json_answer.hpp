#pragma once
/// The JSON side of every answer. Field names are part of the interface; lengths in mm, masses in kg.
#include <iosfwd>
#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::cli {

using Json = nlohmann::ordered_json;

/// {"dryfit": 1, "command": ..., "frame": ..., "verdict": ...}: how every document starts.
[[nodiscard]] Json envelope(const char* command, const model::Frame& frame, const std::string& verdict);

/// To three decimals, so that the last bit of a calculation never shows; never -0.
[[nodiscard]] double rounded(double value);

/// The ids of contacts, in the order given.
[[nodiscard]] Json contact_ids(const planner::ContactList& list, const std::vector<planner::ContactId>& contacts);
[[nodiscard]] Json part_ids(const model::Frame& frame, const std::vector<model::PartId>& parts);

/// Indented by two, with a newline at the end.
void print(std::ostream& out, const Json& document);
/// On one line: for commands that answer for many files.
void print_line(std::ostream& out, const Json& document);

}  // namespace dryfit::cli

#include "cli/json/json_answer.hpp"

#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>

namespace dryfit::cli {

namespace {

/// A file may hold bytes that are no UTF-8; they are shown as the replacement character rather than refused here.
constexpr auto kOnBadUtf8 = Json::error_handler_t::replace;

}  // namespace

Json envelope(const char* command, const model::Frame& frame, const std::string& verdict) {
  return {{"dryfit", 1}, {"command", command}, {"frame", frame.name}, {"verdict", verdict}};
}

double rounded(double value) { return std::round(value * 1000.0) / 1000.0 + 0.0; }

Json contact_ids(const planner::ContactList& list, const std::vector<planner::ContactId>& contacts) {
  Json ids = Json::array();
  for (const planner::ContactId id : contacts) ids.push_back(list.contact(id).id);
  return ids;
}

Json part_ids(const model::Frame& frame, const std::vector<model::PartId>& parts) {
  Json ids = Json::array();
  for (const model::PartId id : parts)
    ids.push_back(id == model::kRoom ? "room" : frame.part(id).id);
  return ids;
}

void print(std::ostream& out, const Json& document) { out << document.dump(2, ' ', false, kOnBadUtf8) << '\n'; }

void print_line(std::ostream& out, const Json& document) { out << document.dump(-1, ' ', false, kOnBadUtf8) << '\n'; }

}  // namespace dryfit::cli

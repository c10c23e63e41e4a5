/// What the order, the fit and the early parts of every frame of the book and of every scenario are, in short, as they
/// were when last looked at: a change that nobody meant is seen here, whatever rule, bound or search it comes from.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "tests/support/program/program.hpp"

namespace dryfit::test {
namespace {

namespace fs = std::filesystem;

/// The frames, by their paths in the source tree.
std::vector<std::string> all_frames() {
  std::vector<std::string> found;
  for (const char* const folder : {"scenarios", "tests/fitter"}) {
    for (const auto& entry : fs::recursive_directory_iterator(fs::path(DRYFIT_SOURCE_DIR) / folder)) {
      const std::string path = fs::relative(entry.path(), DRYFIT_SOURCE_DIR).string();
      if (path.ends_with(".yaml") && !path.ends_with(".truth.yaml") && !path.ends_with(".expect.yaml"))
        found.push_back(path);
    }
  }
  std::sort(found.begin(), found.end());
  return found;
}

std::string joined(const nlohmann::json& words) {
  std::string out;
  for (const auto& word : words) out += (out.empty() ? "" : "+") + word.get<std::string>();
  return out;
}

/// The steps with their contacts, "/" where the work is turned, "!" where it has to be propped; and what all of it
/// costs.
std::string order_in_short(const nlohmann::json& order) {
  std::string out = order["verdict"].get<std::string>();
  if (!order.contains("effort") || order["effort"].is_null()) return out;
  const nlohmann::json& effort = order["effort"];
  out += " " + effort["value"].dump() + (effort["proven"] == true ? "" : " of " + effort["lower_bound"].dump()) + ":";
  for (const auto& step : order["steps"]) {
    for (const auto& turning : order["turnings"]) out += turning["before_step"] == step["number"] ? " /" : "";
    out += " " + joined(step["contacts"]) + (step["propped"] == true ? "!" : "");
  }
  for (const auto& turning : order["turnings"]) out += turning["before_step"] > order["steps"].size() ? " /" : "";
  return out;
}

/// Each part with its last call, the moves to it, its price, and what locks it out.
std::string early_in_short(const nlohmann::json& early) {
  std::string out;
  if (!early.contains("parts")) return early["verdict"].get<std::string>();
  for (const auto& part : early["parts"]) {
    out += " " + part["part"].get<std::string>() + ":" + part["last_call_step"].dump() + "," +
           part["depth_moves"].dump() + "," + part["price_moves"].dump() + (part["price_proven"] == true ? "" : "?");
    for (const auto& set : part["lockouts"]) out += "," + joined(set);
  }
  return out;
}

/// Empty where the answer has none.
nlohmann::json list_of(const nlohmann::json& answer, const char* key) {
  return answer.contains(key) && answer[key].is_array() ? answer[key] : nlohmann::json::array();
}

/// Every closure with its state, its turns and its cures; every level with its gap and slope; what is likely wrong.
std::string fit_in_short(const nlohmann::json& fit) {
  std::string out = fit["verdict"].get<std::string>();
  for (const auto& turn : list_of(fit, "turns")) out += " " + turn.dump();
  for (const auto& closure : list_of(fit, "closures")) {
    out += " " + joined(list_of(closure, "between")) + ":" + closure["state"].get<std::string>() +
           closure["gap_mm"].dump() + closure["left_mm"].dump();
    for (const auto& cure : list_of(closure, "stock")) {
      for (const auto& change : list_of(cure, "changes")) {
        out += " " + change["instead_of"].get<std::string>() + "=" + change["pieces_mm"].dump();
      }
      out += cure["cut"] == true ? " cut" : "";
    }
  }
  for (const auto& wrong : list_of(fit, "likely_wrong"))
    out += " " + wrong["pipe"].get<std::string>() + "?" + wrong["length_mm"].dump();
  for (const auto& level : list_of(fit, "levels")) {
    out +=
        " " + joined(list_of(level, "between")) + "/" + level["gap_mm"].dump() + "," + level["slope_mm_per_m"].dump();
  }
  return out;
}

/// Discarded where the command prints no JSON.
nlohmann::json answer(const char* command, const std::string& path) {
  const tests::Ran ran = tests::run({command, std::string(DRYFIT_SOURCE_DIR) + "/" + path, "--json"});
  return nlohmann::json::parse(ran.out, nullptr, false);
}

/// Lines by two: the frame, and its answer.
std::map<std::string, std::string> by_frame(const std::string& text) {
  std::map<std::string, std::string> answers;
  std::istringstream lines(text);
  for (std::string path, told; std::getline(lines, path) && std::getline(lines, told);) answers[path] = told;
  return answers;
}

/// Against tests/fitter/NAME, or written there. A frame that does not stand there yet is held against nothing.
void check_answers(const char* name, const char* command, std::string (*in_short)(const nlohmann::json&)) {
  std::string now;
  for (const std::string& path : all_frames()) {
    const nlohmann::json told = answer(command, path);
    now += path + "\n  " + (told.is_discarded() ? "refused" : in_short(told)) + "\n";
  }
  const std::string file = std::string(DRYFIT_SOURCE_DIR) + "/tests/fitter/" + name;
  if (std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr) std::ofstream(file, std::ios::binary) << now;
  std::map<std::string, std::string> answers = by_frame(now);
  const std::map<std::string, std::string> then = by_frame(tests::slurp(file));
  CHECK(then.size() >= 250);
  for (const auto& [path, told] : then) {
    CAPTURE(path);
    CHECK(answers[path] == told);
  }
}

}  // namespace

TEST_CASE("orders of the book's frames are exactly as expected") {
  check_answers("orders.txt", "order", order_in_short);
}

TEST_CASE("fits of the book's frames are exactly as expected") { check_answers("fits.txt", "fit", fit_in_short); }

TEST_SUITE("slow") {
  TEST_CASE("early parts of the book's frames are exactly as expected") {
    check_answers("early.txt", "early", early_in_short);
  }
}

}  // namespace dryfit::test

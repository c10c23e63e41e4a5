/// Every frame in scenarios/ with the side file NAME.expect.yaml that says what must come out:
///   verdict, exit         as `dryfit order` gives them
///   parts                 how many parts the frame has
///   steps: [least, most]  bounds for the number of steps, where it is buildable
///   knot: [ids]           the knot, where it is locked
///   late: {BOARD: legal}  what `dryfit replay` says when the board is put off to the very end
#include <doctest/doctest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "tests/support/program/program.hpp"

namespace {

using dryfit::tests::run;
using dryfit::tests::scenario_files;
using nlohmann::json;

constexpr const char* kSideFile = ".expect.yaml";

YAML::Node expectation(const std::string& frame) {
  return YAML::LoadFile(frame.substr(0, frame.size() - std::string(".yaml").size()) + kSideFile);
}

/// The order with every step that makes a contact of the board moved to the end.
std::string with_board_last(const json& steps, const std::string& board) {
  json first = json::array();
  json last = json::array();
  for (const json& step : steps) {
    const bool touches = std::any_of(step["contacts"].begin(), step["contacts"].end(),
                                     [&](const json& id) { return id.get<std::string>().starts_with(board + "/"); });
    (touches ? last : first).push_back(step);
  }
  REQUIRE_FALSE(last.empty());
  for (const json& step : last) first.push_back(step);
  return first.dump();
}

}  // namespace

TEST_CASE("there are scenarios, and each has a side file that says what must come out") {
  const auto files = scenario_files();
  CHECK(files.size() >= 12);  // a floor set by hand, so that an empty folder cannot pass
  std::set<std::string> verdicts;
  for (const std::string& file : files) {
    CAPTURE(file);
    const YAML::Node expected = expectation(file);
    for (const char* key : {"verdict", "exit", "parts"}) {
      CAPTURE(key);
      CHECK(expected[key].IsDefined());
    }
    verdicts.insert(expected["verdict"].as<std::string>());
  }
  CHECK(verdicts.count("buildable") == 1);
  CHECK(verdicts.count("locked") == 1);
}

TEST_CASE("every scenario gets its expected verdict, exit code, step count and knot") {
  for (const std::string& file : scenario_files()) {
    CAPTURE(file);
    const YAML::Node expected = expectation(file);
    const auto ran = run({"order", file, "--json"});
    CHECK(ran.err == "");
    CHECK(ran.code == expected["exit"].as<int>());
    const json answer = json::parse(ran.out);
    CHECK(answer["verdict"] == expected["verdict"].as<std::string>());
    const auto checked = run({"check", file, "--json"});
    CHECK(checked.code == ran.code);
    const json check = json::parse(checked.out);
    CHECK(check["parts"] == expected["parts"].as<int>());
    CHECK(check["verdict"] == answer["verdict"]);
    if (answer["verdict"] == "buildable") {
      const auto steps = static_cast<int>(answer["steps"].size());
      REQUIRE(expected["steps"].IsSequence());
      CHECK(steps >= expected["steps"][0].as<int>());
      CHECK(steps <= expected["steps"][1].as<int>());
      CHECK(check["steps_at_most"] >= steps);
    } else {
      CHECK(answer["knot"].get<std::vector<std::string>>() == expected["knot"].as<std::vector<std::string>>());
      CHECK(check["knot"] == answer["knot"]);
    }
  }
}

TEST_CASE("every order printed for a scenario makes each contact once and is legal by replay") {
  for (const std::string& file : scenario_files()) {
    CAPTURE(file);
    const auto ordered = run({"order", file, "--json"});
    if (ordered.code != 0) continue;
    const json answer = json::parse(ordered.out);
    std::set<std::string> made;
    std::size_t contacts = 0;
    for (const json& step : answer["steps"]) {
      for (const json& id : step["contacts"]) made.insert(id.get<std::string>());
      contacts += step["contacts"].size();
      CHECK(step["text"].get<std::string>().ends_with('.'));
      CHECK_FALSE(step["moving"].empty());
    }
    CHECK(made.size() == contacts);
    CHECK(json::parse(run({"check", file, "--json"}).out)["contacts"] == contacts);
    const auto replayed = run({"replay", file, "-"}, ordered.out);
    CHECK(replayed.err == "");
    CHECK(replayed.code == 0);
  }
}

TEST_CASE("a slotted board can be put off to the very end and its drilled twin cannot") {
  int asked = 0;
  for (const std::string& file : scenario_files()) {
    const YAML::Node late = expectation(file)["late"];
    if (!late.IsDefined()) continue;
    CAPTURE(file);
    const json answer = json::parse(run({"order", file, "--json"}).out);
    for (const auto& entry : late) {
      const auto board = entry.first.as<std::string>();
      CAPTURE(board);
      const auto replayed = run({"replay", file, "-", "--json"}, with_board_last(answer["steps"], board));
      CHECK(json::parse(replayed.out)["verdict"] == entry.second.as<std::string>());
      ++asked;
    }
  }
  CHECK(asked >= 2);  // the slotted board and its drilled twin
}

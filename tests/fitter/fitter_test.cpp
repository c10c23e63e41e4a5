/// Small frames whose answer a fitter knows before anything is computed. Every NAME.yaml below this folder has beside
/// it NAME.truth.yaml:
///   why: two lines of mechanics
///   verdict: what `check` says: buildable, locked, overlapping or open
///   moves: [{undo: S/P1, gone: [C1/P1.up], answer: yes}]   can it be undone now? asked of search, judge and oracle
///   early: [{part: S, before: [P2/C1.up], answer: yes}]    must the part be on before all of these are made?
/// Frames that are buildable or locked are also built by the search, judged, and taken apart by the oracle.
#include <doctest/doctest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "planner/early/lockout.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/order.hpp"
#include "planner/state/named_part.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/voices/three_voices.hpp"

namespace dryfit::test {
namespace {

namespace fs = std::filesystem;

constexpr const char* kTruth = ".truth.yaml";

/// Paths without ".yaml", sorted.
std::vector<std::string> frames() {
  std::vector<std::string> found;
  for (const fs::directory_entry& entry : fs::recursive_directory_iterator(DRYFIT_SOURCE_DIR "/tests/fitter")) {
    const std::string path = entry.path().string();
    if (!path.ends_with(".yaml") || path.ends_with(kTruth)) continue;
    found.push_back(path.substr(0, path.size() - std::string(".yaml").size()));
  }
  std::sort(found.begin(), found.end());
  return found;
}

std::vector<std::string> words(const YAML::Node& list) {
  std::vector<std::string> out;
  for (const auto& word : list) out.push_back(word.as<std::string>());
  return out;
}

/// Search, judge and oracle on the whole build: one word when they agree.
std::string built(const Workpiece& piece) {
  const planner::Order order = planner::find_order(piece.frame, piece.list);
  std::vector<planner::GivenStep> steps;
  for (const planner::Step& step : order.steps) steps.push_back({step.action, step.contacts, step.moving});
  const bool judged = order.buildable && planner::replay(piece.frame, piece.list, steps).legal;
  const bool tried = solve(piece.frame).buildable;
  const auto word = [](bool yes) { return std::string(yes ? "buildable" : "locked"); };
  if (order.buildable == judged && judged == tried) return word(judged);
  return "search " + word(order.buildable) + ", judge " + word(judged) + ", oracle " + word(tried);
}

/// Whether the part has to be on before all of `made` are: no order makes them first.
std::string must_be_on_before(const Workpiece& piece, const std::string& part, const std::vector<std::string>& made) {
  planner::Undoer undoer(piece.frame, piece.list);
  std::vector<planner::ContactId> contacts;
  for (const std::string& id : made) {
    contacts.push_back(piece.list.find(id));
    if (contacts.back() == model::kNone) throw std::invalid_argument("no contact " + id);
  }
  for (const planner::NamedPart& named : planner::named_parts(piece.frame, piece.list)) {
    if (named.label == part) return planner::can_wait(undoer, named.contacts, contacts) ? "no" : "yes";
  }
  throw std::invalid_argument("no part " + part);
}

void hold_against_truth(const std::string& path) {
  const std::string text = tests::slurp(path + ".yaml");
  const YAML::Node truth = YAML::Load(tests::slurp(path + kTruth));
  CHECK(truth["why"].as<std::string>().size() > 20);
  const auto verdict = truth["verdict"].as<std::string>();
  const tests::Ran ran = tests::run({"check", path + ".yaml", "--json"});
  REQUIRE_MESSAGE(ran.code != 2, ran.err);
  CHECK(nlohmann::json::parse(ran.out).at("verdict").get<std::string>() == verdict);
  if (verdict == "overlapping") return;

  const Workpiece piece = workpiece(text);
  if (verdict == "buildable" || verdict == "locked") CHECK(built(piece) == verdict);
  if (truth["moves"]) {
    ThreeVoices voices(text);
    for (const auto& move : truth["moves"]) {
      const auto undo = move["undo"].as<std::string>();
      CAPTURE(undo);
      CHECK(voices.undoes(undo, words(move["gone"])) == move["answer"].as<std::string>());
    }
  }
  for (const auto& early : truth["early"]) {
    const auto part = early["part"].as<std::string>();
    CAPTURE(part);
    CHECK(must_be_on_before(piece, part, words(early["before"])) == early["answer"].as<std::string>());
  }
}

}  // namespace

TEST_CASE("what a fitter knows of small frames is what check, order, replay and the oracle say") {
  const std::vector<std::string> all = frames();
  for (const std::string& path : all) {
    CAPTURE(path);
    REQUIRE_MESSAGE(fs::exists(path + kTruth), "the truth is missing");
    CHECK_NOTHROW(hold_against_truth(path));
  }
  CHECK(all.size() >= 40);  // a floor set by hand
}

}  // namespace dryfit::test

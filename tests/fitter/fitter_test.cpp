/// Small frames whose answer a fitter knows before anything is computed. Every NAME.yaml below this folder has beside
/// it NAME.truth.yaml:
///   why: two lines of mechanics
///   verdict: what `check` says: buildable, locked, overlapping or open
///   moves: [{undo: S/P1, gone: [C1/P1.up], answer: yes}]   can it be undone now? asked of search, judge and oracle
///   early: [{part: S, before: [P2/C1.up], answer: yes}]    must the part be on before all of these are made?
///   lowest: {S: 301.8}         how high the lowest point of the part is, mm, to a tenth
///   linked: [[P, Q]]           a part of each piece that rings hold together, and of nothing else; no key: not asked
///   half: [{gone: [U], linked: []}]   the same of what is left without some contacts
///   steps: 13                  how many steps the order takes: what goes on in one go is one
///   twin: folder/name          a frame that differs in words, place or side alone: as many steps, the same effort
/// Frames that are buildable or locked are also built by the search, judged, and taken apart by the oracle.
#include <doctest/doctest.h>
#include <yaml-cpp/yaml.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <limits>
#include <map>
#include <set>
#include <stdexcept>
#include <string>
#include <vector>

#include <nlohmann/json.hpp>

#include "planner/early/lockout.hpp"
#include "planner/judge/replay.hpp"
#include "planner/order/order.hpp"
#include "planner/state/links.hpp"
#include "planner/state/named_part.hpp"
#include "tests/support/naive/naive_links.hpp"
#include "tests/support/oracle/oracle_apart.hpp"
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

/// What `order` says of the frame.
nlohmann::json order_of(const std::string& path) {
  return nlohmann::json::parse(tests::run({"order", path + ".yaml", "--json"}).out);
}

/// Clusters of a state that rings hold together, as groups; what nothing holds is in none.
using Groups = std::set<std::set<int>>;

Groups told_groups(const Workpiece& piece, const planner::State& state, const YAML::Node& linked) {
  Groups groups;
  for (const auto& group : linked) {
    std::set<int> clusters;
    for (const std::string& part : words(group)) clusters.insert(state.cluster(piece.frame.find(part)));
    groups.insert(clusters);
  }
  return groups;
}

/// By the loops that the planner follows, and by walking every way round.
void hold_against_links(const Workpiece& piece, const std::vector<std::string>& gone, const YAML::Node& linked) {
  planner::State state(piece.list);
  std::vector<char> made(piece.list.contacts.size(), 1);
  for (const std::string& id : gone) {
    const planner::ContactId c = piece.list.find(id);
    REQUIRE(c != model::kNone);
    state.undo({c});
    made[at(c)] = 0;
  }
  const planner::Links links(piece.frame, piece.list);
  const NaiveLinks walked(piece.frame, piece.list);
  Groups found, found_walking;
  for (model::PartId p = 0; p < static_cast<model::PartId>(piece.frame.parts.size()); ++p) {
    std::set<int> with{state.cluster(p)}, with_walking;
    for (const int v : links.linked_with(state, p)) with.insert(state.cluster(v));
    for (const int v : walked.held_with(made, {p})) with_walking.insert(state.cluster(v));
    if (with.size() > 1) found.insert(with);
    if (with_walking.size() > 1) found_walking.insert(with_walking);
  }
  const Groups told = told_groups(piece, state, linked);
  CHECK(found == told);
  CHECK(found_walking == told);
}

/// What is linked is not carried apart, all else is; and the order says where a ring is closed round something.
void hold_against_hands(const Workpiece& piece, const std::string& path, const YAML::Node& linked) {
  const planner::State whole(piece.list);
  std::map<int, std::set<model::PartId>> clusters;
  for (model::PartId p = 0; p < static_cast<model::PartId>(piece.frame.parts.size()); ++p) {
    clusters[whole.cluster(p)].insert(p);
  }
  bool all_apart = true;
  for (const auto& [a, one] : clusters) {
    for (const auto& [b, other] : clusters) {
      if (a == b || whole.holds_room(*one.begin())) continue;
      all_apart = all_apart && carried_apart(piece.frame, one, other, whole.holds_room(*other.begin()));
    }
  }
  CHECK(all_apart == (linked.size() == 0));
  const nlohmann::json order = order_of(path);
  if (order.at("verdict") != "buildable") return;
  const auto& steps = order.at("steps");
  const bool said =
      std::any_of(steps.begin(), steps.end(), [](const auto& step) { return !step.at("in_rings").empty(); });
  CHECK(said == (linked.size() > 0));
}

void hold_against_twin(const std::string& path, const std::string& twin) {
  const nlohmann::json one = order_of(path), other = order_of(std::string(DRYFIT_SOURCE_DIR "/tests/fitter/") + twin);
  CHECK(one.at("steps").size() == other.at("steps").size());
  CHECK(one.at("effort").at("value").get<double>() == doctest::Approx(other.at("effort").at("value").get<double>()));
}

/// Lowest point of a part, mm.
double lowest(const model::Frame& frame, const std::string& part) {
  double low = std::numeric_limits<double>::infinity();
  for (const model::Solid& solid : frame.part(frame.find(part)).solids) low = std::min(low, bounds_of(solid).lo.z);
  return low;
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
  for (const auto& height : truth["lowest"]) {
    CHECK(std::abs(lowest(piece.frame, height.first.as<std::string>()) - height.second.as<double>()) <= 0.1);
  }
  if (truth["linked"]) {
    hold_against_links(piece, {}, truth["linked"]);
    hold_against_hands(piece, path, truth["linked"]);
  }
  for (const auto& half : truth["half"]) hold_against_links(piece, words(half["gone"]), half["linked"]);
  if (truth["steps"]) CHECK(order_of(path).at("steps").size() == truth["steps"].as<std::size_t>());
  if (truth["twin"]) hold_against_twin(path, truth["twin"].as<std::string>());
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

// One subject or frame alone: --subcase='*swings/*'.
TEST_CASE("what a fitter knows of small frames is what check, order, replay and the oracle say") {
  const std::vector<std::string> all = frames();
  CHECK(all.size() >= 150);  // a floor set by hand
  for (const std::string& path : all) {
    SUBCASE(fs::relative(path, DRYFIT_SOURCE_DIR "/tests/fitter").string().c_str()) {
      CAPTURE(path);
      REQUIRE_MESSAGE(fs::exists(path + kTruth), "the truth is missing");
      CHECK_NOTHROW(hold_against_truth(path));
    }
  }
}

}  // namespace dryfit::test

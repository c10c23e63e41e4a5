/// What `order` says besides the steps: who lifts, when to level, what turning the work takes, why a step comes now.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "tests/support/program/one_line.hpp"
#include "tests/support/program/program.hpp"

namespace {

using dryfit::tests::on_one_line;
using dryfit::tests::run;
using dryfit::tests::scenario;
using nlohmann::json;

bool has(const std::string& text, const std::string& part) { return on_one_line(text).find(part) != std::string::npos; }

std::size_t position(const std::string& text, const std::string& part) {
  const std::size_t at = text.find(part);
  REQUIRE(at != std::string::npos);
  return at;
}

// 23 kg: load constant of the revised NIOSH lifting equation, NIOSH Publication 94-110. The top of the work table, 60
// by 30 by 1-1/2 in of maple, weighs more.
TEST_CASE("alone, what one person should not lift is named, and that no order spares it") {
  const auto alone = run({"order", scenario("work-table"), "--people", "1"});
  CHECK(has(alone.out, "No order avoids this lift"));
  CHECK(has(alone.out, "Don't do it alone"));
  const auto two = run({"order", scenario("work-table")});
  CHECK_FALSE(has(two.out, "Don't do it alone"));
  CHECK(has(two.out, "Two people lift this: it weighs"));
}

TEST_CASE("a light frame is lifted by one person, and nothing is said of it") {
  const auto alone = run({"order", scenario("pot-rail"), "--people", "1"});
  CHECK_FALSE(has(alone.out, "one person may lift"));
  const json answer = json::parse(run({"order", scenario("pot-rail"), "--people", "1", "--json"}).out);
  for (const json& step : answer["steps"]) {
    CHECK(step["one_person_limit_kg"].get<double>() <= 23.0);  // NIOSH's load constant, as above
    CHECK(step["moving_mass_kg"].get<double>() <= step["one_person_limit_kg"].get<double>());
  }
}

TEST_CASE("level is checked once before the first screws to the room") {
  const std::string text = run({"order", scenario("plant-rack")}).out;
  const std::size_t level = position(text, "> Check level and plumb");
  CHECK(level < position(text, "Screw flange FL to the floor."));
  CHECK(position(text, "Slide S3 down") < level);
  CHECK(text.find("> Check level and plumb", level + 1) == std::string::npos);
}

TEST_CASE("turning and propping is told beside the effort, in text and as a number") {
  CHECK(has(run({"order", scenario("plant-rack"), "--explain"}).out, "of it is for turning, propping"));
  CHECK_FALSE(has(run({"order", scenario("plant-rack")}).out, "Effort score"));
  const json answer = json::parse(run({"order", scenario("plant-rack"), "--json"}).out);
  CHECK(answer["effort"]["handling"].get<double>() > 0.0);
  CHECK(answer["effort"]["proven"].get<bool>());
}

TEST_CASE("a step that was weighed against others is explained by what the runner-up costs more") {
  const std::string text = run({"order", scenario("cellar-rail-union"), "--explain"}).out;
  CHECK(has(text, "for starting a separate piece"));
  CHECK(has(text, "here instead, the effort score would be higher"));
  CHECK(has(text, "it can't be done any more"));
}

TEST_CASE("the way in between floor and ceiling is told before the first flange is screwed down") {
  const std::string frame = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
  ceiling: {normal: down, at: 1131.1 mm}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - F1: flange
      - P: {pipe: 1100 mm}
      - F2: flange
    to: ceiling
)";
  const std::string text = on_one_line(run({"order", "-"}, frame).out);
  const std::size_t way = position(text, "! To get it in between floor and ceiling, screw these flanges further in");
  CHECK(way < position(text, "Screw flange F1 to the floor."));
  CHECK(position(text, "P down into F1") < way);
  CHECK(has(text, "F1 3 turns and F2 3 turns. Stand the frame in its place, then back them off against the surfaces."));
}

// Tilted about the edge of its flange the post, about 1.0 m tall, rises to 1.03 m.
TEST_CASE("who wants it laid is told that it strikes the ceiling, who does not gets an order without that turning") {
  const std::string frame = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
  ceiling: {normal: down, at: 1029 mm}
runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - F: flange
      - P1: {pipe: 38}
      - E: {elbow: right}
      - P2: {pipe: 30}
      - E2: {elbow: back}
      - P3: {pipe: 30}
      - K: cap
)";
  CHECK(has(run({"order", "-", "--laid"}, frame).out, "IT WOULD HIT THE ceiling"));
  CHECK_FALSE(has(run({"order", "-"}, frame).out, "IT WOULD HIT"));
}

}  // namespace

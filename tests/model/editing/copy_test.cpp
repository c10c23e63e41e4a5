/// A run written once more: what turns with it, and what does not.
#include "model/editing/copy.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

using namespace dryfit::model;

namespace {

constexpr const char* kRun =
    "runs:\n"
    "  post:\n"
    "    from: floor\n"
    "    go: up\n"
    "    parts:\n"
    "      - left: {pipe: 6}        # named so\n"
    "      - T1: {tee: right, branch-size: 1/2}\n"
    "      - E1: {elbow45: up-right}\n"
    "      - X1: {cross: , plane: xz}\n"
    "      - C1: coupling\n"
    "    to: TOP.down\n";
const std::map<std::string, std::string> kNames{
    {"left", "right2"}, {"T1", "T2"}, {"E1", "E2"}, {"X1", "X2"}, {"C1", "C2"}};

std::vector<std::string> values(const NewRun& run) {
  std::vector<std::string> made;
  for (const NewPart& part : run.parts) made.push_back(part.id + ": " + part.value);
  return made;
}

}  // namespace

TEST_CASE("a copy has other names, and in a mirror left and right change") {
  const NewRun same = run_copied(kRun, "post", kNames, {});
  CHECK(same.go == "up");
  CHECK(values(same) == std::vector<std::string>{"right2: {pipe: 6}", "T2: {tee: right, branch-size: 1/2}",
                                                 "E2: {elbow45: up-right}", "X2: {cross: , plane: xz}",
                                                 "C2: coupling"});
  const NewRun mirrored = run_copied(kRun, "post", kNames, mirrored_along(0));
  CHECK(values(mirrored) == std::vector<std::string>{"right2: {pipe: 6}", "T2: {tee: left, branch-size: 1/2}",
                                                     "E2: {elbow45: up-left}", "X2: {cross: , plane: xz}",
                                                     "C2: coupling"});
  const NewRun over = run_copied(kRun, "post", kNames, mirrored_along(2));
  CHECK(over.go == "down");
}

TEST_CASE("a quarter turn brings one direction to another, and all others along") {
  const NewRun turned = run_copied(kRun, "post", kNames, turned_from(kRight, kBack));
  CHECK(turned.go == "up");
  CHECK(values(turned) == std::vector<std::string>{"right2: {pipe: 6}", "T2: {tee: back, branch-size: 1/2}",
                                                   "E2: {elbow45: up-back}", "X2: {cross: , plane: yz}",
                                                   "C2: coupling"});
  // Right-handed: square_to(a, b) stays with its pair.
  for (const Direction a : all_directions().first(6)) {
    for (const Direction b : all_directions().first(6)) {
      if (!square(a, b)) continue;
      const Turning turning = turned_from(a, b);
      CHECK(dryfit::model::turned(turning, a) == b);
      CHECK(dryfit::model::turned(turning, square_to(a, b)) == square_to(a, b));
    }
  }
}

TEST_CASE("what a run says of itself is read, and a part without a new name is refused") {
  CHECK(said_of_run(kRun, "post", "to") == "TOP.down");
  CHECK(said_of_run(kRun, "post", "at").empty());
  CHECK(parts_of_run(kRun, "post").size() == 5);
  CHECK(parts_of_run(kRun, "post")[1].value == "tee");
  CHECK_THROWS_AS(static_cast<void>(run_copied(kRun, "post", {{"left", "x"}}, {})), std::invalid_argument);
  CHECK_THROWS_AS(static_cast<void>(run_copied(kRun, "rail", kNames, {})), std::invalid_argument);
}

/// Parts taken off in the text of a frame file, with what hangs on them.
#include "model/editing/take_off.hpp"

#include <doctest/doctest.h>

#include <stdexcept>

using namespace dryfit::model;

namespace {

constexpr const char* kTwoPosts =
    "dryfit: 1\n"
    "pipe: {standard: npt, size: 3/4}\n"
    "surfaces: {floor: {normal: up, at: 0}}\n"
    "\n"
    "runs:\n"
    "  post:\n"
    "    from: floor\n"
    "    at: [0, 0]\n"
    "    parts:\n"
    "      - F1: flange\n"
    "      - T1: {tee: right}   # the rail\n"
    "      - P2: {pipe: 8}\n"
    "  rail:\n"
    "    from: T1.right\n"
    "    parts:\n"
    "      - R1: {pipe: 30}\n"
    "    to: T2.left\n"
    "  # Its twin.\n"
    "  twin:\n"
    "    from: floor\n"
    "    parts:\n"
    "      - F2: flange\n"
    "      - T2: {tee: left}\n"
    "      - P4: {pipe: 8}\n"
    "\n"
    "boards:\n"
    "  S1: {through: [P2, P4], rests-on: [T1, T2], size: {x: 36, y: 9, z: 3/4}, reach: {left: 2, front: 4}}\n";

std::string lacking(std::string text, const std::string& lines) { return text.erase(text.find(lines), lines.size()); }

}  // namespace

TEST_CASE("what stands behind a part, begins at it or rests on it comes off with it") {
  const TakenOff tee = without_what_hangs_on(kTwoPosts, "T1");
  CHECK(tee.off == std::vector<std::string>{"T1", "P2", "R1", "S1"});
  std::string left = lacking(kTwoPosts, "      - T1: {tee: right}   # the rail\n      - P2: {pipe: 8}\n");
  left = lacking(left, "  rail:\n    from: T1.right\n    parts:\n      - R1: {pipe: 30}\n    to: T2.left\n");
  left = left.substr(0, left.find("\nboards:"));
  CHECK(tee.text == left);
}

TEST_CASE("a run that ended in what comes off ends openly, and a board comes off by itself") {
  const TakenOff twin = without_what_hangs_on(kTwoPosts, "T2");
  CHECK(twin.off == std::vector<std::string>{"T2", "P4", "S1"});
  CHECK(twin.text.find("to:") == std::string::npos);
  CHECK(twin.text.find("R1: {pipe: 30}") != std::string::npos);
  CHECK(twin.text.find("  # Its twin.\n") != std::string::npos);
  const TakenOff board = without_what_hangs_on(kTwoPosts, "S1");
  CHECK(board.off == std::vector<std::string>{"S1"});
  CHECK(board.text == std::string(kTwoPosts).substr(0, std::string(kTwoPosts).find("\nboards:")));
  CHECK(without_what_hangs_on(kTwoPosts, "P4").off == std::vector<std::string>{"P4", "S1"});
  CHECK_THROWS_AS(static_cast<void>(without_what_hangs_on(kTwoPosts, "P9")), std::invalid_argument);
}

TEST_CASE("a last part comes off alone, and its run with it when it was the only one") {
  CHECK(without_last_part(kTwoPosts, "P4") == lacking(kTwoPosts, "      - P4: {pipe: 8}\n"));
  CHECK_THROWS_AS(static_cast<void>(without_last_part(kTwoPosts, "T2")), std::invalid_argument);
  const std::string one = "dryfit: 1\n\nruns:\n  a: {go: up, parts: [A: cap]}\n";
  CHECK(without_last_part(one, "A") == "dryfit: 1\n");
}

/// Changes that a tool made without regard for comments, carried over into the text that a person wrote.
#include "model/editing/carried_over.hpp"

#include <doctest/doctest.h>

using namespace dryfit;

namespace {

constexpr const char* kWritten =
    "# Ours.\n"
    "dryfit: 1\n"
    "units: in\n"
    "pipe: {standard: npt, size: 3/4}   # all\n"
    "\n"
    "surfaces: {floor: {normal: up, at: 0}}\n"
    "\n"
    "runs:\n"
    "  post:\n"
    "    from: floor\n"
    "    at: [0, 0]      # the corner\n"
    "    parts:\n"
    "      - F1: flange  # four screws\n"
    "      - P1: {pipe: 10}\n"
    "      - C1: coupling\n"
    "\n"
    "boards:\n"
    "  S1:\n"
    "    through: [P1, P2]   # both\n"
    "    size: {x: 12, y: 9, z: 3/4}\n";

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  return text.replace(text.find(from), from.size(), to);
}
std::string carried(const std::string& changed) { return model::with_changes_of(kWritten, changed, model::Units::in); }

}  // namespace

TEST_CASE("a text that says the same leaves every byte") {
  // The same in another order, without comments and in braces.
  const std::string same =
      "boards: {S1: {size: {z: 3/4, x: 12, y: 9}, through: [P1, P2]}}\n"
      "runs: {post: {parts: [{F1: flange}, {P1: {pipe: 10}}, {C1: coupling}], at: [0, 0], from: floor}}\n"
      "surfaces: {floor: {normal: up, at: 0}}\npipe: {standard: npt, size: 3/4}\nunits: in\ndryfit: 1\n";
  CHECK(carried(same) == kWritten);
}

TEST_CASE("a value is replaced where it stands, lengths as a person types them") {
  CHECK(carried(replaced(kWritten, "{pipe: 10}", "{pipe: 117.4750 mm}")) ==
        replaced(kWritten, "{pipe: 10}", "{pipe: 4-5/8}"));
  CHECK(carried(replaced(kWritten, "at: [0, 0]", "at: [0, 50.8000 mm]")) ==
        replaced(kWritten, "at: [0, 0]", "at: [0, 2]"));
}

TEST_CASE("parts come on before, between and behind, and go, each in its own line") {
  CHECK(carried(replaced(kWritten, "      - F1: flange  # four screws\n",
                         "      - K1: cap\n      - P0: {pipe: 6}\n"
                         "      - F1: flange\n")) ==
        replaced(kWritten, "      - F1: flange  # four screws\n",
                 "      - K1: cap\n      - P0: {pipe: 6}\n      - F1: flange  # four screws\n"));
  CHECK(carried(replaced(kWritten, "      - C1: coupling\n",
                         "      - C1: coupling\n      - P2:\n          pipe: 152.4000 mm\n          size: 3/4\n"
                         "      - U1:\n          union: ~\n")) ==
        replaced(kWritten, "      - C1: coupling\n",
                 "      - C1: coupling\n      - P2: {pipe: 6, size: 3/4}\n      - U1: union\n"));
  CHECK(carried(replaced(kWritten, "      - C1: coupling\n", "")) == replaced(kWritten, "      - C1: coupling\n", ""));
}

TEST_CASE("a hole that becomes a slot leaves its list for a key of its own") {
  CHECK(carried(replaced(kWritten, "through: [P1, P2]   # both\n", "through: [P1]\n    notch: {P2: back}\n")) ==
        replaced(replaced(kWritten, "[P1, P2]", "[P1]"), "z: 3/4}\n", "z: 3/4}\n    notch: {P2: back}\n"));
}

TEST_CASE("a value of the whole file stands among those at its top, a new run among the runs") {
  CHECK(carried(std::string(kWritten) + "driver: 101.6000 mm\n") ==
        replaced(kWritten, "# all\n", "# all\ndriver: 4\n"));
  const std::string more =
      "  rail:\n    from: C1.up\n    parts:\n      - P2: {pipe: 24}\n      - K1: cap\n    to: T2.left\n";
  CHECK(carried(replaced(kWritten, "\nboards:", more + "\nboards:")) ==
        replaced(kWritten, "      - C1: coupling\n", "      - C1: coupling\n" + more));
}

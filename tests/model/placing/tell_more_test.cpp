/// All mistakes of a file in one go: what would only be seen once others are mended is told with them, as far as it is
/// certain.
#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"

namespace {

using namespace dryfit::test;

TEST_CASE("behind a part with a mistake the run is read on, as long as the way is known") {
  // The pipe has no length and the tee no size, yet both go straight on: of the elbow behind them it is certain that it
  // may not go on upward, and of the two pipes at the end that a fitting is missing.
  CHECK(complaint(post({"F: flange", "P1: {pipe: long}", "T: {tee: right, size: 5/8}", "P2: {pipe: 6}", "P3: {pipe: 6}",
                        "E: {elbow: up}"})) ==
        "f.yaml:11:20: part 'P1': length: 'long': this is not a length, write it like 4-1/2, 4 1/2, 3/4, 9.5 in, 114 "
        "mm or 11 cm\n"
        "f.yaml:12:31: part 'T': size: expected a nominal pipe size (1/8, 1/4, 3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2, 2, "
        "2-1/2, 3 or 4), got '5/8'\n"
        "f.yaml:14:9: part 'P3': P2.end to P3.start joins two pipe ends: a fitting is missing between them\n"
        "f.yaml:15:9: part 'E': the elbow is entered going up, so it must leave right, left, back or front, got 'up'");
  // Behind an elbow that goes nobody knows where, nothing is certain.
  CHECK(
      complaint(post({"F: flange", "P1: {pipe: 6}", "E: {elbow: sideways}", "P2: {pipe: 6}", "E2: {elbow: right}"})) ==
      "f.yaml:12:20: part 'E': new walking direction: unknown direction 'sideways', expected right, left, back, "
      "front, up or down, or two of them such as up-right");
}

/// Two posts that do not touch, a shelf on the second, and a third piece of work that nothing places.
std::string posts(const std::string& first_pipe, const std::string& edge, const std::string& third) {
  return kHead +
         "runs:\n"
         "  left:\n"
         "    from: floor\n"
         "    at: [0, 0]\n"
         "    parts:\n"
         "      - F1: flange\n"
         "      - P1: " +
         first_pipe +
         "\n"
         "  right:\n"
         "    from: floor\n"
         "    at: [30, 0]\n"
         "    parts:\n"
         "      - F2: flange\n"
         "      - P2: {pipe: 12}\n"
         "      - C2: coupling\n"
         "      - P3: {pipe: 12}\n" +
         third +
         "boards:\n"
         "  S:\n"
         "    through: [P3]\n"
         "    rests-on: [C2]\n"
         "    size: {x: 12, y: 12, z: 3/4}\n"
         "    reach: {left: " +
         edge + ", front: 6}\n";
}

TEST_CASE("what no mistake touches is placed, and what is wrong with it is told as well") {
  // A hole of 1-1/8 in, 1/4 in from the edge, breaks through it by 5/16 in.
  const std::string hole =
      "f.yaml:22:15: board 'S': the hole for 'P3' breaks through the left edge by 5/16 in: make the board larger there, "
      "or move it";
  CHECK(complaint(posts("{pipe: 6}", "1/4", "")) == hole);
  CHECK(
      complaint(posts("{pip: 6}", "1/4", "")) ==
      "f.yaml:11:14: part 'P1': unknown kind 'pip', expected pipe, coupling, elbow, elbow45, street-elbow, tee, cross, "
      "side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'pipe'?\n" +
          hole);
  CHECK(complaint(posts("{pip: 6}", "6", "")).find("hole") == std::string::npos);
}

TEST_CASE("what hangs on a mistake is not judged") {
  // The shelf reaches for the pipe that has a mistake: where it lies nobody knows.
  std::string text = posts("{pip: 6}", "1/4", "");
  const std::size_t at = text.find("through: [P3]");
  text.replace(at, 13, "through: [P1]");
  CHECK(complaint(text) ==
        "f.yaml:11:14: part 'P1': unknown kind 'pip', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'pipe'?");
  // Without a known size nothing at all is.
  std::string head = posts("{pipe: 6}", "1/4", "");
  head.replace(head.find("size: 3/4"), 9, "size: 5/8");
  CHECK(complaint(head) ==
        "f.yaml:2:29: pipe: size: expected a nominal pipe size (1/8, 1/4, 3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2, 2, 2-1/2, 3 "
        "or 4), got '5/8'");
}

TEST_CASE("runs and boards without a place are told beside other mistakes") {
  const std::string lost =
      "  third:\n"
      "    go: up\n"
      "    parts:\n"
      "      - P4: {pipe: 12}\n"
      "  fourth:\n"
      "    go: up\n"
      "    parts:\n"
      "      - P5: {pipe: 12}\n";
  const std::string kind =
      "f.yaml:11:14: part 'P1': unknown kind 'pip', expected pipe, coupling, elbow, elbow45, street-elbow, tee, cross, "
      "side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'pipe'?\n";
  const std::string where =
      "nothing says where it is: give 'at', or start or end it ('from', 'to') at a part that has a place";
  const std::string both = "f.yaml:20:3: run 'third': " + where + "\nf.yaml:24:3: run 'fourth': " + where;
  CHECK(complaint(posts("{pipe: 6}", "6", lost)) == both);
  CHECK(complaint(posts("{pip: 6}", "6", lost)) == kind + both);
  // One alone may begin at the origin; and one that ends at what nobody knows may have a place once that is mended.
  const std::string one = lost.substr(0, lost.find("  fourth"));
  CHECK(complaint(posts("{pip: 6}", "6", one)) + "\n" == kind);
  CHECK(complaint(posts("{pip: 6}", "6", lost + "    to: T9.left\n")) ==
        kind + "f.yaml:28:9: run 'fourth': to: nothing is called 'T9'; expected the name of a part, board or surface");
}

TEST_CASE("a board that says neither where nor how high is told both") {
  CHECK(
      complaint(with_board({"size: {x: 9, y: 9, z: 1}"})) ==
      "f.yaml:18:3: board 'S': nothing says how high it is: give 'rests-on' or 'height', or screw a flange to it\n"
      "f.yaml:18:3: board 'S': nothing says where it is from left to right and front to back: give 'reach' or 'at', or "
      "screw a flange to it");
}

TEST_CASE("how the end of a part with a mistake is written is looked at all the same") {
  const std::string text = kHead +
                           "runs:\n"
                           "  a:\n"
                           "    from: floor\n"
                           "    at: [0, 0]\n"
                           "    parts:\n"
                           "      - F: flange\n"
                           "      - P1: {pipe: 6}\n"
                           "      - T: {tee: rigth}\n"
                           "  b:\n"
                           "    from: T\n"
                           "    parts:\n"
                           "      - P2: {pipe: 6}\n"
                           "  c:\n"
                           "    go: left\n"
                           "    parts:\n"
                           "      - P3: {pipe: 6}\n"
                           "    to: T.lft\n";
  CHECK(complaint(text) ==
        "f.yaml:12:18: part 'T': branch direction: unknown direction 'rigth', expected right, left, back, front, up or "
        "down, or two of them such as up-right; did you mean 'right'?\n"
        "f.yaml:14:11: run 'b': from: 'T' is a fitting: write 'T.' and the direction it goes, got 'T'\n"
        "f.yaml:21:9: run 'c': to: tee 'T' has no '.lft', expected 'T.' and the way its opening points; did you mean "
        "'left'?");
}

}  // namespace

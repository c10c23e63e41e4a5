#include <doctest/doctest.h>

#include "tests/support/frame_text.hpp"

namespace {

using namespace dryfit::test;

TEST_CASE("a hole lies within its board") {
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "through: [P2]", "rests-on: [C1]", "reach: {left: 1/2, back: 1/2}"})) ==
        "f.yaml:20:15: board 'S': the hole for 'P2' breaks the back edge by 1.6 mm, expected it within the board\n"
        "f.yaml:20:15: board 'S': the hole for 'P2' breaks the left edge by 1.6 mm, expected it within the board");
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "notch: {P2: front}", "rests-on: [C1]", "reach: {left: 1/4, front: 4}"})) ==
        "f.yaml:20:13: board 'S': the notch for 'P2' breaks the left edge by 7.9 mm, expected it within the board");
}

TEST_CASE("a pipe goes through the board") {
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "through: [P1]", "rests-on: [C1]", "reach: {left: 4, front: 4}"})) ==
        "f.yaml:20:15: board 'S': 'P1' reaches from 10.4 to 162.8 mm, expected it to go through the board, which "
        "lies from 192.8 to 218.2 mm");
}

TEST_CASE("a carrier lies under the board") {
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [P3, C1]", "reach: {left: 4, front: 4}"})) ==
        "f.yaml:20:20: board 'S': rests-on: 'C1' lies beside the board, expected it to carry the board");
}

TEST_CASE("a flange lies on its board") {
  CHECK(complaint(kHead + "  wall: {normal: front, at: 6}\n"
                          "runs:\n"
                          "  a:\n"
                          "    from: floor\n"
                          "    at: [0, 0]\n"
                          "    parts:\n"
                          "      - F: flange\n"
                          "      - P1: {pipe: 6}\n"
                          "      - C1: coupling\n"
                          "      - P2: {pipe: 6}\n"
                          "      - E: {elbow: right}\n"
                          "      - P3: {pipe: 20}\n"
                          "  leg:\n"
                          "    from: S.down\n"
                          "    at: [10, 1]\n"
                          "    parts:\n"
                          "      - FF: flange\n"
                          "  leg2:\n"
                          "    from: S.under\n"
                          "    parts:\n"
                          "      - FG: flange\n"
                          "  leg3:\n"
                          "    from: S.down\n"
                          "    parts:\n"
                          "      - P8: {pipe: 6}\n"
                          "boards:\n"
                          "  S:\n"
                          "    size: {x: 9, y: 9, z: 1}\n"
                          "    rests-on: [C1]\n"
                          "    reach: {left: 4, front: 4}\n") ==
        "f.yaml:19:9: run 'leg': at: lies off the board 'S', whose face is 228.6 x 228.6 mm, expected a place on it\n"
        "f.yaml:23:11: run 'leg2': from: 'S' is a board, expected 'S.' and a direction, got 'S.under'\n"
        "f.yaml:27:11: run 'leg3': from: 'S.down' wants a flange, got the pipe 'P8'");
  CHECK(complaint(kHead + "  wall: {normal: front, at: 6}\n"
                          "runs:\n"
                          "  a:\n"
                          "    from: floor\n"
                          "    at: [0, 0]\n"
                          "    parts:\n"
                          "      - F: flange\n"
                          "      - P1: {pipe: 6}\n"
                          "      - C1: coupling\n"
                          "      - P2: {pipe: 6}\n"
                          "      - E: {elbow: right}\n"
                          "      - P3: {pipe: 20}\n"
                          "  b:\n"
                          "    go: up\n"
                          "    at: [20, 0, 0]\n"
                          "    parts:\n"
                          "      - P8: {pipe: 6}\n"
                          "      - FG: flange\n"
                          "    to: S.down\n"
                          "boards:\n"
                          "  S:\n"
                          "    size: {x: 9, y: 9, z: 1}\n"
                          "    rests-on: [C1]\n"
                          "    reach: {left: 4, front: 4}\n") ==
        "f.yaml:23:9: run 'b': to: the flange 'FG' lies off the board 'S', expected it on the board");
}

TEST_CASE("what has no place is told") {
  CHECK(complaint(kHead + "runs:\n"
                          "  a:\n"
                          "    from: floor\n"
                          "    parts:\n"
                          "      - F: flange\n"
                          "      - P1: {pipe: 6}\n"
                          "  b:\n"
                          "    from: floor\n"
                          "    parts:\n"
                          "      - G: flange\n"
                          "      - P2: {pipe: 6}\n"
                          "  c:\n"
                          "    from: P2.end\n"
                          "    parts:\n"
                          "      - C: coupling\n"
                          "boards:\n"
                          "  S:\n"
                          "    size: {x: 9, y: 9, z: 1}\n"
                          "    rests-on: [C]\n"
                          "    reach: {left: 4, front: 4}\n"
                          "  Q:\n"
                          "    size: {x: 9, y: 9, z: 1}\n"
                          "    rests-on: [F]\n"
                          "  R:\n"
                          "    size: {x: 9, y: 9, z: 1}\n"
                          "    at: [0, 0]\n") ==
        "f.yaml:11:3: run 'b': has no place, expected 'at', or 'from' or 'to' with a part of a run that has one\n"
        "f.yaml:16:3: run 'c': has no place, expected 'at', or 'from' or 'to' with a part of a run that has one\n"
        "f.yaml:21:3: board 'S': has no place, expected what it hangs on to have one\n"
        "f.yaml:25:3: board 'Q': has no place across, expected 'reach', 'at' or a flange screwed to it\n"
        "f.yaml:28:3: board 'R': has no height, expected 'rests-on', 'height' or a flange screwed to it");
}

}  // namespace

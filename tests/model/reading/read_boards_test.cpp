#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"

namespace {

using namespace dryfit::test;

TEST_CASE("a board has known keys and three extents") {
  CHECK(complaint(with_board({"sizes: {x: 1}", "rest-on: [C1]"})) ==
        "f.yaml:19:5: board 'S': 'size' is missing, expected {x: LENGTH, y: LENGTH, z: LENGTH}\n"
        "f.yaml:19:5: board 'S': unknown key 'sizes', expected size, facing, through, notch, rests-on, height, "
        "reach, hole, at, fix, strap or stock; did you mean 'size'?\n"
        "f.yaml:20:5: board 'S': unknown key 'rest-on', expected size, facing, through, notch, rests-on, height, "
        "reach, hole, at, fix, strap or stock; did you mean 'rests-on'?");
  CHECK(complaint(with_board({"size: {x: 9, y: 0, q: 1}", "rests-on: [C1]", "reach: {left: 1, front: 1}"})) ==
        "f.yaml:19:11: board 'S': size: 'z' is missing, expected x, y and z\n"
        "f.yaml:19:21: board 'S': size y: expected a length greater than zero, got '0'\n"
        "f.yaml:19:24: board 'S': unknown key 'q', expected x, y or z");
}

TEST_CASE("a board faces along its thickness") {
  CHECK(complaint(with_board({"size: {x: 9, y: 1, z: 9}", "rests-on: [C1]", "reach: {left: 1, front: 1}"})) ==
        "f.yaml:19:5: board 'S': facing: the board is thinnest along y, expected front or back, got nothing (up)");
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 1, z: 9}", "facing: sideways", "rests-on: C1", "reach: {left: 1, front: 1}"})) ==
        "f.yaml:20:13: board 'S': facing: unknown direction 'sideways', expected right, left, back, front, up or "
        "down\n"
        "f.yaml:21:15: board 'S': rests-on: expected a list of names, got 'C1'");
}

TEST_CASE("reach gives two edges of the board's plane") {
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "through: [P2, P2]", "rests-on: [C1]", "reach: {left: 1, right: 2}"})) ==
        "f.yaml:20:19: board 'S': through: 'P2' stands twice in the list\n"
        "f.yaml:22:22: board 'S': reach: 'right' is a second distance along the same axis, expected the distances to "
        "two edges (left or right, and front or back)");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "reach: {left: 1, up: 2}"})) ==
        "f.yaml:21:22: board 'S': reach: 'up' is square to the board, expected the distances to two edges (left or "
        "right, and front or back)");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "height: 3", "reach: {left: 1, front: 2}"})) ==
        "f.yaml:21:12: board 'S': reach: nothing to measure from, expected 'through' or 'rests-on', or 'at' instead "
        "of 'reach'");
}

TEST_CASE("height and carriers, reach and corner exclude each other") {
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "height: 3", "at: [1, 2]", "reach: {left: 4, front: 2}"})) ==
        "f.yaml:21:13: board 'S': height: the board has 'rests-on' as well, expected one of them\n"
        "f.yaml:22:9: board 'S': at: the board has 'reach' as well, expected one of them");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "at: [1, 2, 3]"})) ==
        "f.yaml:21:9: board 'S': at: expected two coordinates of the board's left front corner, got a list of 3");
}

TEST_CASE("what a board names exists and is of the right kind") {
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "through: [C1, floor, P9]", "rests-on: [P99, floor, S]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:20:15: board 'S': through: 'C1' is a coupling, expected a pipe\n"
        "f.yaml:20:19: board 'S': through: 'floor' is a surface, expected a pipe\n"
        "f.yaml:20:26: board 'S': through: nothing is named 'P9', expected a part, board or surface; did you mean "
        "'P1'?\n"
        "f.yaml:21:16: board 'S': rests-on: nothing is named 'P99', expected a part, board or surface; did you mean "
        "'P1'?\n"
        "f.yaml:21:21: board 'S': rests-on: 'floor' is a surface, expected a fitting, a pipe or another board\n"
        "f.yaml:21:28: board 'S': rests-on: 'S' is the board itself, expected a fitting, a pipe or another board");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "reach: {left: 4, front: 4}",
                              "fix: [wal, C1]", "strap: {C1: 2, P3: 0, P1: two, P2: 1001}", "stock: pin"})) ==
        "f.yaml:22:11: board 'S': fix: 'wal' is no surface, expected floor or wall; did you mean 'wall'?\n"
        "f.yaml:22:16: board 'S': fix: 'C1' is no surface, expected floor or wall\n"
        "f.yaml:23:13: board 'S': strap: 'C1' is a coupling, expected a pipe\n"
        "f.yaml:23:24: board 'S': strap: expected a whole number from 1 to 1000, got '0'\n"
        "f.yaml:23:31: board 'S': strap: expected a whole number from 1 to 1000, got 'two'\n"
        "f.yaml:23:40: board 'S': strap: expected a whole number from 1 to 1000, got '1001'\n"
        "f.yaml:24:12: board 'S': unknown stock 'pin', expected ash, beech, birch, birch-plywood, cherry, "
        "douglas-fir, hardboard, maple, mdf, oak, osb, particleboard, pine, plywood, poplar, spruce or walnut; did "
        "you mean 'pine'?");
}

TEST_CASE("a pipe through a board is square to it and goes through once") {
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "through: [P2, P3]", "rests-on: [C1]", "reach: {left: 4, front: 4}"})) ==
        "f.yaml:20:19: board 'S': through: 'P3' runs right, expected a pipe square to the board, which faces up");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "notch: {P2: up, P3: front}", "rests-on: [C1]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:20:17: board 'S': notch: a slot opens toward an edge, expected left or right, or front or back, got "
        "'up'");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "through: [P2]", "notch: {P2: left}", "rests-on: [C1]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:21:13: board 'S': notch: 'P2' goes through the board already, expected it once in 'through' and "
        "'notch'");
}

// 3/4 pipe is 1.050 in or 26.7 mm outside (ASME B36.10M, secondary).
TEST_CASE("a hole is larger than its pipe") {
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "through: [P2]", "hole: 1", "rests-on: [C1]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:21:11: board 'S': hole: 25.4 mm is too small for 'P2', expected more than 26.7 mm, its outside "
        "diameter");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "through: [P2]", "hole: {P1: 2, P2: 1}", "rests-on: [C1]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:21:12: board 'S': hole: 'P1' does not go through the board, expected P2; did you mean 'P2'?\n"
        "f.yaml:21:19: board 'S': hole: 25.4 mm is too small for 'P2', expected more than 26.7 mm, its outside "
        "diameter");
  CHECK(
      complaint(with_board({"size: {x: 9, y: 9, z: 1}", "hole: 2", "rests-on: [C1]", "reach: {left: 4, front: 4}"})) ==
      "f.yaml:20:11: board 'S': hole: the board has no 'through' and no 'notch', expected one of them");
}

}  // namespace

#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"

namespace {

using namespace dryfit::test;

TEST_CASE("a board has known keys and three extents") {
  CHECK(complaint(with_board({"sizes: {x: 1}", "rest-on: [C1]"})) ==
        "f.yaml:19:5: board 'S': 'size' is missing: write it like {x: 30, y: 9-1/4, z: 3/4}\n"
        "f.yaml:19:5: board 'S': unknown key 'sizes', expected size, facing, through, notch, rests-on, height, reach, "
        "hole, at, fix, strap, stock or mass; did you mean 'size'?\n"
        "f.yaml:20:5: board 'S': unknown key 'rest-on', expected size, facing, through, notch, rests-on, height, "
        "reach, hole, at, fix, strap, stock or mass; did you mean 'rests-on'?");
  CHECK(complaint(with_board({"size: {x: 9, y: 0, q: 1}", "rests-on: [C1]", "reach: {left: 1, front: 1}"})) ==
        "f.yaml:19:11: board 'S': size: 'z' is missing, a board has x, y and z\n"
        "f.yaml:19:21: board 'S': size y: expected a length greater than zero, got '0'\n"
        "f.yaml:19:24: board 'S': unknown key 'q', expected x, y or z");
}

TEST_CASE("a board faces along its thickness") {
  CHECK(complaint(with_board({"size: {x: 9, y: 1, z: 9}", "rests-on: [C1]", "reach: {left: 1, front: 1}"})) ==
        "f.yaml:19:5: board 'S': facing: the board is thinnest along y, so it faces front or back, got nothing, which "
        "means up");
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 1, z: 9}", "facing: sideways", "rests-on: C1", "reach: {left: 1, front: 1}"})) ==
        "f.yaml:20:13: board 'S': facing: unknown direction 'sideways', expected right, left, back, front, up or down\n"
        "f.yaml:21:15: board 'S': rests-on: expected a list of names, got 'C1'; did you mean 'rests-on: [C1]'?");
}

TEST_CASE("reach gives two edges of the board's plane") {
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "through: [P2, P2]", "rests-on: [C1]", "reach: {left: 1, right: 2}"})) ==
        "f.yaml:20:19: board 'S': through: 'P2' is listed twice\n"
        "f.yaml:22:22: board 'S': reach: 'right' is a second distance along the same axis, expected the distances to "
        "two edges (left or right, and front or back)");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "reach: {left: 1, up: 2}"})) ==
        "f.yaml:21:22: board 'S': reach: 'up' is square to the board, expected the distances to two edges (left or "
        "right, and front or back)");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "height: 3", "reach: {left: 1, front: 2}"})) ==
        "f.yaml:21:12: board 'S': reach: there is no pipe ('through') and no carrier ('rests-on') to measure from; "
        "give 'at' instead");
}

TEST_CASE("height and carriers, reach and corner exclude each other") {
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "height: 3", "at: [1, 2]", "reach: {left: 4, front: 2}"})) ==
        "f.yaml:21:13: board 'S': height: the board has 'rests-on' as well; leave one of them out\n"
        "f.yaml:22:9: board 'S': at: the board has 'reach' as well; leave one of them out");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "at: [1, 2, 3]"})) ==
        "f.yaml:21:9: board 'S': at: expected two coordinates of the board's left front corner, got a list of 3");
}

TEST_CASE("what a board names exists and is of the right kind") {
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "through: [C1, floor, P9]", "rests-on: [P99, floor, S]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:20:15: board 'S': through: 'C1' is a coupling, expected a pipe\n"
        "f.yaml:20:19: board 'S': through: 'floor' is a surface, expected a pipe\n"
        "f.yaml:20:26: board 'S': through: nothing is called 'P9'; expected the name of a part, board or surface; did "
        "you mean 'P1'?\n"
        "f.yaml:21:16: board 'S': rests-on: nothing is called 'P99'; expected the name of a part, board or surface; "
        "did you mean 'P1'?\n"
        "f.yaml:21:21: board 'S': rests-on: 'floor' is a surface; to screw the board to it write 'fix', and 'height' "
        "for where it is\n"
        "f.yaml:21:28: board 'S': rests-on: 'S' is the board itself; expected a fitting, a pipe or another board");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "reach: {left: 4, front: 4}",
                              "fix: [wal, C1]", "strap: {C1: 2, P3: 0, P1: two, P2: 1001}", "stock: pin"})) ==
        "f.yaml:22:11: board 'S': fix: 'wal' is not a surface, expected floor or wall; did you mean 'wall'?\n"
        "f.yaml:22:16: board 'S': fix: 'C1' is not a surface, expected floor or wall\n"
        "f.yaml:23:13: board 'S': strap: 'C1' is a coupling, expected a pipe\n"
        "f.yaml:23:24: board 'S': strap: expected a whole number from 1 to 1000, got '0'\n"
        "f.yaml:23:31: board 'S': strap: expected a whole number from 1 to 1000, got 'two'\n"
        "f.yaml:23:40: board 'S': strap: expected a whole number from 1 to 1000, got '1001'\n"
        "f.yaml:24:12: board 'S': unknown stock 'pin', expected ash, beech, birch, birch-plywood, cherry, douglas-fir, "
        "hardboard, maple, mdf, oak, osb, particleboard, pine, plywood, poplar, spruce or walnut; for any other give "
        "'mass' in its place; did you mean 'pine'?");
}

TEST_CASE("a pipe through a board is square to it and goes through once") {
  CHECK(complaint(with_board(
            {"size: {x: 9, y: 9, z: 1}", "through: [P2, P3]", "rests-on: [C1]", "reach: {left: 4, front: 4}"})) ==
        "f.yaml:20:19: board 'S': through: 'P3' runs right, but only a pipe square to the board, which faces up, goes "
        "through it");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "notch: {P2: up, P3: front}", "rests-on: [C1]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:20:17: board 'S': notch: a slot opens toward an edge, expected left or right, or front or back, got "
        "'up'");
  CHECK(
      complaint(with_board({"size: {x: 9, y: 9, z: 1}", "through: [P2]", "notch: {P2: left}", "rests-on: [C1]",
                            "reach: {left: 4, front: 4}"})) ==
      "f.yaml:21:13: board 'S': notch: 'P2' goes through the board already: name it once, in 'through' or in 'notch'");
}

// 3/4 pipe is 1.050 in or 26.7 mm outside (ASME B36.10M, secondary).
TEST_CASE("a hole is larger than its pipe") {
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "through: [P2]", "hole: 1", "rests-on: [C1]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:21:11: board 'S': hole: 1 in is too small for 'P2', which is 1-1/16 in outside");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "through: [P2]", "hole: {P1: 2, P2: 1}", "rests-on: [C1]",
                              "reach: {left: 4, front: 4}"})) ==
        "f.yaml:21:12: board 'S': hole: 'P1' does not go through the board, expected P2; did you mean 'P2'?\n"
        "f.yaml:21:19: board 'S': hole: 1 in is too small for 'P2', which is 1-1/16 in outside");
  CHECK(
      complaint(with_board({"size: {x: 9, y: 9, z: 1}", "hole: 2", "rests-on: [C1]", "reach: {left: 4, front: 4}"})) ==
      "f.yaml:20:11: board 'S': hole: the board has no 'through' and no 'notch', so there is nothing to drill for");
}

TEST_CASE("what was meant by a board's lines is said") {
  CHECK(
      complaint(with_board({"size: [9, 9, 1]", "screw: wall", "on: [C1]", "reach: {left: 1, front: 1}"})) ==
      "f.yaml:19:11: board 'S': size: write it like {x: 30, y: 9-1/4, z: 3/4}, got a list; did you mean {x: 9, y: 9, "
      "z: 1}?\n"
      "f.yaml:20:5: board 'S': unknown key 'screw', expected size, facing, through, notch, rests-on, height, reach, "
      "hole, at, fix, strap, stock or mass; did you mean 'fix'? A flange is screwed to the board by 'to: BOARD.down' in "
      "its run\n"
      "f.yaml:21:5: board 'S': unknown key 'on', expected size, facing, through, notch, rests-on, height, reach, "
      "hole, at, fix, strap, stock or mass; did you mean 'rests-on'?");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: C1", "fix: wall", "strap: [P3]", "notch: P2",
                              "reach: {left: 1, front: 1}"})) ==
        "f.yaml:20:15: board 'S': rests-on: expected a list of names, got 'C1'; did you mean 'rests-on: [C1]'?\n"
        "f.yaml:21:10: board 'S': fix: expected a list of names, got 'wall'; did you mean 'fix: [wall]'?\n"
        "f.yaml:22:12: board 'S': strap: write it like {P4: 2}, got a list; did you mean 'strap: {P3: 1}'?\n"
        "f.yaml:23:12: board 'S': notch: write it like {P6: front}, got 'P2'; did you mean 'notch: {P2: front}'?");
  CHECK(complaint(with_board({"size: {x: 9,5, y: 9, z: 1}", "height: 3", "at: [1, 2,5, 3]"})) ==
        "f.yaml:19:15: board 'S': x: '9,5': decimal comma: write 9.5\n"
        "f.yaml:21:9: board 'S': at: expected two coordinates of the board's left front corner, got a list of 4");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [C1]", "reach: {left: 2,5, front: 1}"})) ==
        "f.yaml:21:19: board 'S': left: '2,5': decimal comma: write 2.5");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "height: 3", "at: [1, 2,5]"})) ==
        "f.yaml:21:9: board 'S': at: expected two coordinates of the board's left front corner, got a list of 3; "
        "decimal comma: write [1, 2.5]");
  CHECK(complaint(with_board({"size: {x: 9, y: 9, z: 1}", "rests-on: [floor]", "at: {x: 1, y: 2}", "mass: 1 stone"})) ==
        "f.yaml:20:16: board 'S': rests-on: 'floor' is a surface; to screw the board to it write 'fix', and 'height' "
        "for where it is\n"
        "f.yaml:21:9: board 'S': at: expected two coordinates of the board's left front corner, got a map; did you "
        "mean 'at: [1, 2]'?\n"
        "f.yaml:22:11: board 'S': mass: expected a weight such as 0.9 lb, 14 oz, 400 g or 0.4 kg, got '1 stone'");
}

}  // namespace

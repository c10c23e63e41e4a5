#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"

namespace {

using namespace dryfit::test;

TEST_CASE("every mistake of the head is told in one go") {
  CHECK(complaint("dryfit: 2\n"
                  "name: []\n"
                  "units: inch\n"
                  "make-up: wrenched\n"
                  "pipe: 3/4\n"
                  "runz: {}\n") ==
        "f.yaml:1:1: frame: 'runs' is missing: a frame has at least one run of parts\n"
        "f.yaml:1:9: frame: dryfit: expected 1, the format's number, got '2'\n"
        "f.yaml:2:7: frame: name: expected a text, got a list\n"
        "f.yaml:3:8: frame: unknown units 'inch', expected in, mm or cm; did you mean 'in'?\n"
        "f.yaml:4:10: frame: unknown make-up 'wrenched', expected hand or wrench; did you mean 'wrench'?\n"
        "f.yaml:5:7: pipe: write it like {standard: npt, size: 3/4}, got '3/4'\n"
        "f.yaml:6:1: frame: unknown key 'runz', expected dryfit, name, units, pipe, make-up, driver, surfaces, runs, "
        "boards or clips; did you mean 'runs'?");
  CHECK(complaint("name: x\n") ==
        "f.yaml:1:1: frame: 'dryfit: 1' is missing: the number of the format comes first\n"
        "f.yaml:1:1: frame: 'pipe' is missing: write it like 'pipe: {standard: npt, size: 3/4}'\n"
        "f.yaml:1:1: frame: 'runs' is missing: a frame has at least one run of parts");
  CHECK(complaint("dryfit: 1\n"
                  "pipe: {standart: npt, size: 5/8}\n"
                  "runs: {}\n") ==
        "f.yaml:2:7: pipe: 'standard' is missing, expected npt or iso7\n"
        "f.yaml:2:8: pipe: unknown key 'standart', expected standard or size; did you mean 'standard'?\n"
        "f.yaml:2:29: pipe: size: expected a nominal pipe size (1/8, 1/4, 3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2, 2, 2-1/2, 3 "
        "or 4), got '5/8'\n"
        "f.yaml:3:7: runs: expected runs, each under its name and with its parts, got an empty map");
  CHECK(complaint("dryfit: 1\n"
                  "pipe: {standard: npt}\n"
                  "runs: [a]\n") ==
        "f.yaml:3:7: runs: expected runs, each under its name and with its parts, got a list");
  CHECK(complaint("dryfit: 1\n"
                  "pipe: {standard: npt}\n"
                  "runs:\n"
                  "  a:\n"
                  "    go: up\n"
                  "    parts:\n"
                  "      - P: {pipe: 3}\n") ==
        "f.yaml:7:9: part 'P': has no size: give 'size' here, or once for all parts in 'pipe' at the top");
}

TEST_CASE("a surface has an axis to face along and a coordinate") {
  CHECK(complaint("dryfit: 1\n"
                  "pipe: {standard: npt, size: 3/4}\n"
                  "surfaces:\n"
                  "  floor: {normal: upp, at: 0}\n"
                  "  wall: {at: x}\n"
                  "  no: {normal: up, at: 0}\n"
                  "  c: 3\n"
                  "  d: {normal: up-right, at: 1}\n"
                  "runs: {post: {go: up, parts: [P: {pipe: 6}]}}\n") ==
        "f.yaml:4:19: surface 'floor': normal: unknown direction 'upp', expected right, left, back, front, up or down; "
        "did you mean 'up'?\n"
        "f.yaml:5:9: surface 'wall': 'normal' is missing: which way does the surface face? (a floor: up)\n"
        "f.yaml:5:14: surface 'wall': at: 'x': this is not a length, write it like 4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm "
        "or 11 cm\n"
        "f.yaml:6:3: surface 'no': 'no' can't be a name: YAML reads it as false; try 'no1'\n"
        "f.yaml:7:6: surface 'c': write it like {normal: up, at: 0}, got '3'\n"
        "f.yaml:8:15: surface 'd': normal: unknown direction 'up-right', expected right, left, back, front, up or "
        "down; did you mean 'right'?");
}

TEST_CASE("boards and clips are maps") {
  CHECK(complaint(kHead + "runs: {a: {go: up, parts: [P: {pipe: 3}]}}\n"
                          "boards: [S]\n"
                          "clips: 3\n"
                          "surfaces2: 1\n") ==
        "f.yaml:6:9: boards: expected boards, each under its name, got a list\n"
        "f.yaml:7:8: clips: write it like {P4: wall}, got '3'\n"
        "f.yaml:8:1: frame: unknown key 'surfaces2', expected dryfit, name, units, pipe, make-up, driver, surfaces, "
        "runs, boards or clips; did you mean 'surfaces'?");
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
                          "boards:\n"
                          "  S:\n"
                          "    size: {x: 9, y: 9, z: 1}\n"
                          "    rests-on: [C1]\n"
                          "    reach: {left: 4, front: 4}\n"
                          "clips: {P3: wally, C1: wall, P2: [wall]}\n") ==
        "f.yaml:22:13: clips: 'wally' is not a surface, expected floor or wall; did you mean 'wall'?\n"
        "f.yaml:22:20: clips: 'C1' is a coupling, expected a pipe\n"
        "f.yaml:22:34: clips: 'P2': expected the name of a surface, got a list");
}

}  // namespace

#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"

namespace {

using namespace dryfit::test;

TEST_CASE("a fitting turns the way its kind can") {
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "T1: {tee: up}"})) ==
        "f.yaml:12:9: part 'T1': the tee is entered going up, so its branch must point right, left, back or front, got "
        "'up'");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "E1: {elbow: up-right}"})) ==
        "f.yaml:12:9: part 'E1': the elbow is entered going up, so it must leave right, left, back or front, got "
        "'up-right'");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "E1: {elbow45: right}"})) ==
        "f.yaml:12:9: part 'E1': the elbow45 is entered going up, so it must leave up-right, up-left, up-back or "
        "up-front, got 'right'");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "E1: {elbow: right-up}"})) ==
        "f.yaml:12:21: part 'E1': new walking direction: unknown direction 'right-up', expected right, left, back, "
        "front, up or down, or two of them such as up-right; did you mean 'up-right'?");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "X: {cross: , plane: xy}"})) ==
        "f.yaml:12:9: part 'X': plane: the cross is entered going up, along z, which 'xy' leaves out");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "X: {cross: , plane: zx}"})) ==
        "f.yaml:12:29: part 'X': unknown plane 'zx', expected yz, xz or xy; did you mean 'xz'?");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "X: {side-elbow: right, side: left}"})) ==
        "f.yaml:12:9: part 'X': the side-elbow is entered going up, so its side outlet must point back or front, got "
        "'left'");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "X: {side-tee: right}"})) ==
        "f.yaml:12:12: part 'X': 'side' is missing: where does the side outlet point?");
}

TEST_CASE("pipe ends and ports alternate, with the same thread") {
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "P2: {pipe: 6}"})) ==
        "f.yaml:12:9: part 'P2': P1.end to P2.start joins two pipe ends: a fitting is missing between them");
  CHECK(complaint(post({"F: flange", "C: coupling"})) ==
        "f.yaml:11:9: part 'C': F.up to C.down joins two fittings: a pipe or nipple is missing between them");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6, size: 1/2}"})) ==
        "f.yaml:11:9: part 'P1': F.up to P1.start joins size 3/4 to size 1/2: a bushing or a reducing fitting is "
        "missing");
  // A tee with a smaller branch is on the shelf of every shop; a bushing is a part more.
  CHECK(
      complaint(post({"F: flange", "P1: {pipe: 6}", "T: {tee: right, entry: branch, size: 1/2}"})) ==
      "f.yaml:12:9: part 'T': P1.end to T.down joins size 3/4 to size 1/2: give T 'branch-size: 3/4', or put a bushing "
      "in between");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6, plain: end}", "C: coupling"})) ==
        "f.yaml:12:9: part 'C': P1.end is plain: only a threaded end goes into C.down");
}

TEST_CASE("nothing follows what closes a run") {
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "K: cap", "P2: {pipe: 3}"})) ==
        "f.yaml:13:9: part 'P2': nothing can follow the cap 'K': it is the last of its run");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "T: {tee: right, entry: branch}", "P2: {pipe: 3}"})) ==
        "f.yaml:13:9: part 'P2': nothing can follow the tee entered at its branch 'T': it is the last of its run");
}

TEST_CASE("a bushing is smaller inside than outside") {
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "C: coupling", "B: {bushing: 1}"})) ==
        "f.yaml:13:9: part 'B': inner size: expected less than its outer size 3/4, got '1'");
}

TEST_CASE("threads fit into pipes and ports") {
  // Two of L1 are 2 x 0.339 in = 17.2 mm; 30 turns of 14 to the inch are 54.4 mm; a tee of 3/4 is 1.31 in or 33.3 mm
  // from centre to end (from memory).
  CHECK(complaint(post({"F: flange", "P1: {pipe: 1/2}", "C: coupling"})) ==
        "f.yaml:11:9: part 'P1': is 1/2 in long; the threads screwed into fittings need at least 11/16 in");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6, turns: {end: 30}}", "T: {tee: left}"})) ==
        "f.yaml:12:9: part 'T': 'P1' is screwed in by 2-5/32 in, but T.down is only 1-5/16 in deep");
}

TEST_CASE("a size that no table has is told, with the measure that would do") {
  CHECK(complaint(post({"F: {flange: , size: 1/8}"})) ==
        "f.yaml:10:9: part 'F': no table gives the height of a 1/8 flange (npt): measure yours and give 'measured: "
        "{height: LENGTH}'");
}

TEST_CASE("a walking direction that goes round in a ring is told") {
  CHECK(complaint(kHead + "runs:\n"
                          "  a:\n"
                          "    from: P2.end\n"
                          "    parts:\n"
                          "      - C1: coupling\n"
                          "      - P1: {pipe: 3}\n"
                          "  b:\n"
                          "    from: P1.end\n"
                          "    parts:\n"
                          "      - C2: coupling\n"
                          "      - P2: {pipe: 3}\n"
                          "  c:\n"
                          "    from: P3.end\n"
                          "    parts:\n"
                          "      - C3: coupling\n"
                          "      - P3: {pipe: 3}\n") ==
        "f.yaml:12:11: run 'b': from: where 'P1.end' points follows from this run itself; start one of the two "
        "elsewhere\n"
        "f.yaml:17:11: run 'c': from: where 'P3.end' points follows from this run itself; start one of the two "
        "elsewhere");
}

}  // namespace

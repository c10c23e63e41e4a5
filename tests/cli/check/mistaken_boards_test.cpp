/// What check says of boards that are drawn as beginners draw them: over a fitting that stands higher than the pipe
/// beside it, into a flange, short of their wall. And how large it says that a frame is.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "tests/support/frames/frame_text.hpp"
#include "tests/support/program/program.hpp"

namespace {

using dryfit::test::kHead;
using dryfit::tests::run;

/// On one line, however the terminal's lines are broken.
std::string checked(const std::string& text) {
  std::string out;
  for (const char c : run({"check", "-"}, text).out) {
    const bool blank = c == '\n' || c == ' ';
    if (!blank || out.empty() || out.back() != ' ') out += blank ? ' ' : c;
  }
  return out;
}

bool says(const std::string& text, const char* words) { return text.find(words) != std::string::npos; }

/// A post with an arm to the right, and a board that lies on the arm.
std::string arm(const char* board) {
  return kHead +
         "  wall: {normal: front, at: 6}\n"
         "runs: {post: {from: floor, at: [0, 0], parts: [F: flange, P1: {pipe: 6}, E: {elbow: right}, P2: {pipe: 20}, "
         "K: cap]}}\n"
         "boards: {S: {rests-on: [P2], " +
         board + "}}\n";
}

// The collar of an elbow is wider than its pipe (ASME B16.3: the band), so a board over both lies on the collar.
TEST_CASE("a board over an elbow lies on the elbow, and check says what to write") {
  const std::string over = checked(arm("size: {x: 20, y: 6, z: 3/4}, reach: {left: 11, front: 3}"));
  CHECK(says(over, "S can't lie on P2: E is under it too and stands 13/64 in higher."));
  CHECK(says(over, "Keep S clear of E: move it or make it smaller."));
  const std::string both = checked(arm("size: {x: 26, y: 6, z: 3/4}, reach: {left: 13, front: 3}"));
  CHECK(says(both, "S can't lie on P2: E and K are under it too and stand up to "));
  CHECK(says(both, "Write `rests-on: [E, K]`, or keep S clear of them. Its `reach` then counts from the middle of E."));
  const std::string clear = checked(arm("size: {x: 12, y: 6, z: 3/4}, reach: {left: 6, front: 3}"));
  CHECK_FALSE(says(clear, "can't lie on"));
}

// A cure that cannot be taken is none: the elbows' middles are not under the board, or it would rock on two tees in
// line.
TEST_CASE("check tells no board to lie on what is not under it, nor on a line") {
  const std::string frame =
      kHead +
      "runs:\n"
      "  a: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 8}, T1: {tee: back}, P2: {pipe: 14}, E1: {elbow: back}, "
      "P3: {pipe: 10}, E2: {elbow: down}, P4: {pipe: 14}, T2: {tee: front}, P5: {pipe: 8}, F2: flange], to: floor}\n"
      "  b: {from: floor, at: [33, 0], parts: [F3: flange, P9: {pipe: 8}, T3: {tee: back}, P10: {pipe: 14}, E3: {elbow: "
      "back}, P11: {pipe: 10}, E4: {elbow: down}, P12: {pipe: 14}, T4: {tee: front}, P13: {pipe: 8}, F4: flange], to: floor}\n"
      "boards: {";
  const std::string narrow =
      checked(frame + "TOP: {rests-on: [P3, P11], size: {x: 36, y: 10, z: 3/4}, reach: {left: 3, front: 5}}}\n");
  CHECK(says(narrow, "TOP can't lie on P3 and P11: E1, E2, E3 and E4 are under it too"));
  CHECK(says(narrow, "Keep TOP clear of them: move it or make it smaller."));
  const std::string wide =
      checked(frame + "TOP: {rests-on: [P3, P11], size: {x: 36, y: 14, z: 3/4}, reach: {left: 3, front: 7}}}\n");
  CHECK(says(wide, "Write `rests-on: [E1, E2, E3, E4]`, or keep TOP clear of them."));
  const std::string front =
      checked(frame + "TOP: {rests-on: [P3, P11], size: {x: 36, y: 8, z: 3/4}, reach: {left: 3, front: 7}}}\n");
  CHECK(says(front, "E1 and E3 are under it too"));
  CHECK_FALSE(says(front, "Write `rests-on"));
}

TEST_CASE("what goes through a surface is said to be above a ceiling and under a floor") {
  const std::string head = "dryfit: 1\nunits: in\npipe: {standard: npt, size: 3/4}\n";
  const std::string high = checked(head +
                                   "surfaces: {floor: {normal: up, at: 0}, ceiling: {normal: down, at: 20}}\n"
                                   "runs: {p: {from: floor, at: [0, 0], parts: [F: flange, P: {pipe: 24}, K: cap]}}\n");
  CHECK(says(high, " above the ceiling."));
  CHECK_FALSE(says(high, "behind the ceiling"));
  const std::string low = checked(head +
                                  "surfaces: {wall: {normal: front, at: 0}, floor: {normal: up, at: 0}}\n"
                                  "runs: {p: {from: wall, at: [0, 20], parts: [F: flange, N1: {pipe: 6}, E: {elbow: "
                                  "down}, P: {pipe: 24}, K: cap]}}\n");
  CHECK(says(low, " under the floor."));
}

// What is in one place with something else gets no order: there is no rest of the answer that could hold later.
TEST_CASE("a frame that overlaps and is open is not told that the rest of the answer holds") {
  const std::string told = checked(
      "dryfit: 1\nunits: in\npipe: {standard: npt, size: 3/4}\n"
      "surfaces: {floor: {normal: up, at: 0}, ceiling: {normal: down, at: 40}}\n"
      "runs: {p: {from: floor, at: [0, 0], parts: [F: flange, P: {pipe: 24}, T: {tee: right}, Q: {pipe: 6}, G: flange], "
      "to: ceiling}, q: {from: floor, at: [3, 0], parts: [A: flange, B: {pipe: 6}, K: cap]}}\n");
  CHECK(says(told, "DOES NOT FIT"));
  CHECK(says(told, "The frame doesn't line up either"));
  CHECK_FALSE(says(told, "The rest of this answer holds"));
}

TEST_CASE("a board that runs into the flanges of its brackets is to be smaller there, not higher") {
  const std::string text =
      "dryfit: 1\n"
      "pipe: {standard: npt, size: 1/2}\n"
      "surfaces: {wall: {normal: front, at: 0}}\n"
      "runs:\n"
      "  a: {from: wall, at: [0, 60], parts: [FL: flange, P1: {pipe: 10}]}\n"
      "  b: {from: wall, at: [24, 60], parts: [FR: flange, P2: {pipe: 10}]}\n"
      "boards: {S: {rests-on: [P1, P2], size: {x: 32, y: 9-1/2, z: 3/4}, reach: {left: 4, front: 4-1/2}}}\n";
  const std::string told = checked(text);
  // The flanges can't go back into the wall.
  CHECK(says(told, "FL and FR, on the wall, are in the same place as S, and nothing joins them. Move S forward by "));
  CHECK(says(told, " Or make S smaller there."));
}

TEST_CASE("a pipe that is too short for the board it goes through is told to be longer") {
  const auto shelf = [&](const std::string& right) {
    return checked(
        kHead +
        "runs:\n"
        "  a: {from: floor, at: [0, 0], parts: [F1: foot, A1: {pipe: 6}, C1: coupling, A2: {pipe: 1-1/4}, C3: "
        "coupling]}\n"
        "  b: {from: floor, at: [20, 0], parts: [F2: foot, B1: {pipe: 6}, C2: coupling, B2: {pipe: " +
        right +
        "}, C4: coupling]}\n"
        "boards: {S: {size: {x: 24, y: 6, z: 3/4}, through: [A2, B2], rests-on: [C1, C2], reach: {left: 2, "
        "front: 3}}}\n");
  };
  const std::string both = shelf("1-1/4");
  CHECK(says(both, "C3 and C4 reach up to "));
  CHECK(says(both, " into S: A2 and B2, which go through it, are too short. Make them at least that much longer."));
  CHECK_FALSE(says(both, "nothing joins them"));
  const std::string one = shelf("3");
  CHECK(says(one, "C3 reaches "));
  CHECK(says(one, " into S: A2, which goes through it, is too short. Make it at least that much longer."));
}

TEST_CASE("a board without holes over posts is told to be drilled for them") {
  const std::string posts =
      kHead +
      "runs:\n"
      "  a: {from: floor, at: [0, 0], parts: [F1: foot, A1: {pipe: 6}, C1: coupling, A2: {pipe: 6}]}\n"
      "  b: {from: floor, at: [20, 0], parts: [F2: foot, B1: {pipe: 6}, C2: coupling, B2: {pipe: 6}]}\n"
      "boards: {S: {size: {x: 24, y: 6, z: 3/4}, rests-on: [C1, C2], ";
  CHECK(says(checked(posts + "reach: {left: 2, front: 3}}}\n"),
             "A2 and B2 would go through S, which has no holes for them. Name them in the board's `through`, or keep S "
             "clear of them."));
  CHECK(says(
      checked(posts + "through: [A2], reach: {left: 2, front: 3}}}\n"),
      "B2 would go through S, which has no hole for it. Name it in the board's `through`, or keep S clear of it."));
  CHECK(says(checked(posts + "through: [A2, B2], reach: {left: 2, front: 3}}}\n"), "it can be built"));
}

TEST_CASE("a board that does not reach its wall is told so, and what else can hold it") {
  // The board's back edge is 3 in behind the arm's middle, the wall 6 in.
  const std::string told = checked(arm("size: {x: 12, y: 6, z: 3/4}, reach: {left: 6, front: 3}, fix: [wall]"));
  CHECK(says(told, "S is OFF by 3 in: it stops short of the wall, so it can't be screwed to it."));
  const std::string touches = checked(arm("size: {x: 12, y: 9, z: 3/4}, reach: {left: 6, back: 6}, fix: [wall]"));
  CHECK_FALSE(says(touches, "OFF by"));
}

TEST_CASE("a frame whose second post has no place is told that first") {
  const std::string told = checked(kHead +
                                   "runs:\n"
                                   "  a: {from: floor, at: [0, 0], parts: [S1: foot, P1: {pipe: 6}]}\n"
                                   "  b: {from: floor, parts: [S2: foot, P2: {pipe: 6}]}\n");
  const std::size_t note = told.find("Nothing says where the run 'b' stands");
  const std::size_t overlap = told.find("are in the same place");
  REQUIRE(note != std::string::npos);
  REQUIRE(overlap != std::string::npos);
  CHECK(note < overlap);
  CHECK(told.find("Nothing says where the run 'b' stands", note + 1) == std::string::npos);
}

// A bare pipe is as long as it is and 1.050 in across (ASME B36.10M, 3/4); the board's upper face is 3/4 in above it.
TEST_CASE("check says how large the frame is and how high its boards lie") {
  const std::string pipe = kHead + "runs: {a: {from: floor, at: [0, 0], parts: [P1: {pipe: 12}]}}\n";
  CHECK(says(checked(pipe), "1-1/16 in wide, 1-1/16 in deep and 12 in high."));
  const std::string shelf =
      pipe + "boards: {S: {rests-on: [P1], size: {x: 10, y: 8, z: 3/4}, reach: {left: 5, front: 4}}}\n";
  CHECK(says(checked(shelf), "10 in wide, 8 in deep and 12-3/4 in high. Board tops: S at 12-3/4 in."));
  const auto json = nlohmann::json::parse(run({"check", "-", "--json"}, shelf).out);
  CHECK(json["over_all_mm"] == nlohmann::json({254.0, 203.2, 323.85}));
  std::string raised = shelf;
  raised.replace(raised.find("at: 0}"), 6, "at: 4}");
  CHECK(says(checked(raised), "Board tops: S at 12-3/4 in."));  // above the floor, wherever that is
}

}  // namespace

/// What `dryfit order` and `dryfit check` say to hands: what has to be held, what can be measured, what is in the way.
#include <doctest/doctest.h>

#include <string>

#include "tests/support/program/one_line.hpp"
#include "tests/support/program/program.hpp"

namespace {

using dryfit::tests::on_one_line;
using dryfit::tests::run;
using dryfit::tests::ScratchFolder;

std::string answer(const std::string& command, const std::string& body, const std::string& option = "--people=2") {
  const ScratchFolder folder;
  const std::string frame =
      folder.file("frame.yaml", "dryfit: 1\nname: Frame\nunits: in\npipe: {standard: npt, size: 3/4}\n" + body);
  return on_one_line((command == "order" ? run({command, frame, option}) : run({command, frame})).out);
}

std::size_t count(const std::string& text, const std::string& words) {
  std::size_t n = 0;
  for (std::size_t at = text.find(words); at != std::string::npos; at = text.find(words, at + 1)) ++n;
  return n;
}

/// Two posts hang from a ceiling or stand on the floor, and a shelf is drilled for both.
std::string two_posts(const std::string& surface) {
  return "surfaces: {floor: {normal: up, at: 0}, ceiling: {normal: down, at: 96}}\n"
         "runs:\n"
         "  a: {from: " +
         surface +
         ", at: [0, 0], parts: [FA: flange, P1: {pipe: 30}, C1: cap]}\n"
         "  b: {from: " +
         surface + ", at: [24, 0], parts: [FB: flange, P2: {pipe: 30}, C2: cap]}\n";
}

const std::string kHangs =
    "boards:\n  S: {through: [P1, P2], rests-on: [C1, C2], size: {x: 30, y: 8, z: 3/4}, "
    "reach: {left: 3, front: 4}}\n";

TEST_CASE("what hangs from the ceiling is held up until its first screws are in") {
  const std::string text = answer("order", two_posts("ceiling") + kHangs);
  CHECK(count(text, "Hold it in place until the screws are in.") == 1);
  // Two posts on the floor stand by themselves.
  CHECK(count(answer("order", two_posts("floor")), "Hold it in place until the screws are in.") == 0);
}

TEST_CASE("there is nothing to measure between posts that stand by themselves") {
  const std::string text = answer("order", two_posts("ceiling") + kHangs);
  CHECK(count(text, "Measure from post to post") == 0);
  CHECK(count(text, "Drill: S.") == 1);
  const std::string railed =
      answer("order",
             "surfaces: {floor: {normal: up, at: 0}}\n"
             "runs:\n"
             "  a: {from: floor, at: [0, 0], parts: [FA: flange, A: {pipe: 6}, T: {tee: right}, P1: {pipe: 12}]}\n"
             "  r: {from: T.right, parts: [R: {pipe: 18}], to: U.left}\n"
             "  b: {from: floor, parts: [FB: flange, B: {pipe: 6}, U: {tee: left}, P2: {pipe: 12}]}\n"
             "boards: {S: {through: [P1, P2], rests-on: [T, U], size: {x: 30, y: 8, z: 3/4}, "
             "reach: {left: 3, front: 4}}}\n");
  CHECK(count(railed, "Measure from post to post, then drill S") == 1);
}

TEST_CASE("the way in between two walls is told for each rail by its own flanges, before it is screwed on") {
  const std::string text = answer("order",
                                  "surfaces: {floor: {normal: up, at: 0}, lw: {normal: right, at: 0}, "
                                  "rw: {normal: left, at: 24.8125}}\n"
                                  "runs:\n"
                                  "  a: {from: lw, at: [-6, 30], parts: [FA: flange, P1: {pipe: 24}, "
                                  "FB: flange], to: rw}\n"
                                  "  b: {from: lw, at: [-18, 30], parts: [FC: flange, P2: {pipe: 24}, "
                                  "FD: flange], to: rw}\n");
  CHECK(count(text, "To get it in between lw and rw") == 2);
  CHECK(count(text, "FA 3 turns and FB 3 turns") == 1);
  CHECK(count(text, "FC 3 turns and FD 3 turns") == 1);
  // Brackets on two walls that nothing but a board joins later have nothing to get in between.
  const std::string brackets =
      answer("order",
             "surfaces: {floor: {normal: up, at: 0}, lw: {normal: right, at: 0}, rw: {normal: left, at: 30}}\n"
             "runs:\n"
             "  a: {from: lw, at: [-6, 30], parts: [FA: flange, P1: {pipe: 6}, K1: cap]}\n"
             "  b: {from: rw, at: [-6, 30], parts: [FB: flange, P2: {pipe: 6}, K2: cap]}\n"
             "boards: {S: {rests-on: [P1, P2], size: {x: 29, y: 4, z: 3/4}, at: [0.5, -8]}}\n");
  CHECK(count(brackets, "To get it in between") == 0);
}

TEST_CASE("a shelf that lies on pipes through two boards lies on nothing loose") {
  const std::string pipes =
      "surfaces: {floor: {normal: up, at: 0}}\n"
      "runs:\n"
      "  a: {at: [0, 0, 12], go: right, parts: [K1: cap, P1: {pipe: 36}, K2: cap]}\n"
      "  b: {at: [0, 8, 12], go: right, parts: [K3: cap, P2: {pipe: 36}, K4: cap]}\n";
  const std::string shelf = "  S: {rests-on: [P1, P2], size: {x: 26, y: 11, z: 3/4}, at: [5-1/2, -1-1/2]}\n";
  const std::string sides =
      "  L: {facing: right, through: [P1, P2], size: {x: 3/4, y: 12, z: 18}, at: [-2, 0], height: 4}\n"
      "  R: {facing: right, through: [P1, P2], size: {x: 3/4, y: 12, z: 18}, at: [-2, 0], height: 32}\n";
  CHECK(count(answer("order", pipes + "boards:\n" + sides + shelf), "What it rests on is loose.") == 0);
  const std::string loose = answer("order", pipes + "boards:\n" + shelf);
  CHECK(count(loose, "What it rests on is loose. Chock it, so that it can't roll or fall.") == 1);
}

TEST_CASE("a hook's flange is held against a shelf that lies already") {
  const std::string text =
      answer("order",
             "surfaces: {floor: {normal: up, at: 0}, wall: {normal: front, at: 0}}\n"
             "runs:\n"
             "  a: {from: wall, at: [0, 40], parts: [FA: flange, P1: {pipe: 10}, K1: cap]}\n"
             "  b: {from: wall, at: [30, 40], parts: [FB: flange, P2: {pipe: 10}, K2: cap]}\n"
             "  h: {from: S.down, at: [20, 4], parts: [FH: flange, H: {pipe: 4}, EH: {elbow: front}]}\n"
             "boards: {S: {rests-on: [P1, P2], size: {x: 40, y: 7-1/4, z: 3/4}, reach: {left: 5, front: 3-5/8}, "
             "strap: {P1: 1, P2: 1}}}\n");
  const bool later = count(text, "Lay S on P1 and P2.") == 1;
  REQUIRE(later);
  CHECK(count(text, "Hold flange FH against S, then screw flange FH to S.") == 1);
}

TEST_CASE("the screws of feet come before a heavy board, and that is the reason told") {
  std::string frame = "surfaces: {floor: {normal: up, at: 0}}\nruns:\n";
  const char* places[] = {"0, 0", "50, 0", "0, 24", "50, 24"};
  for (int i = 0; i < 4; ++i) {
    const std::string n = std::to_string(i);
    frame += "  r" + n + ": {from: floor, at: [" + places[i] + "], parts: [F" + n + ": flange, P" + n +
             ": {pipe: 30}, C" + n + ": coupling, Q" + n + ": {pipe: 6}, K" + n + ": cap]}\n";
  }
  frame +=
      "boards: {S: {through: [Q0, Q1, Q2, Q3], rests-on: [C0, C1, C2, C3], size: {x: 60, y: 32, z: 2}, "
      "reach: {left: 5, front: 4}, stock: oak}}\n";
  const std::string text = answer("order", frame, "--explain");
  CHECK(count(text, "Why now: S takes more than one person to lift. It goes on after this") == 4);
}

TEST_CASE("the collar of a tee goes into a wide hole, its outlet does not") {
  const std::string text =
      answer("check",
             "surfaces: {floor: {normal: up, at: 0}}\n"
             "runs:\n"
             "  a: {from: floor, at: [0, 0], parts: [FA: flange, A: {pipe: 12}, T: {tee: right}, P1: {pipe: 12}]}\n"
             "  r: {from: T.right, parts: [R: {pipe: 24}], to: U.left}\n"
             "  b: {from: floor, parts: [FB: flange, B: {pipe: 12}, U: {tee: left}, P2: {pipe: 12}]}\n"
             "boards: {S: {through: [P1, P2], rests-on: [T, U], hole: 1-1/2, size: {x: 30, y: 8, z: 3/4}, "
             "reach: {left: 2, front: 4}}}\n");
  // 1.31 in from the middle to the face, 1.458 in across the outlet: 1.31 - 0.729 = 0.581.
  CHECK(count(text, "the collar of T goes into the hole: the board drops by 19/32 in") == 1);
  CHECK(count(text, "carries nothing") == 0);
}

TEST_CASE("no pipe is told that is too short for two threads") {
  const std::string text =
      answer("check",
             "surfaces: {floor: {normal: up, at: 0}, wall: {normal: front, at: 0}}\n"
             "runs: {r: {from: wall, at: [0, 36], parts: [FA: flange, E1: {street-elbow: right, reverse: true}, "
             "R1: {pipe: 36}, E2: {elbow: back}, P2: {pipe: 2}, FB: flange], to: wall}}\n");
  CHECK(count(text, "DOES NOT FIT") == 1);
  CHECK(count(text, "Probably wrong: P2") == 0);  // 29/32 in; a close nipple has 1-3/8 in
}

TEST_CASE("a pipe that only a board holds is kept there while the work is turned") {
  const ScratchFolder folder;
  const std::string text = on_one_line(run({"order", dryfit::tests::scenario("window-pole")}).out);
  const bool passed_first = text.find("Only a board holds P2") != std::string::npos;
  CHECK(passed_first);
}

TEST_CASE("a table is built upside down, its top laid down first") {
  std::string runs = "surfaces: {floor: {normal: up, at: 0}}\nruns:\n";
  for (const std::string leg : {"1", "2", "3", "4"}) {
    const std::string place = leg == "1" ? "0, 0" : leg == "2" ? "54, 0" : leg == "3" ? "0, 26" : "54, 26";
    runs += "  leg " + leg + ": {from: floor, at: [" + place + "], parts: [W" + leg + ": foot, P" + leg +
            ": {pipe: 28}, F" + leg + ": flange], to: TOP.down}\n";
  }
  const std::string text =
      answer("order", runs + "boards: {TOP: {at: [-3, -3], size: {x: 60, y: 32, z: 1-1/2}, stock: oak}}\n");
  CHECK(count(text, "Build this upside down.") == 1);
  CHECK(count(text, "Lay TOP down and set flange") == 1);
  CHECK(count(text, "Set flange") == 3);
  CHECK(count(text, "against TOP") == 0);
}

TEST_CASE("a shelf lies on the couplings of the posts that it goes over, not on those that are still to come") {
  std::string runs = "surfaces: {floor: {normal: up, at: 0}}\nruns:\n";
  for (const std::string n : {"1", "2"}) {
    runs += "  post " + n + ": {from: floor, at: [" + (n == "1" ? "0" : "24") + ", 0], parts: [F" + n + ": flange, A" +
            n + ": {pipe: 6}, C" + n + ": coupling, B" + n + ": {pipe: 12}, K" + n + ": cap]}\n";
  }
  const std::string shelf =
      "boards: {S: {through: [B1, B2], rests-on: [C1, C2], size: {x: 28, y: 8, z: 3/4}, reach: {left: 2, front: 4}}}\n";
  const std::string on_both = answer("order", runs + shelf);
  CHECK(count(on_both, "until it lies on C1 and C2") == 1);
  const std::string one_by_one = answer("order", runs + shelf, "--built=A1 in F1, C1 on A1, B1 in C1, S on B1");
  CHECK(count(one_by_one, "until it lies on C1 and C2") == 0);
}

}  // namespace

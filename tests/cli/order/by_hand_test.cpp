/// What `dryfit order` and `dryfit check` say to hands: what has to be held, what can be measured, what is in the way.
#include <doctest/doctest.h>

#include <algorithm>
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

/// A rack on four feet with two shelves: each side is a foot frame, and four posts go up out of its tees.
const std::string kRack = [] {
  std::string runs, side =
                        "  {0}f: {from: floor, at: [{1}, 0], parts: [F{0}1: foot, A{0}1: {pipe: 6}, T{0}1: {tee: "
                        "back}, B{0}1: {pipe: 12}, C{0}1: coupling, D{0}1: {pipe: 6}, K{0}1: cap]}\n"
                        "  {0}r: {from: T{0}1.back, parts: [R{0}: {pipe: 10}], to: T{0}2.front}\n"
                        "  {0}b: {from: floor, parts: [F{0}2: foot, A{0}2: {pipe: 6}, T{0}2: {tee: front}, B{0}2: "
                        "{pipe: 12}, C{0}2: coupling, D{0}2: {pipe: 6}, K{0}2: cap]}\n";
  for (const char* const name : {"L", "R"}) {
    std::string text = side;
    for (const auto& [mark, word] :
         {std::pair<std::string, std::string>{"{0}", name}, {"{1}", name[0] == 'L' ? "0" : "28"}}) {
      for (std::size_t at = text.find(mark); at != std::string::npos; at = text.find(mark)) text.replace(at, 3, word);
    }
    runs += text;
  }
  return "surfaces: {floor: {normal: up, at: 0}}\nruns:\n" + runs +
         "boards:\n  LOW: {through: [BL1, BL2, BR1, BR2], rests-on: [TL1, TL2, TR1, TR2], size: {x: 32, y: 17, z: "
         "3/4}, reach: {left: 2, front: 2-1/2}}\n"
         "  HIGH: {through: [DL1, DL2, DR1, DR2], rests-on: [CL1, CL2, CR1, CR2], size: {x: 32, y: 17, z: 3/4}, "
         "reach: {left: 2, front: 2-1/2}}\n";
}();

// The foot frames stand on the floor and carry the shelf: it cannot go down, and nobody lifts a foot frame to turn it.
TEST_CASE(
    "to get a low shelf out of a rack, what stands above it is unscrewed, and the foot frames stay where they are") {
  const std::string text = answer("order", kRack, "--replace=LOW");
  CHECK(count(text, "hold them while BL1 turns.") + count(text, "HIGH stays on: hold it while CL1 turns.") == 1);
  for (const char* const tee : {"Unscrew TL1", "Unscrew TL2", "Unscrew TR1", "Unscrew TR2"})
    CHECK(count(text, tee) == 0);
  CHECK(count(text, "up, out of LOW.") + count(text, "Slide LOW up, off") == 1);
  CHECK(count(text, "Slide LOW down, off") == 0);
  CHECK(count(text, "There may be an easier way") == 0);
}

// A pipe that a shelf lies over at its lower end is drawn up, not pushed down through its tee.
TEST_CASE("posts that are changed under a shelf are drawn up out of it") {
  const ScratchFolder folder;
  const std::string frame =
      folder.file("frame.yaml", "dryfit: 1\nname: Frame\nunits: in\npipe: {standard: npt, size: 3/4}\n" + kRack);
  const std::string text = on_one_line(run({"change", frame, "--set", "BL1+BL2+BR1+BR2.length=14"}).out);
  CHECK(count(text, "down, out of LOW") == 0);
  CHECK(count(text, "up, out of LOW") + count(text, "Slide LOW up, off") == 1);
}

// Two posts with a rail, a low shelf on the rail's tees and a top shelf on two couplings above it; the rail gets
// longer.
TEST_CASE("pipes are drawn out of a board as soon as the last of them is unscrewed, a low board's before a high one") {
  const ScratchFolder folder;
  const std::string frame = folder.file(
      "frame.yaml",
      "dryfit: 1\nname: Frame\nunits: in\npipe: {standard: npt, size: 3/4}\n"
      "surfaces: {floor: {normal: up, at: 0}}\nruns:\n"
      "  l: {from: floor, at: [0, 0], parts: [FL: flange, P1: {pipe: 12}, T1: {tee: right}, P2: {pipe: 12}, C1: "
      "coupling, P3: {pipe: 3}, K1: cap]}\n"
      "  m: {from: T1.right, parts: [R: {pipe: 24}], to: T3.left}\n"
      "  r: {from: floor, parts: [FR: flange, P4: {pipe: 12}, T3: {tee: left}, P5: {pipe: 12}, C2: coupling, P6: {pipe: "
      "3}, K2: cap]}\n"
      "boards:\n  LOW: {through: [P2, P5], rests-on: [T1, T3], size: {x: 38, y: 12, z: 3/4}, reach: {left: 4, front: "
      "6}}\n  TOP: {through: [P3, P6], rests-on: [C1, C2], size: {x: 38, y: 12, z: 3/4}, reach: {left: 4, front: 6}}\n");
  const std::string text = on_one_line(run({"change", frame, "--set", "R.length=30"}).out);
  const std::size_t top = std::min(text.find("out of TOP. Take TOP away."), text.find("Slide TOP up"));
  const std::size_t low = std::min(text.find("out of LOW. Take LOW away."), text.find("Slide LOW up"));
  REQUIRE(top != std::string::npos);
  REQUIRE(low != std::string::npos);
  CHECK(top < low);
  CHECK(low < text.find("Then build the new frame"));
  // The low shelf's pipes go in before the top shelf is over them.
  const std::string back = text.substr(text.find("Then build the new frame"));
  REQUIRE(count(back, "through LOW") == 2);
  CHECK(back.rfind("through LOW") < back.find("through TOP"));
}

/// A shelf is laid on two brackets and strapped to both. Whoever forgets flange FL has to take the straps off, lift the
/// shelf off both tees, and take out the screws of FM: four acts.
TEST_CASE("what is undone in one go is counted and told once") {
  const std::string text = answer(
      "early",
      "surfaces: {wall: {normal: front, at: 0}}\nruns:\n"
      "  l: {from: wall, at: [0, 60], parts: [FL: flange, P1: {pipe: 8}, T1: {tee: down}, P2: {pipe: 3}, K1: cap]}\n"
      "  ls: {from: T1.down, parts: [P3: {pipe: 4}, A1: {elbow45: down-back}, P4: {pipe: 8}, A2: {elbow45: back}, "
      "P5: {pipe: 2}, FM: flange], to: wall}\n"
      "  r: {from: wall, at: [30, 60], parts: [FR: flange, P6: {pipe: 8}, T2: {tee: down}, P7: {pipe: 3}, K2: cap]}\n"
      "boards:\n  SH: {rests-on: [T1, T2], strap: {P1: 1, P6: 1}, size: {x: 36, y: 10, z: 3/4}, "
      "reach: {left: 3, front: 3}}\n");
  CHECK(count(text, "SH from T1 and T2") == 1);
  CHECK(count(text, "SH from T1,") == 0);
}

/// Four legs on feet, a flange on each.
std::string table(const std::string& top) {
  std::string runs;
  int n = 0;
  for (const char* const at : {"[0, 0]", "[30, 0]", "[0, 16]", "[30, 16]"}) {
    const std::string k = std::to_string(++n);
    runs += "  l" + k + ": {from: floor, at: " + at + ", parts: [W" + k + ": foot, P" + k + ": {pipe: 24}, F" + k +
            ": flange], to: TOP.down}\n";
  }
  return "surfaces: {floor: {normal: up, at: 0}}\nruns:\n" + runs + "boards:\n  TOP: {" + top +
         "at: [-3, -3], size: {x: 36, y: 22, z: 3/4}}\n";
}

// Who writes that the top rests on its flanges has said nothing new.
TEST_CASE("a table is built upside down, whether its top is said to rest on its flanges or not") {
  const std::string plain = answer("order", table("")), said = answer("order", table("rests-on: [F1, F2, F3, F4], "));
  CHECK(count(plain, "Build this upside down.") == 1);
  CHECK(plain == said);
}

// Two stands that nothing joins: which of them is stood up has to be said.
TEST_CASE("works that nothing joins are told apart") {
  const std::string stand =
      "T{}: {tee: front}, Q{}: {pipe: 12}, K{}: cap]}\n  a{}: {from: T{}.front, parts: [A{}: {pipe: 6}, E{}: {elbow: "
      "up}, H{}: {pipe: 3}, L{}: cap]}\n";
  std::string runs;
  for (const std::string n : {"1", "2"}) {
    std::string text = "  p{}: {from: floor, at: [" + std::string(n == "1" ? "0" : "40") +
                       ", 0], parts: [F{}: flange, P{}: {pipe: 30}, " + stand;
    for (std::size_t at = text.find("{}"); at != std::string::npos; at = text.find("{}")) text.replace(at, 2, n);
    runs += text;
  }
  const std::string text = answer("order", "surfaces: {floor: {normal: up, at: 0}}\nruns:\n" + runs);
  CHECK(count(text, "Next, what stands by itself: F") == 1);
  CHECK(count(text, "Stand the assembly up") == 0);
  CHECK(count(text, "> Stand F1, P1, T1, Q1, K1 and 4 more up") +
            count(text, "> Stand F2, P2, T2, Q2, K2 and 4 more up") ==
        2);
}

}  // namespace

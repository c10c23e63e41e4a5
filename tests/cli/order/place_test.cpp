/// What `dryfit order` says of places: where a flange goes, what lies against something unscrewed, which side is whose.
#include <doctest/doctest.h>

#include <string>

#include "tests/support/program/one_line.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

#include <nlohmann/json.hpp>

namespace {

using dryfit::tests::faults_by_schema;
using dryfit::tests::on_one_line;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;

bool says(const std::string& text, const std::string& words) { return text.find(words) != std::string::npos; }

const std::string kHead =
    "dryfit: 1\nname: Shelf\nunits: in\npipe: {standard: npt, size: 3/4}\n"
    "surfaces:\n  floor: {normal: up, at: 0}\n  wall: {normal: front, at: 0}\n";

TEST_CASE("the first flange on a wall is told by floor and wall, the next by the first") {
  const ScratchFolder folder;
  const std::string frame =
      folder.file("shelf.yaml", kHead +
                                    "runs:\n  left: {from: wall, at: [0, 60], parts: [FL: flange, A: {pipe: 10}]}\n"
                                    "  right: {from: wall, at: [32, 60], parts: [FR: flange, B: {pipe: 10}]}\n"
                                    "  low: {from: wall, at: [0, 40], parts: [FD: flange, C: {pipe: 10}]}\n"
                                    "  far: {from: wall, at: [32, 40], parts: [FE: flange, D: {pipe: 10}]}\n");
  const std::string text = on_one_line(run({"order", frame}).out);
  // Which one is first is the order's choice: the others are told by it.
  const bool upper =
      says(text, "Centre of FL: 60 in from the floor.") || says(text, "Centre of FR: 60 in from the floor.");
  const bool lower =
      says(text, "Centre of FD: 40 in from the floor.") || says(text, "Centre of FE: 40 in from the floor.");
  CHECK(upper != lower);
  CHECK(says(text, ", at the same height."));
  CHECK(says(text, ", plumb."));
  CHECK((says(text, "32 in to the right of") || says(text, "32 in to the left of")));
  CHECK((says(text, "20 in below") || says(text, "20 in above")));
}

TEST_CASE("a board that nothing but its screws holds to a wall is told by floor, side wall or flange") {
  const ScratchFolder folder;
  const std::string hook = "runs:\n  hook: {from: wall, at: [10, 60], parts: [FL: flange, A: {pipe: 6}, K: cap]}\n";
  const std::string board = "boards:\n  TRAY: {height: 20, at: [4, -8], size: {x: 24, y: 8, z: 3/4}, fix: [wall]}\n";
  const std::string open = on_one_line(run({"order", folder.file("open.yaml", kHead + hook + board)}).out);
  CHECK(says(open, "top 20-3/4 in from the floor"));
  // The order screws the flange on first; the tray's left edge is drawn at 4 in, the flange at 10 in.
  CHECK(says(open, "left edge 6 in to the left of the centre of FL."));
  const std::string side = "  side: {normal: right, at: 1}\n";
  const std::string corner = on_one_line(run({"order", folder.file("corner.yaml", kHead + side + hook + board)}).out);
  CHECK(says(corner, "Place of TRAY: top 20-3/4 in from the floor and left edge 3 in from the side."));
}

TEST_CASE("a flange under a board is told by the board's edges") {
  const ScratchFolder folder;
  const std::string frame = folder.file(
      "stand.yaml",
      kHead +
          "runs:\n  leg: {from: floor, at: [0, -20], parts: [F: flange, A: {pipe: 10}, G: flange], to: TOP.down}\n"
          "boards:\n  TOP: {at: [-3, -25], size: {x: 12, y: 14, z: 3/4}}\n");
  const std::string text = on_one_line(run({"order", frame}).out);
  CHECK(says(text, "Centre of G: 3 in from the left edge and 5 in from the front edge."));
  CHECK(says(text, "Centre of F: 20 in from the wall."));
}

TEST_CASE("what lies against a board, ends in an outlet, or has no place is told with the words that would join it") {
  const ScratchFolder folder;
  const auto check = [&](const std::string& runs, const std::string& boards = "") {
    return on_one_line(run({"check", folder.file("f.yaml", kHead + runs + boards)}).out);
  };
  const std::string legs =
      "runs:\n  one: {from: floor, at: [0, -20], parts: [F: flange, A: {pipe: 10}, G: flange], to: TOP.down}\n";
  const std::string other = "  two: {from: floor, at: [10, -20], parts: [F2: flange, B: {pipe: 10}, H: flange]";
  const std::string top = "boards:\n  TOP: {at: [-3, -25], size: {x: 20, y: 14, z: 3/4}}\n";
  CHECK(says(check(legs + other + "}\n", top),
             "H lies against TOP, but nothing screws it there. If it should be screwed "
             "on, write `to: TOP.down` in its run."));
  CHECK_FALSE(says(check(legs + other + ", to: TOP.down}\n", top), "lies against"));
  const std::string posts =
      "runs:\n  one: {from: floor, at: [0, -20], parts: [F: flange, A: {pipe: 10}, T: {tee: right}, K: plug]}\n"
      "  rail: {from: T.right, parts: [R: {pipe: 20}]";
  const std::string second = "  two: {from: floor, parts: [F2: flange, B: {pipe: 10}, U: {tee: left}, L: plug]}\n";
  const std::string lone = check(posts + "}\n" + second);
  CHECK(says(lone, "Nothing says where the run 'two' stands, so it begins at [0, 0]. Give it a place with `at`."));
  CHECK_FALSE(says(check(posts + ", to: U.left}\n" + second), "Nothing says"));
}

TEST_CASE("a pole that touches the ceiling is told not to get in, at the step that lacks the room") {
  const ScratchFolder folder;
  const auto pole = [&](const char* ceiling) {
    return folder.file("pole.yaml",
                       std::string("dryfit: 1\nname: Pole\nunits: mm\npipe: {standard: iso7, size: 3/4}\n"
                                   "surfaces:\n  floor: {normal: up, at: 0}\n  ceiling: {normal: down, at: ") +
                           ceiling +
                           "}\nruns:\n  pole: {from: floor, at: [0, 0], parts: [FB: flange, P1: {pipe: 1000}, "
                           "C1: coupling, P2: {pipe: 600}, C2: coupling, P3: {pipe: 800}, FT: flange]}\n");
  };
  // 2,459 mm high as made up; the plates keep it from being tilted, and the last flange begins the thread higher: the
  // gauge length of R 3/4, 9.5 mm (ISO 7-1).
  CHECK(says(on_one_line(run({"order", pole("2459")}).out),
             "Warning: the frame can't get in between floor and ceiling."));
  CHECK_FALSE(says(run({"order", pole("2480")}).out, "Warning"));
}

TEST_CASE("the verdict and the order say the same of whether it gets in between floor and ceiling") {
  // A pole of one pipe with plates of 4 to 9 in, as high as its room: with wide plates it can't be tilted, and standing
  // its last flange lacks the headroom. A coupling or a union in the middle lets it in.
  const ScratchFolder folder;
  int in = 0, out = 0;
  for (const std::string plate : {"4", "5", "6", "7", "8", "9"}) {
    for (const std::string middle : {"", "C: coupling, Q: {pipe: 20}, ", "U: union, Q: {pipe: 20}, "}) {
      const auto text = [&](const std::string& ceiling) {
        return "dryfit: 1\nname: Pole\nunits: in\npipe: {standard: npt, size: 1}\nsurfaces:\n  floor: {normal: up, at: 0}\n"
               "  ceiling: {normal: down, at: " +
               ceiling +
               "}\nruns:\n  pole: {from: floor, at: [0, 0], parts: "
               "[FB: {flange: , measured: {plate: " +
               plate + "}}, P: {pipe: 20}, " + middle + "FT: {flange: , measured: {plate: " + plate +
               "}}], to: ceiling}\n";
      };
      const auto first = nlohmann::json::parse(run({"check", folder.file("far.yaml", text("90")), "--json"}).out);
      const double high = first["over_all_mm"][2].get<double>();
      const std::string file = folder.file("pole.yaml", text(std::to_string(high) + " mm"));
      CAPTURE(plate);
      CAPTURE(middle);
      const auto answer = nlohmann::json::parse(run({"check", file, "--json"}).out);
      for (const std::string& fault : faults_by_schema("check", answer)) FAIL_CHECK(fault);
      const std::string check = run({"check", file}).out;
      const bool told = says(run({"order", file}).out, "can't get in between floor and ceiling");
      CHECK(told == answer.contains("no_way_in"));
      CHECK(told == says(check, "CAN'T GET IN between floor and ceiling"));
      CHECK(told != says(check, "stand it up or slip it in"));
      if (!middle.empty()) CHECK_FALSE(told);
      (told ? out : in) += 1;
    }
  }
  CHECK(in >= 12);
  CHECK(out >= 2);
}

TEST_CASE("of work that lies, front and behind are the near and the far side") {
  // The rack begins lying on its back, the top away from who builds it.
  const std::string lying = run({"order", scenario("plant-rack")}).out;
  CHECK(says(lying, "lying on its back"));
  CHECK(says(lying, "Screw T1 onto P1 from the far side"));
  CHECK(says(lying, "Screw P6 into T2 from your side"));
  CHECK_FALSE(says(run({"order", scenario("plant-rack"), "--standing"}).out, "from your side"));
}

/// Two posts with a low rung of one pipe and a high one that has a union and is longer by itself.
const std::string kUnequalRungs =
    "dryfit: 1\nname: Towel ladder\nunits: in\npipe: {standard: npt, size: 3/4}\n"
    "surfaces:\n  floor: {normal: up, at: 0}\n  wall: {normal: front, at: -5/8}\n"
    "runs:\n"
    "  left: {from: floor, at: [0, -12], to: wall, parts: [K1: cap, P1: {pipe: 18}, T1: {tee: right}, P2: {pipe: 24}, "
    "T2: {tee: right}, P3: {pipe: 4}, E1: {elbow: back}, P4: {pipe: 10}, FL: flange]}\n"
    "  low: {from: T1.right, parts: [R1: {pipe: 24}], to: T3.left}\n"
    "  high: {from: T2.right, parts: [R2: {pipe: 11}, U1: union, R3: {pipe: 12}], to: T4.left}\n"
    "  right: {from: floor, to: wall, parts: [K2: cap, Q1: {pipe: 18}, T3: {tee: left}, Q2: {pipe: 24}, "
    "T4: {tee: left}, Q3: {pipe: 4}, E2: {elbow: back}, Q4: {pipe: 10}, FR: flange]}\n";

TEST_CASE("what has to be turned on further is what the step turns: the pipe would come loose at its other end") {
  const ScratchFolder folder;
  const std::string text = on_one_line(run({"order", folder.file("ladder.yaml", kUnequalRungs)}).out);
  CAPTURE(text);
  CHECK(says(text, "Screw T2 onto R2 from the left: hold R2, turn T2 4¾ turns. ! Now turn T2 another turn onto R2,"));
  CHECK(says(text, "turn R3 4¾ turns. ! Now turn R3 another turn into T4,"));
  CHECK(says(text, "! Now turn T1 ½ turn back off R1,"));
}

TEST_CASE("a flange goes where the frame stands once its joints are turned") {
  const ScratchFolder folder;
  const std::string file = folder.file("ladder.yaml", kUnequalRungs);
  // As drawn the posts are 25-15/16 in apart. R1 is backed out half a turn at both ends, and a thread has 14 to the
  // inch.
  CHECK(says(on_one_line(run({"order", file}).out), "Centre of FR: 26 in to the right of FL, at the same height."));
}

}  // namespace

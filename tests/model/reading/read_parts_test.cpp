#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

TEST_CASE("a misspelt kind gets the right word") {
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "T1: {tea: right}"})) ==
        "f.yaml:12:14: part 'T1': unknown kind 'tea', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'tee'?");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "C: couplin"})) ==
        "f.yaml:12:12: part 'C': unknown kind 'couplin', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'coupling'?");
}

TEST_CASE("a size as a counter or a ruler has it gets the nominal size") {
  constexpr const char* kSizes = "(1/8, 1/4, 3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2, 2, 2-1/2, 3 or 4)";
  const auto told = [&](const char* size, const char* meant) {
    const std::string part = std::string("C: {coupling: , size: ") + size + "}";
    return complaint(post({"F: flange", "P1: {pipe: 6}", part.c_str()})) ==
           std::string("f.yaml:12:31: part 'C': size: expected a nominal pipe size ") + kSizes + ", got '" + size +
               "'" + meant;
  };
  CHECK(told("DN20", "; did you mean '3/4'?"));
  CHECK(told("DN 32", "; did you mean '1-1/4'?"));
  CHECK(told("DN21", ""));
  CHECK(told("3/4 Zoll", "; did you mean '3/4'?"));
  CHECK(told("7 in", ""));
}

TEST_CASE("a kind has the value that its row in the table asks for") {
  CHECK(complaint(post({"F: flange", "P1: pipe", "T: tee", "B: bushing", "X: cross"})) ==
        "f.yaml:11:13: part 'P1': the pipe needs its length: write it like {pipe: 12}\n"
        "f.yaml:12:12: part 'T': the tee needs its branch direction: write it like {tee: right}\n"
        "f.yaml:13:12: part 'B': the bushing needs its inner size: write it like {bushing: 1/2}\n"
        "f.yaml:14:12: part 'X': the cross needs its plane: write it like {cross: , plane: xz}");
  CHECK(complaint(post({"F: {flange: 3}"})) ==
        "f.yaml:10:21: part 'F': a flange has no value, got '3'; leave it empty: {flange: , ...}");
  CHECK(complaint(post({"F: {flange: , tee: up}"})) ==
        "f.yaml:10:23: part 'F': is a 'flange' already and can't be a 'tee' too; give every part its own line");
  CHECK(complaint(post({"F: {size: 1/2}"})) ==
        "f.yaml:10:12: part 'F': what is it? expected pipe, coupling, elbow, elbow45, street-elbow, tee, cross, "
        "side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster");
  CHECK(complaint(post({"F: {}", "G: [1]", "flange", "{A: cap, B: cap}", "[x]"})) ==
        "f.yaml:10:12: part 'F': what is it? write it like 'coupling' or {pipe: 12}, got an empty map\n"
        "f.yaml:11:12: part 'G': what is it? write it like 'coupling' or {pipe: 12}, got a list\n"
        "f.yaml:12:9: run 'post': a part has a name and a kind: write it like '- C1: coupling' or '- P1: {pipe: 12}', "
        "got 'flange'\n"
        "f.yaml:13:9: run 'post': a part has a name and a kind: write it like '- C1: coupling' or '- P1: {pipe: 12}', "
        "got a map of 2 keys\n"
        "f.yaml:14:9: run 'post': a part has a name and a kind: write it like '- C1: coupling' or '- P1: {pipe: 12}', "
        "got a list");
}

TEST_CASE("a length is text that a builder writes, nothing that YAML makes of it") {
  CHECK(complaint(
            post({"A: {pipe: 010}", "B: {pipe: 0x10}", "D: {pipe: .nan}", "E: {pipe: -3}", "F: {pipe: 0}",
                  "G: {pipe: 12mm}", "H: {pipe: 3/0}", "I: {pipe: yes}", "J: {pipe: 1e3}", "K: {pipe: }",
                  "L: {pipe: [1]}", "M: {pipe: 12 ft}", "N: {pipe: '1,5'}", "O: {pipe: 99999999}", "Q: {pipe: ~}"})) ==
        "f.yaml:10:19: part 'A': length: '010': leave out the leading zero\n"
        "f.yaml:11:19: part 'B': length: '0x10': 'x10' is left over, write it like 4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm "
        "or 11 cm\n"
        "f.yaml:12:19: part 'D': length: '.nan': a digit is missing after the point, write it like 4-1/2, 4 1/2, 3/4, "
        "9.5 in, 114 mm or 11 cm\n"
        "f.yaml:13:19: part 'E': length: expected a length greater than zero, got '-3'\n"
        "f.yaml:14:19: part 'F': length: expected a length greater than zero, got '0'\n"
        "f.yaml:16:19: part 'H': length: '3/0': the denominator is zero, write it like 4-1/2, 4 1/2, 3/4, 9.5 in, 114 "
        "mm or 11 cm\n"
        "f.yaml:17:19: part 'I': length: 'yes': this is not a length, write it like 4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm "
        "or 11 cm\n"
        "f.yaml:18:19: part 'J': length: '1e3': powers of ten are not read, write it like 4-1/2, 4 1/2, 3/4, 9.5 in, "
        "114 mm or 11 cm\n"
        "f.yaml:19:19: part 'K': length: expected a length such as 30, 4-1/2 or 114 mm, got nothing\n"
        "f.yaml:20:19: part 'L': length: expected a length such as 30, 4-1/2 or 114 mm, got a list\n"
        "f.yaml:21:19: part 'M': length: '12 ft': write 144 in\n"
        "f.yaml:22:9: part 'N': 'N' can't be a name: YAML reads it as false; try 'N1'\n"
        "f.yaml:22:19: part 'N': length: '1,5': decimal comma: write 1.5\n"
        "f.yaml:23:19: part 'O': length: expected at most 1 km, got '99999999'\n"
        "f.yaml:24:19: part 'Q': length: expected a length such as 30, 4-1/2 or 114 mm, got '~'");
}

TEST_CASE("a name is a letter and what may follow, used once, and no word that YAML reads as something else") {
  CHECK(complaint(post({"1A: cap", "no: cap", "null: cap", "Y: cap", "a.b: cap", "true: cap", "F: flange", "F: flange",
                        "floor: cap", "'': cap", "NaN: cap"})) ==
        "f.yaml:10:9: part '1A': '1A' can't be a name: a letter first, then letters, digits, '-' or '_'; try 'A1'\n"
        "f.yaml:11:9: part 'no': 'no' can't be a name: YAML reads it as false; try 'no1'\n"
        "f.yaml:12:9: part 'null': 'null' can't be a name: YAML reads it as nothing; try 'null1'\n"
        "f.yaml:13:9: part 'Y': 'Y' can't be a name: YAML reads it as true; try 'Y1'\n"
        "f.yaml:14:9: part 'a.b': 'a.b' can't be a name: a letter first, then letters, digits, '-' or '_'; try 'a-b'\n"
        "f.yaml:15:9: part 'true': 'true' can't be a name: YAML reads it as true; try 'true1'\n"
        "f.yaml:17:9: part 'F': the name 'F' is used already, at line 16, column 9; every part, board and surface "
        "needs a name of its own\n"
        "f.yaml:18:9: part 'floor': the name 'floor' is used already, at line 4, column 3; every part, board and "
        "surface needs a name of its own\n"
        "f.yaml:19:9: part: '' can't be a name: a letter first, then letters, digits, '-' or '_'\n"
        "f.yaml:20:9: part 'NaN': 'NaN' can't be a name: YAML reads it as not a number; try 'NaN1'");
}

TEST_CASE("an unknown option or word names those that are known") {
  CHECK(complaint(post({"F: {flange: , colour: red}", "P1: {pipe: 6, plain: maybe, turns: {begin: 3, start: x}}",
                        "T: {tee: right, entry: run, branch-size: 7}", "S: {street-elbow: right, reverse: yes}"})) ==
        "f.yaml:10:23: part 'F': unknown key 'colour', expected flange, size or measured\n"
        "f.yaml:11:30: part 'P1': unknown plain 'maybe', expected start, end or both\n"
        "f.yaml:11:45: part 'P1': unknown key 'begin', expected start or end\n"
        "f.yaml:11:62: part 'P1': turns: expected a number greater than zero, at most 1000, got 'x'\n"
        "f.yaml:12:32: part 'T': unknown entry 'run', expected branch\n"
        "f.yaml:12:50: part 'T': branch-size: expected a nominal pipe size (1/8, 1/4, 3/8, 1/2, 3/4, 1, 1-1/4, "
        "1-1/2, 2, 2-1/2, 3 or 4), got '7'\n"
        "f.yaml:13:43: part 'S': unknown reverse 'yes', expected false or true");
  CHECK(complaint(post({"F: {flange: , measured: {length: 2, plate: 0}}", "U: {union: , measured: 3}"})) ==
        "f.yaml:10:34: part 'F': unknown key 'length', expected plate, height, band or mass; did you mean 'height'?\n"
        "f.yaml:10:52: part 'F': plate: expected a length greater than zero, got '0'\n"
        "f.yaml:11:32: part 'U': measured: write it like {length: LENGTH}, got '3'");
}

// 37.0 mm is the band of 3/4, 1.458 in (from memory), 26.7 mm its pipe, 1.050 in (ASME B36.10M, secondary).
TEST_CASE("a dimension that was measured must leave room for the pipe") {
  CHECK(complaint(post({"F: {flange: , measured: {plate: 1}}"})) ==
        "f.yaml:10:9: part 'F': plate: 1 in is no larger than its hub (1-29/64 in)");
  CHECK(complaint(post({"F: {flange: , measured: {band: 1}}"})) ==
        "f.yaml:10:9: part 'F': band: 1 in is no larger than the pipe inside it (1-3/64 in)");
}

TEST_CASE("what was meant is said") {
  CHECK(complaint(post({"F: flange", "P1: {pipe: 152,4}"})) ==
        "f.yaml:11:20: part 'P1': pipe: '152,4': decimal comma: write 152.4");
  CHECK(complaint(post({"F: flange", "P1: {pipe:6}", "C: coupling"})) ==
        "f.yaml:11:14: part 'P1': unknown kind 'pipe:6', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean '{pipe: 6}'?");
  CHECK(complaint(post({"F: flange", "P1: pipe 6", "P2: nipple", "N: {nipple: 6}"})) ==
        "f.yaml:11:13: part 'P1': unknown kind 'pipe 6', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean '{pipe: 6}'?\n"
        "f.yaml:12:13: part 'P2': unknown kind 'nipple', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'pipe'?\n"
        "f.yaml:13:9: part 'N': 'N' can't be a name: YAML reads it as false; try 'N1'\n"
        "f.yaml:13:13: part 'N': unknown kind 'nipple', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'pipe'?");
  CHECK(complaint(post({"F: flange", "- P1: {pipe: 6}", "pipe: 6", "P2:coupling"})) ==
        "f.yaml:11:9: run 'post': a part has a name and a kind: write it like '- C1: coupling' or '- P1: {pipe: 12}', "
        "got a list\n"
        "f.yaml:12:9: run 'post': the pipe's own name is missing: write it like '- P1: {pipe: 6}'\n"
        "f.yaml:13:9: run 'post': a part has a name and a kind: write it like '- C1: coupling' or '- P1: {pipe: 12}', "
        "got 'P2:coupling'; a blank is missing behind the colon: 'P2: coupling'");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "W: castor"})) ==
        "f.yaml:12:12: part 'W': unknown kind 'castor', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'caster'?");
  CHECK(complaint(post({"F: flange", "pipe: 6", "coupling"})) ==
        "f.yaml:11:9: run 'post': the pipe's own name is missing: write it like '- P1: {pipe: 6}'\n"
        "f.yaml:12:9: run 'post': a part has a name and a kind: write it like '- C1: coupling' or '- P1: {pipe: 12}', "
        "got 'coupling'");
}

TEST_CASE("a mistake in the size of all parts is told once") {
  std::string text = post({"F: flange", "P1: {pipe: 6}", "C: {coupling: , size: 1/2}"});
  text.replace(text.find("3/4"), 3, "5/8");
  CHECK(complaint(text) ==
        "f.yaml:2:29: pipe: size: expected a nominal pipe size (1/8, 1/4, 3/8, 1/2, 3/4, 1, 1-1/4, 1-1/2, 2, 2-1/2, 3 "
        "or 4), got '5/8'");
}

TEST_CASE("a weight has a unit of weight") {
  CHECK(complaint(post({"F: {flange: , measured: {mass: 2 in}}", "P1: {pipe: 6, measured: {mass: 0,5 kg}}",
                        "C: {coupling: , measured: {mass: heavy}}", "P2: {pipe: 6, measured: {length: 6}}"})) ==
        "f.yaml:10:40: part 'F': mass: expected a weight such as 0.9 lb, 14 oz, 400 g or 0.4 kg, got '2 in'\n"
        "f.yaml:11:40: part 'P1': mass: '0,5 kg': decimal comma: write 0.5 kg\n"
        "f.yaml:11:40: part 'P1': mass: expected a weight such as 0.9 lb, 14 oz, 400 g or 0.4 kg, got '0'\n"
        "f.yaml:12:42: part 'C': mass: expected a weight such as 0.9 lb, 14 oz, 400 g or 0.4 kg, got 'heavy'\n"
        "f.yaml:13:34: part 'P2': unknown key 'length', expected mass");
  const Frame frame = read_frame(post({"F: {flange: , measured: {mass: 8 oz}}", "P1: {pipe: 6, measured: {mass: 1/2}}",
                                       "C: {coupling: , measured: {mass: 200 g}}", "P2: {pipe: 6}"}),
                                 "f.yaml");
  // The pound is 0.45359237 kg exactly, and has 16 ounces; a bare number is pounds in a file in inches.
  CHECK(frame.parts[0].mass == doctest::Approx(0.45359237 / 2.0));
  CHECK(frame.parts[1].mass == doctest::Approx(0.45359237 / 2.0));
  CHECK(frame.parts[2].mass == doctest::Approx(0.2));
  CHECK(frame.parts[0].own.mass);
  CHECK_FALSE(frame.parts[0].mass_from_memory);
  CHECK(frame.parts[0].from_memory);  // its dimensions are the table's all the same
  CHECK_FALSE(frame.parts[3].own.mass);
}

TEST_CASE("a foot and a caster stand as high as they are measured, or as the table has them") {
  const std::string legs = kHead +
                           "runs:\n"
                           "  a:\n"
                           "    from: floor\n"
                           "    at: [0, 0]\n"
                           "    parts:\n"
                           "      - F: {foot: , measured: {height: 2, plate: 3, mass: 6 oz}}\n"
                           "      - P1: {pipe: 6}\n"
                           "  b:\n"
                           "    from: floor\n"
                           "    at: [20, 0]\n"
                           "    parts:\n"
                           "      - W: caster\n"
                           "      - P2: {pipe: 6}\n"
                           "      - K: foot\n";
  const Frame frame = read_frame(legs, "f.yaml");
  const Part& foot = frame.parts[0];
  CHECK(foot.ports.at(0).at.z == doctest::Approx(2 * 25.4));
  CHECK(bounds_of(foot.solids.at(1)).hi.x == doctest::Approx(1.5 * 25.4));
  CHECK(foot.mass == doctest::Approx(6.0 * 0.45359237 / 16.0));
  CHECK(foot.own.height);
  const Part& caster = frame.parts[2];
  CHECK(caster.ports.at(0).at.z == doctest::Approx(100.0));  // model/data/feet_and_casters.csv, from memory
  CHECK(caster.mass == doctest::Approx(0.5));
  CHECK(caster.from_memory);
  CHECK(caster.mass_from_memory);
  // Last in a run it looks back at the pipe; nothing can follow it.
  CHECK(frame.parts[4].ports.at(0).facing == kDown);
  CHECK(frame.fastenings.empty());  // neither is screwed to the floor
  CHECK(complaint(post({"F: foot", "P1: {pipe: 6}", "K: foot", "P2: {pipe: 6}"})) ==
        "f.yaml:13:9: part 'P2': nothing can follow the foot 'K': it is the last of its run");
  CHECK(complaint(post({"F: {foot: , size: 4}"})) ==
        "f.yaml:10:9: part 'F': no table gives the height of a 4 foot (npt): measure yours and give 'measured: "
        "{height: LENGTH}'");
}

}  // namespace

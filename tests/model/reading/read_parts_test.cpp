#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"

namespace {

using namespace dryfit::test;

TEST_CASE("a misspelt kind gets the right word") {
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "T1: {tea: right}"})) ==
        "f.yaml:12:14: part 'T1': unknown kind 'tea', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange or union; did you mean 'tee'?");
  CHECK(complaint(post({"F: flange", "P1: {pipe: 6}", "C: couplin"})) ==
        "f.yaml:12:12: part 'C': unknown kind 'couplin', expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange or union; did you mean 'coupling'?");
}

TEST_CASE("a kind has the value that its row in the table asks for") {
  CHECK(complaint(post({"F: flange", "P1: pipe", "T: tee", "B: bushing", "X: cross"})) ==
        "f.yaml:11:13: part 'P1': a pipe needs its length, expected such as {pipe: 12}\n"
        "f.yaml:12:12: part 'T': a tee needs its branch direction, expected such as {tee: right}\n"
        "f.yaml:13:12: part 'B': a bushing needs its inner size, expected such as {bushing: 1/2}\n"
        "f.yaml:14:12: part 'X': 'plane' is missing, expected such as {cross: , plane: xz}");
  CHECK(complaint(post({"F: {flange: 3}"})) == "f.yaml:10:21: part 'F': a flange takes no value, got '3'");
  CHECK(complaint(post({"F: {flange: , tee: up}"})) ==
        "f.yaml:10:23: part 'F': a second kind 'tee', expected one kind per part, got 'flange' before");
  CHECK(complaint(post({"F: {size: 1/2}"})) ==
        "f.yaml:10:12: part 'F': the kind is missing, expected pipe, coupling, elbow, elbow45, street-elbow, tee, "
        "cross, side-elbow, side-tee, cap, plug, bushing, flange or union");
  CHECK(complaint(post({"F: {}", "G: [1]", "flange", "{A: cap, B: cap}", "[x]"})) ==
        "f.yaml:10:12: part 'F': expected a kind, or {kind: value, option: value}, got an empty map\n"
        "f.yaml:11:12: part 'G': expected a kind, or {kind: value, option: value}, got a list\n"
        "f.yaml:12:9: run 'post': a part: expected one 'ID: kind' or 'ID: {kind: value}', got 'flange'\n"
        "f.yaml:13:9: run 'post': a part: expected one 'ID: kind' or 'ID: {kind: value}', got a map of 2 keys\n"
        "f.yaml:14:9: run 'post': a part: expected one 'ID: kind' or 'ID: {kind: value}', got a list");
}

TEST_CASE("a length is text that a builder writes, nothing that YAML makes of it") {
  CHECK(complaint(
            post({"A: {pipe: 010}", "B: {pipe: 0x10}", "D: {pipe: .nan}", "E: {pipe: -3}", "F: {pipe: 0}",
                  "G: {pipe: 12mm}", "H: {pipe: 3/0}", "I: {pipe: yes}", "J: {pipe: 1e3}", "K: {pipe: }",
                  "L: {pipe: [1]}", "M: {pipe: 12 ft}", "N: {pipe: '1,5'}", "O: {pipe: 99999999}", "Q: {pipe: ~}"})) ==
        "f.yaml:10:19: part 'A': length: '010': a leading zero reads as octal elsewhere, expected a length such as "
        "4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm or 11 cm\n"
        "f.yaml:11:19: part 'B': length: '0x10': 'x10' is left over, expected a length such as 4-1/2, 4 1/2, 3/4, "
        "9.5 in, 114 mm or 11 cm\n"
        "f.yaml:12:19: part 'D': length: '.nan': a digit is missing after the point, expected a length such as "
        "4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm or 11 cm\n"
        "f.yaml:13:19: part 'E': length: expected a length greater than zero, got '-3'\n"
        "f.yaml:14:19: part 'F': length: expected a length greater than zero, got '0'\n"
        "f.yaml:16:19: part 'H': length: '3/0': the denominator is zero, expected a length such as 4-1/2, 4 1/2, "
        "3/4, 9.5 in, 114 mm or 11 cm\n"
        "f.yaml:17:19: part 'I': length: 'yes': this is no number, expected a length such as 4-1/2, 4 1/2, 3/4, 9.5 "
        "in, 114 mm or 11 cm\n"
        "f.yaml:18:19: part 'J': length: '1e3': powers of ten are not read, expected a length such as 4-1/2, 4 1/2, "
        "3/4, 9.5 in, 114 mm or 11 cm\n"
        "f.yaml:19:19: part 'K': length: expected a length such as 30, 4-1/2 or 114 mm, got nothing\n"
        "f.yaml:20:19: part 'L': length: expected a length such as 30, 4-1/2 or 114 mm, got a list\n"
        "f.yaml:21:19: part 'M': length: '12 ft': 'ft' is left over, expected a length such as 4-1/2, 4 1/2, 3/4, "
        "9.5 in, 114 mm or 11 cm\n"
        "f.yaml:22:9: part 'N': 'N' is no name, for YAML may read it as something else; expected a letter, then "
        "letters, digits, '-' or '_'\n"
        "f.yaml:22:19: part 'N': length: '1,5': decimals want a point, not a comma, expected a length such as 4-1/2, "
        "4 1/2, 3/4, 9.5 in, 114 mm or 11 cm\n"
        "f.yaml:23:19: part 'O': length: expected at most 1 km, got '99999999'\n"
        "f.yaml:24:19: part 'Q': length: expected a length such as 30, 4-1/2 or 114 mm, got '~'");
}

TEST_CASE("a name is a letter and what may follow, used once, and no word that YAML reads as something else") {
  CHECK(complaint(post({"1A: cap", "no: cap", "null: cap", "Y: cap", "a.b: cap", "true: cap", "F: flange", "F: flange",
                        "floor: cap", "'': cap", "NaN: cap"})) ==
        "f.yaml:10:9: part '1A': '1A' is no name, expected a letter, then letters, digits, '-' or '_'\n"
        "f.yaml:11:9: part 'no': 'no' is no name, for YAML may read it as something else; expected a letter, then "
        "letters, digits, '-' or '_'\n"
        "f.yaml:12:9: part 'null': 'null' is no name, for YAML may read it as something else; expected a letter, "
        "then letters, digits, '-' or '_'\n"
        "f.yaml:13:9: part 'Y': 'Y' is no name, for YAML may read it as something else; expected a letter, then "
        "letters, digits, '-' or '_'\n"
        "f.yaml:14:9: part 'a.b': 'a.b' is no name, expected a letter, then letters, digits, '-' or '_'\n"
        "f.yaml:15:9: part 'true': 'true' is no name, for YAML may read it as something else; expected a letter, "
        "then letters, digits, '-' or '_'\n"
        "f.yaml:17:9: part 'F': the name 'F' is taken, first at line 16, column 9; expected each name once among "
        "parts, boards and surfaces\n"
        "f.yaml:18:9: part 'floor': the name 'floor' is taken, first at line 4, column 3; expected each name once "
        "among parts, boards and surfaces\n"
        "f.yaml:19:9: part: '' is no name, expected a letter, then letters, digits, '-' or '_'\n"
        "f.yaml:20:9: part 'NaN': 'NaN' is no name, for YAML may read it as something else; expected a letter, then "
        "letters, digits, '-' or '_'");
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
        "f.yaml:10:34: part 'F': unknown key 'length', expected plate, height or band; did you mean 'height'?\n"
        "f.yaml:10:52: part 'F': plate: expected a length greater than zero, got '0'\n"
        "f.yaml:11:32: part 'U': measured: expected a map with length or band, got '3'");
}

// 37.0 mm is the band of 3/4, 1.458 in (from memory), 26.7 mm its pipe, 1.050 in (ASME B36.10M, secondary).
TEST_CASE("a dimension that was measured must leave room for the pipe") {
  CHECK(complaint(post({"F: {flange: , measured: {plate: 1}}"})) ==
        "f.yaml:10:9: part 'F': plate: 25.4 mm is no larger than its hub, expected more than 37.0 mm");
  CHECK(complaint(post({"F: {flange: , measured: {band: 1}}"})) ==
        "f.yaml:10:9: part 'F': band: 25.4 mm is no larger than the pipe inside it, expected more than 26.7 mm");
}

}  // namespace

#include "model/reading/yaml_guard.hpp"

#include <doctest/doctest.h>

#include "tests/support/frames/frame_text.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

std::string repeated(const std::string& text, int times) {
  std::string out;
  for (int i = 0; i < times; ++i) out += text;
  return out;
}

TEST_CASE("a file without a frame is refused") {
  CHECK(complaint("") == "f.yaml: file: is empty, expected a map that begins with 'dryfit: 1'");
  CHECK(complaint("# nothing\n") == "f.yaml: file: is empty, expected a map that begins with 'dryfit: 1'");
  CHECK(complaint("---\n") == "f.yaml: file: is empty, expected a map that begins with 'dryfit: 1'");
  CHECK(complaint("- a\n") == "f.yaml:1:1: file: expected a map that begins with 'dryfit: 1', got a list");
  CHECK(complaint("rack\n") == "f.yaml:1:1: file: expected a map that begins with 'dryfit: 1', got 'rack'");
}

TEST_CASE("a file of more than 16 MiB is refused before it is read") {
  const std::string text = "# " + std::string(kMaxFileBytes, 'x');  // 2 bytes more than 16 x 1024 x 1024
  CHECK(complaint(text) == "f.yaml: file: 16777218 bytes long, expected at most 16777216 (16 MiB)");
}

TEST_CASE("bytes that are not plain text are refused where they stand") {
  CHECK(complaint("dryfit: 1\nname: \"a\x07\"\n") == "f.yaml:2:9: file: control character 0x07, expected plain text");
  CHECK(complaint(std::string("dryfit: 1\nname: a\0b\n", 20)) ==
        "f.yaml:2:8: file: control character 0x00, expected plain text");
  CHECK(complaint("dryfit: 1\nname: caf\xe9\n") == "f.yaml:2:10: file: byte 0xe9 is not UTF-8 text");
  CHECK(complaint("\xff\xfe\x61\x00") == "f.yaml:1:1: file: byte 0xff is not UTF-8 text");
  // Umlauts are text; their second byte counts no column.
  CHECK(complaint("dryfit: 1\nname: \"Bl\xc3\xbctentopf\x01\"\n") ==
        "f.yaml:2:18: file: control character 0x01, expected plain text");
}

TEST_CASE("text that is no YAML is refused with the place") {
  CHECK(complaint("dryfit: 1\nruns: [\n") == "f.yaml:3:1: file: cannot be read as YAML: a bracket '[' is never closed");
  CHECK(complaint("dryfit: 1\nruns:\n\tpost: x\n") ==
        "f.yaml:3:1: file: a tab at the beginning of the line; YAML takes blanks only: replace it");
  CHECK(complaint("dryfit: *x\n") == "f.yaml:1:9: file: cannot be read as YAML: the referenced anchor is not defined");
}

TEST_CASE("what the parser stumbles over is told as what it mostly comes from") {
  const std::string head = "dryfit: 1\npipe: {standard: npt, size: 3/4}\nruns:\n  a:\n    go: up\n";
  CHECK(complaint(head + "    parts\n      - P: {pipe: 6}\n") == "f.yaml:6:5: file: a colon is missing behind 'parts'");
  CHECK(complaint(head + "    parts:\n      - P: {pipe: 6\n      - C: coupling\n") ==
        "f.yaml:8:10: file: cannot be read as YAML: a bracket '{' is never closed");
  CHECK(complaint(head + "    parts: to: floor\n") ==
        "f.yaml:6:14: file: cannot be read as YAML: a colon too many on this line, or the line is indented too far");
  CHECK(complaint(head + "\tparts:\n      - P: {pipe: 6}\n") ==
        "f.yaml:6:1: file: a tab at the beginning of the line; YAML takes blanks only: replace it");
}

TEST_CASE("one file holds one document") {
  CHECK(complaint("dryfit: 1\n---\ndryfit: 1\n") ==
        "f.yaml:2:1: file: a second YAML document begins here, expected one document per file");
}

TEST_CASE("nesting over 64 levels is refused") {
  // The map is the first level, so 63 lists are let through to the next check; the 64th bracket is at column 8 + 64.
  CHECK(complaint("dryfit: " + repeated("[", 64) + repeated("]", 64)) ==
        "f.yaml:1:72: file: nesting is deeper than 64 levels");
  CHECK(complaint("dryfit: " + repeated("[", 63) + repeated("]", 63)).find("nesting") == std::string::npos);
  // Never closed: refused before the parser looks ahead to the end of the file, at the 65th bracket: 3 + 65, or
  // line 65.
  CHECK(complaint("a: " + repeated("[", 8'000'000)) == "f.yaml:1:68: file: nesting is deeper than 64 levels");
  CHECK(complaint(repeated("[a,\n", 4'000'000)) == "f.yaml:65:1: file: nesting is deeper than 64 levels");
  // Brackets in quotes, comments and words nest nothing.
  CHECK(complaint(kHead + "# " + repeated("[", 100) + "\nname: '" + repeated("[", 100) + "''" + repeated("{", 100) +
                  "'\nruns: {a: {go: up, parts: [P: {pipe: 3}]}} # don't " + repeated("{", 100) + "\n") == "");
  CHECK(complaint(kHead + "name: \"\\\"" + repeated("[", 100) + "\"\nruns: {\"a" + repeated("[", 100) +
                  "\": {go: up, parts: [P: {pipe: 3}]}}\n") == "");
  // The 65th dash stands at column 64 x 2 + 1.
  CHECK(complaint(repeated("- ", 1000) + "a") == "f.yaml:1:129: file: nesting is deeper than 64 levels");
  // Behind an alias as well: 40 levels in 40; the alias stands at column 3 + 40 + 1.
  CHECK(complaint("a: &a " + repeated("[", 40) + repeated("]", 40) + "\nb: " + repeated("[", 40) + "*a" +
                  repeated("]", 40)) == "f.yaml:2:44: file: nesting is deeper than 64 levels");
}

TEST_CASE("aliases that expand to over 100,000 nodes are refused without expanding them") {
  std::string text = "a0: &a0 [1,1,1,1,1,1,1,1,1,1]\n";
  for (int i = 1; i < 40; ++i) {
    const std::string before = "*a" + std::to_string(i - 1);
    text += "a" + std::to_string(i) + ": &a" + std::to_string(i) + " [" + repeated(before + ",", 9) + before + "]\n";
  }
  // a0 has 11 nodes, a1 1 + 10 x 11 = 111, then 1111 and 11111, with the map and five keys 12,350 in all. In line 5 the
  // eighth alias brings 8 x 11111 = 88,888 and passes 100,000; it stands at column 10 + 7 x 4.
  CHECK(complaint(text) == "f.yaml:5:38: file: aliases expand to more than 100000 nodes");
}

TEST_CASE("an alias inside its own anchor is refused") {
  CHECK(complaint("a: &a [*a]\n") == "f.yaml:1:8: file: an alias (*) stands inside of what it repeats");
  CHECK(complaint("a: &a {b: [1, {c: *a}]}\n") == "f.yaml:1:19: file: an alias (*) stands inside of what it repeats");
}

TEST_CASE("an anchor is read wherever its alias stands") {
  const std::string text = kHead +
                           "runs:\n"
                           "  a:\n"
                           "    go: up\n"
                           "    parts:\n"
                           "      - P1: &stick {pipe: 30}\n"
                           "  b:\n"
                           "    go: up\n"
                           "    at: [10, 0, 0]\n"
                           "    parts:\n"
                           "      - P2: *stick\n";
  const Frame frame = read_frame(text, "f.yaml");
  CHECK(frame.parts[1].length == doctest::Approx(30 * 25.4));
}

TEST_CASE("a mistake behind an anchor is told once") {
  CHECK(
      complaint(kHead + "runs: {a: {go: up, parts: [A: &x {cup: }]}, b: {go: up, at: [0, 0, 0], parts: [B: *x]}}\n") ==
      "f.yaml:5:35: part 'A': unknown kind 'cup', expected pipe, coupling, elbow, elbow45, street-elbow, tee, cross, "
      "side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'cap'?\n"
      "f.yaml:5:35: part 'B': unknown kind 'cup', expected pipe, coupling, elbow, elbow45, street-elbow, tee, cross, "
      "side-elbow, side-tee, cap, plug, bushing, flange, union, foot or caster; did you mean 'cap'?");
}

TEST_CASE("tags, merge keys and keys that are no words are refused") {
  CHECK(complaint("dryfit: !!int 1\n") ==
        "f.yaml:1:9: file: a YAML tag ('tag:yaml.org,2002:int') has no meaning here: leave it out");
  const std::string rest = "pipe: {standard: npt, size: 3/4}\nruns: {a: {go: up, parts: [P: {pipe: 3}]}}\n";
  CHECK(complaint("dryfit: 1\n<<: {name: x}\n" + rest) ==
        "f.yaml:2:1: file: '<<' (a merge key) is not read: write the keys out");
  CHECK(complaint("dryfit: 1\n? [a]\n: b\n" + rest) == "f.yaml:2:3: file: a key must be a word, got a list");
}

TEST_CASE("a key that stands twice is told with its first place") {
  CHECK(complaint("dryfit: 1\nname: a\npipe: {standard: npt, size: 3/4}\nname: b\n"
                  "runs: {a: {go: up, parts: [P: {pipe: 3}]}}\n") ==
        "f.yaml:4:1: file: 'name' is given twice, first at line 2, column 1");
  std::string runs;  // from line 6 on, below four lines of head and "runs:"; the 30th is named as the first
  for (int i = 0; i < 30; ++i)
    runs +=
        "  r" + std::to_string(i % 29) + ": {go: up, at: [0, 0, 0], parts: [P" + std::to_string(i) + ": {pipe: 3}]}\n";
  CHECK(complaint(kHead + "runs:\n" + runs) == "f.yaml:35:3: file: 'r0' is given twice, first at line 6, column 3");
}

TEST_CASE("more than 2,000,000 values or 200,000 parts are refused") {
  // The list's bracket is the first mark, at column 9; the comma of item n stands at column 9 + 2 n.
  CHECK(complaint("dryfit: [" + repeated("1,", 2'000'001) + "]\n") ==
        "f.yaml:1:4000009: file: more than 2000000 values in one file");
  // The file, its key and the list are values too, and item n is in line n + 1: the 2,000,001st value is item
  // 1,999,998.
  CHECK(complaint("dryfit:\n" + repeated("- 1\n", 2'000'001)) ==
        "f.yaml:1999999:3: file: more than 2000000 values in one file");
  std::string text = kHead + "runs:\n  a:\n    go: up\n    parts:\n";
  for (int i = 0; i < 200'002; ++i) text += "      - C" + std::to_string(i) + ": cap\n";
  // Part C0 is in line 9.
  CHECK(complaint(text).substr(0, 46) == "f.yaml:200009:9: frame: more than 200000 parts");
}

TEST_CASE("comments, quotes and either style read the same") {
  const std::string block = kHead +
                            "runs:\n"
                            "  post:\n"
                            "    from: floor\n"
                            "    parts:\n"
                            "      - F:\n"
                            "          flange:\n"
                            "      - \"P\":   # a comment\n"
                            "          pipe: '6-1/2'\n"
                            "          turns:\n"
                            "            start: \"5\"\n"
                            "      - 'C': coupling\n";
  const std::string flow = kHead +
                           "runs: {post: {from: floor, parts: [F: {flange: }, P: {pipe: 6 1/2, turns: {start: 5}}, "
                           "C: coupling]}}\n";
  const Frame a = read_frame(block, "f.yaml");
  const Frame b = read_frame(flow, "f.yaml");
  REQUIRE(a.parts.size() == b.parts.size());
  for (std::size_t i = 0; i < a.parts.size(); ++i) {
    CHECK(a.parts[i].ports == b.parts[i].ports);
    CHECK(a.parts[i].solids == b.parts[i].solids);
  }
  // 5 turns of 14 threads an inch.
  CHECK(a.joints[0].engaged == doctest::Approx(5 * 25.4 / 14));
}

}  // namespace

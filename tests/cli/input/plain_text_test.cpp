/// What would hide or reorder text, or fill a screen, is refused where it is read, with its place; and what is only
/// unusual is read.
#include <doctest/doctest.h>

#include <algorithm>

#include "model/frame/plain_text.hpp"
#include "tests/support/program/program.hpp"

namespace {

using namespace dryfit::tests;

constexpr const char* kFrame =
    "dryfit: 1\nname: Peg\npipe: {standard: npt, size: 1/2}\nruns:\n"
    "  a: {go: up, at: [0, 0, 0], parts: [A: {pipe: 6}, C: cap]}\n";

std::string with_name(std::string text, const std::string& from, const std::string& to) {
  REQUIRE(text.find(from) != std::string::npos);
  return text.replace(text.find(from), from.size(), to);
}

/// The message for a frame of that name, as it stands in the file.
std::string message(const std::string& name) {
  const Ran ran = run({"check", "-"}, with_name(kFrame, "Peg", name));
  CHECK(ran.code == 2);
  CHECK(ran.out == "");
  return ran.err;
}

}  // namespace

TEST_CASE("characters that deceive the eye are refused in a frame file, by place") {
  CHECK(message("P\x1b[2J") == "standard input:2:8: file: control character 0x1b, expected plain text\n");
  CHECK(message("P\xc2\x9b"
                "2J") == "standard input:2:8: file: control character 0x9b, expected plain text\n");
  CHECK(message("Pe\xe4g") == "standard input:2:9: file: byte 0xe4 is not UTF-8 text\n");
  CHECK(message("\xc3\xa4\xe2\x80\xae"
                "g") == "standard input:2:8: file: U+202E turns the direction of writing, expected plain text\n");
  CHECK(message("P\xe2\x80\xa8g") == "standard input:2:8: file: U+2028 is a separator of lines, expected plain text\n");
  CHECK(message("P\xef\xbf\xbeg") == "standard input:2:8: file: U+FFFE is no character, expected plain text\n");
  CHECK(message("P\xef\xbb\xbfg") ==
        "standard input:2:8: file: a byte order mark (U+FEFF), expected none behind the beginning\n");
  // A surrogate, and "/" in two bytes: not well-formed by table 3-7 of The Unicode Standard.
  CHECK(message("P\xed\xa0\xbdg") == "standard input:2:8: file: byte 0xed is not UTF-8 text\n");
  CHECK(message("P\xe0\x80\xafg") == "standard input:2:8: file: byte 0xe0 is not UTF-8 text\n");
}

TEST_CASE("an escape in a frame file is no way round that") {
  CHECK(message("\"P\\u202eg\"") ==
        "standard input:2:7: file: written as an escape: U+202E turns the direction of writing, expected plain text\n");
  CHECK(message("\"P\\eg\"") ==
        "standard input:2:7: file: written as an escape: control character 0x1b, expected plain text\n");
  CHECK(message("\"P\\ng\"") ==
        "standard input:2:7: frame: name: a tab or the end of a line within it, expected one line of text\n");
}

TEST_CASE("the same in a call, a steps file and a price file") {
  const ScratchFolder folder;
  const std::string frame = folder.file("peg.yaml", kFrame);
  CHECK(run({"new", "--name", "B\xe4r"}).err ==
        "dryfit: --name: byte 0xe4 is not UTF-8 text, got 'B\\xe4r'; see 'dryfit new --help'\n");
  CHECK(run({"check", "a\x1b[31mb"}).err ==
        "dryfit: FRAME: control character 0x1b, expected plain text, got 'a\\x1b[31mb'; see 'dryfit check --help'\n");
  CHECK(run({"ch\x1b[1meck"}).err ==
        "dryfit: there is no command 'ch\\x1b[1meck'; did you mean 'check'?; see 'dryfit --help'\n");
  const std::string steps = folder.file("steps.json", "[\n {\"action\": \"\xe2\x81\xa6\"}]");
  CHECK(run({"replay", frame, steps}).err ==
        steps + ":2:14: U+2066 turns the direction of writing, expected plain text\n");
  const std::string prices = folder.file("prices.csv", "size,item,length,price\n1/2,pipe,6\x07,3\n");
  CHECK(run({"span", "20", "--prices", prices}).err == prices + ":2:11: control character 0x07, expected plain text\n");
}

TEST_CASE("a value that is repeated is cut to sixty characters") {
  const std::string long_word(100'000, 'x');
  const std::string shown = std::string(60, 'x') + "...";
  CHECK(run({"check", "-"}, with_name(kFrame, "cap", long_word)).err ==
        "standard input:5:55: part 'C': unknown kind '" + shown +
            "', expected pipe, coupling, elbow, elbow45, street-elbow, tee, cross, side-elbow, side-tee, cap, plug, "
            "bushing, flange, union, foot or caster\n");
  CHECK(run({"check", "-"}, with_name(kFrame, "pipe: 6", "pipe: " + long_word)).err.size() < 400);
  CHECK(run({"check", "-"}, with_name(kFrame, "  a:", "  " + std::string(900, 'r') + ":")).code == 0);
  CHECK(run({"show", "-", "-o", "a.svg", "--width", long_word}, kFrame).err ==
        "dryfit: --width: '" + shown + "' is not a number; see 'dryfit show --help'\n");
  CHECK(dryfit::model::shown("\xc3\xa4\xc3\xb6") == "\xc3\xa4\xc3\xb6");
}

TEST_CASE("a hundred faults are told, and the rest is counted") {
  const auto with = [](int wrong) {
    std::string parts = "[A: {pipe: 6}";
    for (int i = 0; i < wrong; ++i) parts += ",\n W" + std::to_string(i) + ": bracket";
    return run({"check", "-"}, with_name(kFrame, "[A: {pipe: 6}, C: cap]", parts + "]")).err;
  };
  const auto lines = [](const std::string& text) { return std::count(text.begin(), text.end(), '\n'); };
  CHECK(lines(with(100)) == 100);
  CHECK(with(100).find("more fault") == std::string::npos);
  CHECK(lines(with(101)) == 101);
  CHECK(with(101).ends_with("\nstandard input: and 1 more fault\n"));
  CHECK(with(250).ends_with("\nstandard input: and 150 more faults\n"));
}

TEST_CASE("ends of lines and a byte order mark are as the writer's machine has them") {
  const auto as = [](const std::string& end, const std::string& front, const std::string& text) {
    std::string out = front;
    for (const char c : text) out += c == '\n' ? end : std::string(1, c);
    return out;
  };
  const Ran plain = run({"check", "-"}, kFrame);
  CHECK(plain.code == 0);
  const std::string wrong = with_name(kFrame, "cap", "hat");
  const std::string fault = run({"check", "-"}, wrong).err;
  CHECK(fault.starts_with("standard input:5:"));
  for (const char* end : {"\n", "\r\n", "\r"}) {
    for (const char* front : {"", "\xef\xbb\xbf"}) {
      CHECK(run({"check", "-"}, as(end, front, kFrame)).out == plain.out);
      CHECK(run({"check", "-"}, as(end, front, wrong)).err == fault);
    }
  }
}

TEST_CASE("a frame and steps written as JSON are read, with characters in two halves") {
  const std::string json =
      R"({"dryfit": 1, "name": "Peg \ud83d\ude00", "pipe": {"standard": "npt", "size": "1/2"}, "runs": {"a": {"go": "up",
 "at": [0, 0, 0], "parts": [{"A": {"pipe": "6"}}, {"C": "cap"}]}}})";
  const Ran read = run({"check", "-"}, json);
  CHECK(read.code == 0);
  CHECK(read.out.starts_with("Peg \xf0\x9f\x98\x80"));
  // The places of what follows on the line stay what they are in the file.
  const std::string wrong = with_name(json, "\"npt\"", "\"nqt\"");
  CHECK(run({"check", "-"}, wrong)
            .err.starts_with("standard input:1:" + std::to_string(wrong.find("\"nqt\"") + 1) +
                             ": pipe: unknown standard 'nqt'"));
  CHECK(run({"check", "-"}, with_name(json, "\\ude00", "")).err.starts_with("standard input:1:"));
  CHECK(run({"check", "-"}, with_name(json, "\\ude00", "")).code == 2);
  const ScratchFolder folder;
  const std::string frame = folder.file("peg.yaml", kFrame);
  CHECK(run({"replay", frame, "-"}, R"([{"action": "\ud83d\ude00", "contacts": ["x"]}])")
            .err.find("unknown action '\xf0\x9f\x98\x80', expected screw") != std::string::npos);
}

/// A name of any length is cut wherever a message repeats it.
#include <doctest/doctest.h>

#include <fmt/format.h>

#include <sstream>
#include <string>

#include "tests/support/program/program.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::ScratchFolder;

TEST_CASE("names of a thousand letters are cut in every message that repeats them") {
  const ScratchFolder folder;
  const std::string n(1000, 'N');
  const std::string file = folder.file("long.yaml", fmt::format(R"(dryfit: 1
pipe: {{standard: npt, size: 3/4}}
surfaces: {{floor: {{normal: up, at: 0}}, {0}v: {{normal: front, at: 90}}}}
runs:
  {0}r: {{from: floor, at: [0, 0], parts: [{0}a: flange, {0}P: {{pipe: 6}}, {0}C: coupling, {0}Q: {{pipe: 6}}, {0}K: cap]}}
  c: {{from: {0}P.end, parts: [F: cap]}}
  d: {{from: {0}C.left, parts: [G: {{pipe: 5}}]}}
  e: {{from: {0}x.left, parts: [{0}C: {{pipe: 5}}]}}
boards:
  {0}b: {{through: [{0}Q, {0}C, {0}Q], rests-on: [{0}v, {0}C], size: {{x: 1, y: 2, z: 1/2}}, reach: {{left: 1, front: 1}}, hole: {{{0}P: 3}}, fix: [{0}C], strap: {{{0}C: 1}}}}
clips: {{{0}C: {0}P}}
)",
                                                                n));
  const Ran ran = run({"check", file});
  CHECK(ran.code == 2);
  std::istringstream lines(ran.err);
  int count = 0;
  for (std::string line; std::getline(lines, line); ++count) {
    CAPTURE(line);
    CHECK(line.size() < 700);
    CHECK(line.find(std::string(150, 'N')) == std::string::npos);
  }
  CHECK(count >= 10);
}

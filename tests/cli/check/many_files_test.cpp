/// `dryfit check` with many files, in one process and shared out by ordinary tools.
#include <doctest/doctest.h>
#include <sys/wait.h>

#include <algorithm>
#include <cstdlib>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/program/program.hpp"

namespace {

using namespace dryfit::tests;

/// Six shapes that are answered yes and one that is answered no.
std::string small_frame(int i) {
  const int size = 2 + i % 5;
  switch (i % 7) {
    case 0: return ladder_text(2, false);
    case 1: return ladder_text(2, true);
    case 2: return rack_text(1, 1);
    case 3: return grid_text(2, 2);
    default: return tower_text(size);
  }
}

std::vector<std::string> write_frames(const ScratchFolder& folder, int count) {
  std::vector<std::string> files;
  for (int i = 0; i < count; ++i) {
    std::string number = std::to_string(i);
    number.insert(0, 4 - number.size(), '0');
    files.push_back(folder.file("frame-" + number + ".yaml", small_frame(i)));
  }
  return files;
}

std::multiset<std::string> answers_in(const std::string& text) {
  std::multiset<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.insert(line);
  return lines;
}

}  // namespace

TEST_CASE("check answers a thousand files with one JSON document to a line, in the order given") {
  const ScratchFolder folder;
  const std::vector<std::string> files = write_frames(folder, 1000);
  std::vector<std::string> call{"check", "--json"};
  call.insert(call.end(), files.begin(), files.end());
  const Ran ran = run(call);
  CHECK(ran.err == "");
  CHECK(ran.code == 1);  // the ladders without unions are locked
  std::istringstream out(ran.out);
  std::size_t at = 0;
  for (std::string line; std::getline(out, line); ++at) {
    const auto answer = nlohmann::json::parse(line);
    REQUIRE(at < files.size());
    CHECK(answer["file"] == files[at]);
    CHECK(answer["command"] == "check");
    CHECK(answer["verdict"] == (at % 7 == 0 ? "locked" : "buildable"));
  }
  CHECK(at == files.size());
}

TEST_CASE("files shared out among processes get the same answers") {
  const ScratchFolder folder;
  const ScratchFolder answers;
  const std::vector<std::string> files = write_frames(folder, 60);
  std::vector<std::string> call{"check", "--json"};
  call.insert(call.end(), files.begin(), files.end());
  const Ran alone = run(call);
  const std::string line = "ls " + folder.path("*.yaml") + " | xargs -P 4 -n 7 " DRYFIT_PROGRAM " check --json >" +
                           answers.path("out") + " 2>" + answers.path("err");
  const int status = std::system(line.c_str());
  CHECK(WEXITSTATUS(status) == 123);  // xargs: some call ended with 1 to 125
  CHECK(slurp(answers.path("err")) == "");
  CHECK(answers_in(slurp(answers.path("out"))) == answers_in(alone.out));
}

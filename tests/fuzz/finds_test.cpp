/// Everything a fuzzer has found once, and what the fuzzers start from, goes through the same checks as an ordinary
/// test.
#include <doctest/doctest.h>

#include <algorithm>
#include <filesystem>
#include <vector>

#include "tests/fuzz/targets.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;

namespace {

std::vector<std::string> files_in(const std::string& folder) {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(std::string(DRYFIT_SOURCE_DIR) + "/" + folder)) {
    files.push_back(entry.path().string());
  }
  std::sort(files.begin(), files.end());
  return files;
}

void all_hold(const std::string& folder, std::string (*target)(std::string_view)) {
  for (const std::string& file : files_in(folder)) {
    CAPTURE(file);
    CHECK(target(tests::slurp(file)) == "");
  }
}

}  // namespace

TEST_CASE("what the fuzz targets start from holds") {
  all_hold("scenarios", fuzz::try_reader);
  all_hold("tests/fuzz/seeds/steps", fuzz::try_steps);
  all_hold("tests/fuzz/seeds/length", fuzz::try_length);
  all_hold("tests/fuzz/seeds/frames", fuzz::try_frames);
}

TEST_CASE("what a fuzzer has found once holds now") {
  all_hold("tests/fuzz/finds/reader", fuzz::try_reader);
  all_hold("tests/fuzz/finds/steps", fuzz::try_steps);
  all_hold("tests/fuzz/finds/length", fuzz::try_length);
  all_hold("tests/fuzz/finds/frames", fuzz::try_frames);
}

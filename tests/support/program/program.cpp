#include "tests/support/program/program.hpp"

#include <doctest/doctest.h>
#include <unistd.h>

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

#include "cli/io/log.hpp"
#include "cli/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

namespace dryfit::tests {

Ran run(const std::vector<std::string>& args, const std::string& input) {
  std::istringstream in(input);
  std::ostringstream out;
  std::ostringstream err;
  const cli::LogTo log(err);
  Ran ran;
  ran.code = cli::run_program(args, {in, out, err});
  ran.out = out.str();
  ran.err = err.str();
  check_printed_json(args, ran.out);
  return ran;
}

std::string scenario(const std::string& name) {
  return std::string(DRYFIT_SOURCE_DIR) + "/scenarios/" + name + ".yaml";
}

std::vector<std::string> scenario_files() {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(DRYFIT_SOURCE_DIR "/scenarios")) {
    const std::string path = entry.path().string();
    if (path.ends_with(".yaml") && !path.ends_with(".expect.yaml")) files.push_back(path);
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::string slurp(const std::string& path) {
  std::ifstream file(path, std::ios::binary);
  REQUIRE_MESSAGE(file.good(), "cannot read ", path);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

ScratchFolder::ScratchFolder() {
  std::string pattern = (std::filesystem::temp_directory_path() / "dryfit-test-XXXXXX").string();
  REQUIRE(::mkdtemp(pattern.data()) != nullptr);
  folder_ = pattern;
}

ScratchFolder::~ScratchFolder() {
  std::error_code ignored;
  std::filesystem::remove_all(folder_, ignored);
}

std::string ScratchFolder::file(const std::string& name, const std::string& text) const {
  std::ofstream(path(name), std::ios::binary) << text;
  return path(name);
}

std::vector<std::string> ScratchFolder::entries() const {
  std::vector<std::string> names;
  for (const auto& entry : std::filesystem::directory_iterator(folder_))
    names.push_back(entry.path().filename().string());
  std::sort(names.begin(), names.end());
  return names;
}

}  // namespace dryfit::tests

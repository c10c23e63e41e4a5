#include "tests/support/program/expected.hpp"

#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

#include "tests/support/program/program.hpp"

namespace dryfit::tests {

void check_whole_output(std::vector<std::string> call, const std::string& expected_name, int code,
                        const std::string& input) {
  CAPTURE(expected_name);
  for (std::string& word : call) {
    if (word.ends_with(".yaml")) word = scenario(word.substr(0, word.size() - std::string(".yaml").size()));
  }
  const Ran ran = run(call, input);
  CHECK(ran.err == "");
  CHECK(ran.code == code);
  const std::string path = std::string(DRYFIT_SOURCE_DIR) + "/tests/cli/expected/" + expected_name;
  if (std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr) std::ofstream(path, std::ios::binary) << ran.out;
  CHECK(ran.out == slurp(path));
}

}  // namespace dryfit::tests

/// Whole outputs against files in tests/cli/expected. Their numbers are what the program gives and guard against
/// change; where they come from is shown in the tests of model and planner. After a change that is meant, run the tests
/// once with DRYFIT_RENEW_EXPECTED=1 and read the difference before it is committed.
#include <doctest/doctest.h>

#include <cstdlib>
#include <fstream>

#include "tests/support/program/program.hpp"

using dryfit::tests::run;
using dryfit::tests::scenario;

namespace {

void check_output(const std::vector<std::string>& call, const std::string& expected_name) {
  CAPTURE(expected_name);
  std::vector<std::string> args = call;
  args[1] = scenario(call[1]);
  const auto ran = run(args);
  CHECK(ran.err == "");
  const std::string path = std::string(DRYFIT_SOURCE_DIR) + "/tests/cli/expected/" + expected_name;
  if (std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr) std::ofstream(path, std::ios::binary) << ran.out;
  CHECK(ran.out == dryfit::tests::slurp(path));
}

}  // namespace

TEST_CASE("the orders of four scenarios read exactly as expected") {
  check_output({"order", "plant-rack"}, "plant-rack.order.txt");
  check_output({"order", "pot-rail"}, "pot-rail.order.txt");
  check_output({"order", "pot-rail", "--json"}, "pot-rail.order.json");
  check_output({"order", "trellis-arm"}, "trellis-arm.order.txt");
  check_output({"order", "boot-bench-metric"}, "boot-bench-metric.order.txt");
}

TEST_CASE("the answers about a locked frame read exactly as expected") {
  check_output({"check", "cellar-rail-ring"}, "cellar-rail-ring.check.txt");
  check_output({"order", "cellar-rail-ring"}, "cellar-rail-ring.order.txt");
  check_output({"order", "cellar-rail-ring", "--json"}, "cellar-rail-ring.order.json");
}

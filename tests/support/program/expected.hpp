#pragma once
/// Whole outputs against files in tests/cli/expected. After a change that is meant, run the tests once with
/// DRYFIT_RENEW_EXPECTED=1 and read the difference before it is committed.
#include <string>
#include <vector>

namespace dryfit::tests {

/// Runs `dryfit CALL...` with `input` on standard input and compares all that it prints; "NAME.yaml" arguments stand
/// for scenarios. Fails the test when something is said on standard error or the exit code is another.
void check_whole_output(std::vector<std::string> call, const std::string& expected_name, int code = 0,
                        const std::string& input = "");

}  // namespace dryfit::tests

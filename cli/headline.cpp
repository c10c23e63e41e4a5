#include "cli/headline.hpp"

#include <fmt/format.h>

#include "cli/exit_code.hpp"
#include "cli/fit_report.hpp"
#include "cli/words.hpp"

namespace dryfit::cli {

std::string word_for(const Finding& finding) {
  return finding.verdict == "buildable" && finding.fit.state == planner::FitState::open ? "open" : finding.verdict;
}

int code_of(const Finding& finding) { return word_for(finding) == "open" ? worse(finding.code, kNo) : finding.code; }

std::string headline(const model::Frame& frame, const Finding& finding) {
  if (word_for(finding) == "open")
    return fmt::format("{}: it could be put together, but it DOES NOT CLOSE.", frame.name);
  if (finding.verdict == "locked")
    return fmt::format("{}: LOCKED, it cannot be put together in any order.", frame.name);
  if (finding.verdict == "overlapping") return fmt::format("{}: DOES NOT FIT.", frame.name);
  return fmt::format("{}: {}, and can be built in at most {}.", frame.name,
                     frame.closures.empty() ? std::string("fits") : "closes " + state_in_words(finding.fit.state),
                     counted(static_cast<long long>(finding.order.steps.size()), "step"));
}

}  // namespace dryfit::cli

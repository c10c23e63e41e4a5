#include "cli/check/headline.hpp"

#include "cli/check/fit_report.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

std::string word_for(const Finding& finding) {
  return finding.verdict == "buildable" && finding.fit.state == planner::FitState::open ? "open" : finding.verdict;
}

int code_of(const Finding& finding) { return word_for(finding) == "open" ? worse(finding.code, kNo) : finding.code; }

std::string headline(const model::Frame& frame, const Finding& finding) {
  if (word_for(finding) == "open") return say("{}: it could be put together, but it DOES NOT CLOSE.", frame.name);
  if (finding.verdict == "locked") return say("{}: LOCKED, it cannot be put together in any order.", frame.name);
  if (finding.verdict == "overlapping") return say("{}: DOES NOT FIT.", frame.name);
  return say_n(static_cast<long long>(finding.order.steps.size()), "{1}: {2}, and can be built in at most {0} step.",
               "{1}: {2}, and can be built in at most {0} steps.", frame.name,
               frame.closures.empty() ? say("fits") : closes_in_words(finding.fit.state));
}

}  // namespace dryfit::cli

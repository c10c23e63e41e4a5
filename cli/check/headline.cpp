#include "cli/check/headline.hpp"

#include "cli/check/fit_report.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

Verdict verdict_of(const Finding& finding) {
  const bool open = finding.fit.state == planner::FitState::open || !finding.without_rest.empty();
  return finding.verdict == Verdict::buildable && open ? Verdict::open : finding.verdict;
}

int code_of(const Finding& finding) {
  return verdict_of(finding) == Verdict::open ? worse(finding.code, kNo) : finding.code;
}

std::string headline(const model::Frame& frame, const Finding& finding) {
  switch (verdict_of(finding)) {
    case Verdict::open:
      if (finding.fit.state == planner::FitState::open) {
        return say("{}: it could be put together, but it DOES NOT CLOSE.", frame.name);
      }
      return say("{0}: it could be put together, but {1} HAS NO REST.", frame.name,
                 frame.part(finding.without_rest.front()).label);
    case Verdict::locked: return say("{}: LOCKED, it cannot be put together in any order.", frame.name);
    case Verdict::overlapping: return say("{}: DOES NOT FIT.", frame.name);
    case Verdict::buildable: break;
  }
  return say_n(static_cast<long long>(finding.order.steps.size()), "{1}: {2}, and can be built in at most {0} step.",
               "{1}: {2}, and can be built in at most {0} steps.", frame.name,
               frame.closures.empty() ? say("fits") : closes_in_words(finding.fit.state));
}

}  // namespace dryfit::cli

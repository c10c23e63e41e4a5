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
        return say("{}: it could be put together, but it DOESN'T LINE UP.", frame.name);
      }
      return say("{0}: it could be put together, but {1} HAS NOTHING TO REST ON.", frame.name,
                 frame.part(finding.without_rest.front()).label);
    case Verdict::locked: return say("{}: LOCKED. There is no order in which it can be put together.", frame.name);
    case Verdict::overlapping: return say("{}: DOES NOT FIT.", frame.name);
    case Verdict::buildable: break;
  }
  if (frame.closures.empty()) return say("{}: it fits, and it can be built.", frame.name);
  const char* mark = memory_mark(finding.fit.from_memory);
  switch (finding.fit.state) {
    case planner::FitState::exact: return say("{0}: everything lines up{1}, and it can be built.", frame.name, mark);
    case planner::FitState::by_turning:
      return say("{0}: it lines up by turning some joints further or back{1}, and it can be built.", frame.name, mark);
    default: break;
  }
  return say("{0}: it lines up only with extra turns of the wrench{1}, and it can be built.", frame.name, mark);
}

}  // namespace dryfit::cli

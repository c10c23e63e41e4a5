#include "cli/check/headline.hpp"

#include "cli/check/fit_report.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {

Verdict verdict_of(const Finding& finding) {
  if (finding.verdict != Verdict::buildable) return finding.verdict;
  const bool off = finding.fit.state == planner::FitState::open;
  if (!finding.without_rest.empty() || (off && finding.fit.decided)) return Verdict::open;
  return off ? Verdict::undecided : Verdict::buildable;
}

int code_of(const Finding& finding) {
  const Verdict verdict = verdict_of(finding);
  return verdict == Verdict::open        ? worse(finding.code, kNo)
         : verdict == Verdict::undecided ? worse(finding.code, kUndecided)
                                         : finding.code;
}

std::string headline(const model::Frame& frame, const Finding& finding) {
  switch (verdict_of(finding)) {
    case Verdict::open:
      if (finding.fit.state == planner::FitState::open && finding.fit.decided) {
        return say("{}: it could be put together, but it DOESN'T LINE UP.", frame.name);
      }
      return say("{0}: it could be put together, but {1} HAS NOTHING TO REST ON.", frame.name,
                 frame.part(finding.without_rest.front()).label);
    case Verdict::locked: return say("{}: LOCKED. There is no order in which it can be put together.", frame.name);
    case Verdict::overlapping: return say("{}: DOES NOT FIT.", frame.name);
    case Verdict::undecided:
      return say("{}: it could be put together; whether it LINES UP wasn't found out.", frame.name);
    case Verdict::buildable: break;
  }
  // Where it does not end as drawn, that is the answer; what lines up how stands below it.
  if (finding.no_way_in) {
    return say("{}: its parts go together, but it CAN'T GET IN between floor and ceiling.", frame.name);
  }
  if (!finding.drops.empty()) {
    const std::string boards = listed(labels_of(frame, finding.drops));
    return finding.drops.size() == 1 ? say("{0}: it can be built, but {1} DOESN'T LIE as drawn.", frame.name, boards)
                                     : say("{0}: it can be built, but {1} DON'T LIE as drawn.", frame.name, boards);
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

std::string no_way_in_text(const model::Frame& frame, double missing) {
  return say(
      "Tilted up it hits, and standing, each last joint of a post needs {} more headroom than there is. Make the frame "
      "that much shorter, or put a union into the post.",
      rounded_up_text(missing, frame.units));
}

}  // namespace dryfit::cli

#include "cli/check/finding.hpp"

#include "cli/io/exit_code.hpp"
#include "cli/sentences/frame_notes.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

const char* word_for(Verdict verdict) {
  switch (verdict) {
    case Verdict::buildable: return "buildable";
    case Verdict::open: return "open";
    case Verdict::locked: return "locked";
    case Verdict::overlapping: return "overlapping";
  }
  return "";
}

Finding find_out(const model::Frame& frame, const planner::ContactList& list) {
  Finding finding;
  // Cures try stock lengths one by one: on a very large frame only `fit` itself looks for them.
  constexpr std::size_t kLarge = 2000;
  planner::FitOptions options;
  options.cures = frame.parts.size() < kLarge;
  finding.fit = planner::find_fit(frame, options);
  finding.notes = notes_on(frame, list);
  if (finding.fit.state == planner::FitState::open) {
    finding.notes.insert(
        finding.notes.begin(),
        say("A closure is open (see `dryfit fit`): what is said here holds for the frame as placed, once that closure is "
            "mended."));
  }
  finding.overlaps = planner::overlaps_of(frame, list);
  if (!finding.overlaps.empty()) {
    finding.verdict = Verdict::overlapping;
    finding.code = kNo;
    return finding;
  }
  finding.order = planner::find_order(frame, list);
  finding.verdict = finding.order.buildable ? Verdict::buildable : Verdict::locked;
  finding.code = finding.order.buildable ? kYes : kNo;
  return finding;
}

}  // namespace dryfit::cli

#include "cli/check/finding.hpp"

#include <algorithm>

#include "cli/io/exit_code.hpp"
#include "cli/sentences/frame_notes.hpp"
#include "cli/words/say.hpp"
#include "planner/effort/no_way_in.hpp"
#include "planner/effort/tilt.hpp"
#include "planner/shop/drill.hpp"
#include "planner/state/no_rest.hpp"

namespace dryfit::cli {

const char* word_for(Verdict verdict) {
  switch (verdict) {
    case Verdict::buildable: return "buildable";
    case Verdict::open: return "open";
    case Verdict::locked: return "locked";
    case Verdict::undecided: return "undecided";
    case Verdict::overlapping: return "overlapping";
  }
  return "";
}

namespace {

/// Between floor and ceiling, which `frame` has to be got in between as it stands when finished.
void look_for_a_way_in(Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  if (!finding.order.buildable || !planner::height_of_room(frame)) return;
  const planner::Undoer undoer(frame, list);
  finding.no_way_in = planner::no_way_in(frame, planner::Effort(undoer, 1));
}

/// On three places a board lies as drawn, whatever drops beside them.
constexpr std::size_t kHoldUp = 3;

std::vector<model::PartId> boards_that_drop(const model::Frame& frame, const planner::Fit& fit) {
  std::vector<model::PartId> boards;
  for (const planner::DrillSheet& sheet : planner::drill_sheets(frame, fit)) {
    const auto drops = std::count_if(sheet.holes.begin(), sheet.holes.end(),
                                     [](const planner::DrillHole& hole) { return hole.drops > 0.0; });
    const std::size_t held = frame.board_of(sheet.board).carriers.size() - static_cast<std::size_t>(drops);
    if (drops > 0 && held < kHoldUp) boards.push_back(sheet.board);
  }
  return boards;
}

/// Of a frame whose ends don't meet, or of which that was not found out. What overlaps gets no order, so there is no
/// rest of the answer that could hold later.
std::string not_closed_note(const Finding& finding) {
  const bool no_rest = !finding.overlaps.empty();
  if (!finding.fit.decided) {
    return no_rest ? say("Whether the frame lines up wasn't found out.")
                   : say("Whether the frame lines up wasn't found out. The rest of this answer holds once it does.");
  }
  return no_rest ? say("The frame doesn't line up either (see `dryfit fit`).")
                 : say("The frame doesn't line up yet (see `dryfit fit`). The rest of this answer holds once that is "
                       "put right.");
}

}  // namespace

Finding find_out(const model::Frame& frame, const planner::ContactList& list, planner::Foreman* foreman) {
  Finding finding;
  planner::FitOptions options;
  options.cures = false;  // who tells them looks for them, see look_for_closing
  options.foreman = foreman;
  finding.fit = planner::find_fit(frame, options);
  if (!finding.fit.turns.empty() || finding.fit.shift != model::Vec3{}) {
    Placed placed{planner::turned(frame, finding.fit.turns, finding.fit.shift), {}};
    placed.contacts = planner::contacts_of(placed.frame);
    placed.contacts.struck_out = list.struck_out;
    finding.turned = std::make_shared<const Placed>(std::move(placed));
  }
  const model::Frame& stands = finding.as_made(frame);
  const planner::ContactList& contacts = finding.turned ? finding.turned->contacts : list;
  finding.overlaps = planner::overlaps_of(stands, contacts);
  finding.without_rest = planner::without_rest(frame);
  // What weighs most comes last, and so stands first.
  finding.notes = notes_on(frame, list);
  const auto put_first = [&](std::string note) { finding.notes.insert(finding.notes.begin(), std::move(note)); };
  if (finding.fit.state == planner::FitState::open) put_first(not_closed_note(finding));
  for (const model::PartId board : finding.without_rest) put_first(no_rest_note(frame, board));
  if (!finding.overlaps.empty()) {
    finding.verdict = Verdict::overlapping;
    finding.code = kNo;
    return finding;
  }
  finding.order = planner::find_order(stands, contacts);
  finding.drops = boards_that_drop(frame, finding.fit);
  look_for_a_way_in(finding, stands, contacts);
  if (finding.no_way_in) std::erase(finding.notes, stand_it_up_note(frame));
  finding.verdict = finding.order.buildable ? Verdict::buildable : Verdict::locked;
  finding.code = finding.order.buildable ? kYes : kNo;
  return finding;
}

}  // namespace dryfit::cli

#pragma once
/// What now: the answer of `order` from a frame that is half built, lacks a part or has a bad one.
#include <string>
#include <vector>

#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/streams.hpp"
#include "planner/now/meanwhile.hpp"
#include "planner/now/way_on.hpp"

namespace dryfit::cli {

/// What a person says of the moment. At least one of them is given.
struct NowAsked {
  std::string built;                 ///< as given_state() reads it; "": all with `replace`, else nothing
  std::vector<std::string> replace;  ///< parts that come out and go in again, by name
  std::vector<std::string> without;  ///< parts that are not there, by name
  [[nodiscard]] bool any() const { return !built.empty() || !replace.empty() || !without.empty(); }
};

struct NowAnswer {
  std::vector<char> built;                 ///< per contact
  std::vector<planner::Move> undo;         ///< first undone first
  planner::Bounded undo_moves;             ///< how many have to come off
  std::vector<planner::ContactId> kept;    ///< what stays made, ascending
  std::vector<planner::Step> made_before;  ///< a way in which what is kept can have been made: for the words of `steps`
  std::vector<planner::Step> steps;        ///< from there to the finished frame, numbered from 1
  planner::Bounded effort;                 ///< of `steps`, seconds of easy work
  long long states = 0;
  int needed_at = 0;      ///< with `without`: the number of the step that needs the first missing part
  planner::Bounded left;  ///< with `without`: moves left for when the parts are there
};

/// For a frame that can be built; `finding` has its order. Every move has passed the judge, on the frame as drawn and
/// on the frame as it stands after the turns of its fit. Throws UsageError for a state that cannot be, a part that is
/// not there, one to replace that is not on, or a missing one that is.
[[nodiscard]] NowAnswer now_answer(const LoadedFrame& loaded, const Finding& finding, const NowAsked& asked, int people,
                                   const Streams& streams);

}  // namespace dryfit::cli

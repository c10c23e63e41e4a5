#pragma once
/// What a builder should know about a frame beside the verdict.
#include <string>
#include <vector>

#include "planner/state/left_out.hpp"

namespace dryfit::cli {

/// Whole sentences: a frame fastened between two facing surfaces (somebody has to get it in there), a run that starts
/// somewhere for want of a place, a flange that lies on something and is not screwed to it. Empty when there is nothing
/// to say. O(parts + contacts), and what planner::bare_flanges takes.
[[nodiscard]] std::vector<std::string> notes_on(const model::Frame& frame, const planner::ContactList& list);

/// The note of these that has the frame stood up between floor and ceiling; "" where it does not have both.
[[nodiscard]] std::string stand_it_up_note(const model::Frame& frame);

/// That nothing places Frame::lone_run, which there has to be.
[[nodiscard]] std::string lone_run_note(const model::Frame& frame);

/// "P8 stands in T2, but nothing screws it in. ...": what the file has to say so that the end is joined.
[[nodiscard]] std::string bare_end_note(const model::Frame& frame, const planner::BareEnd& bare);

/// What is wrong with a board of planner::without_rest, in a sentence.
[[nodiscard]] std::string no_rest_note(const model::Frame& frame, model::PartId board);

}  // namespace dryfit::cli

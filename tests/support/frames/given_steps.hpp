#pragma once
/// Steps of a build order written as lines of words, and what the judge says to them.
#include <string>
#include <string_view>
#include <vector>

#include "planner/judge/replay.hpp"

namespace dryfit::test {

/// A frame from format 1 text with its contacts.
struct Workpiece {
  model::Frame frame;
  planner::ContactList list;
};
[[nodiscard]] Workpiece workpiece(std::string_view text);

/// Two posts on the floor (FL P1 C1 P2 C2 P3 K1, FR P5 C3 P6 C4 P7 K2), S1 on C1 and C3, S2 on C2 and C4. The uppermost
/// pipes are as long as told.
[[nodiscard]] Workpiece tray_rack(const std::string& upper_pipe = "12");

/// "slide S1/P2 S1/P6" or "screw P1/FL.up moving P1 C1". Throws std::invalid_argument on an unknown word.
[[nodiscard]] planner::GivenStep given_step(const Workpiece& piece, const std::string& line);

/// The steps of an order as somebody else would hand them in.
[[nodiscard]] std::vector<planner::GivenStep> given_steps(const std::vector<planner::Step>& steps);

/// A step that makes these contacts, with the word that fits them: a joint is screwed even where holes come with it.
[[nodiscard]] planner::GivenStep fitting_step(const planner::ContactList& list,
                                              const std::vector<planner::ContactId>& contacts);

/// What the judge says to undoing the step in the finished frame less the contacts in `gone` (ids, or "*P4" for every
/// contact of that part): "legal", or why not.
[[nodiscard]] std::string undo(const Workpiece& piece, const std::string& line,
                               const std::vector<std::string>& gone = {});

/// What the judge says to a whole order: "legal", or why not.
[[nodiscard]] std::string replayed(const Workpiece& piece, const std::vector<std::string>& lines);

}  // namespace dryfit::test

#pragma once
/// Steps as instructions for a tired person with greasy gloves: one verb, the labels taped on the parts, which side
/// turns and which is held, how many turns, what to watch. Trade words only.
#include <string>
#include <vector>

#include "model/geometry/attitude.hpp"
#include "planner/order/order.hpp"

namespace dryfit::cli {

/// One step in words.
struct StepWords {
  std::string text;                     ///< the instruction
  int hands = 1;                        ///< people needed
  std::vector<std::string> cautions;    ///< what to watch in this step; empty for most
  std::vector<model::PartId> steadied;  ///< what a second person keeps in its place meanwhile
  std::vector<model::PartId> tied;      ///< boards that stay only as long as they are tied or held
};

/// Words for each step. Later steps are described on the ground of what earlier ones have made (does the board already
/// find its carrier?), so the whole order is given, or with `standing` what was made before its first step. Up, down,
/// left, right, front and back are those of the room: `lies` says for each step how the work lies in it; with none they
/// are those of the finished frame. Pure; about O(steps * parts per step).
[[nodiscard]] std::vector<StepWords> words_for(const model::Frame& frame, const planner::ContactList& list,
                                               const std::vector<planner::Step>& steps,
                                               const std::vector<model::Attitude>& lies = {},
                                               const std::vector<planner::ContactId>& standing = {});

}  // namespace dryfit::cli

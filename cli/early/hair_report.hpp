#pragma once
/// Last calls that hold by less than a hair, as JSON and in words.
#include <cstddef>
#include <iosfwd>
#include <string>
#include <vector>

#include "cli/json/json_answer.hpp"
#include "planner/early/trap.hpp"

namespace dryfit::cli {

/// On frames of more contacts nobody is told of hairs: that takes all last calls twice more.
inline constexpr std::size_t kMostAskedOfHairs = 400;

/// `within_hair` of one part: null where a hair makes no difference.
[[nodiscard]] Json hair_json(const model::Frame& frame, const planner::ContactList& list,
                             const planner::EarlyPart& early);
/// Sentences about one part: until when it would have to be on with so much less, or more, room, and why.
[[nodiscard]] std::vector<std::string> hair_texts(const model::Frame& frame, const planner::ContactList& list,
                                                  const planner::EarlyPart& early);
/// The parts that a hair decides about; nothing where it decides about none. Unless `whole`, only what matters to who
/// is told the traps: those that would be one with less room, and those that would be none so early with more.
void print_hairs(const model::Frame& frame, const planner::ContactList& list,
                 const std::vector<planner::EarlyPart>& parts, bool whole, std::ostream& out);

}  // namespace dryfit::cli

#pragma once
/// What stands there, as a person says it: the first steps of an order, a file of steps, or joints and boards by name.
#include <optional>
#include <string>
#include <vector>

#include "cli/input/frame_file.hpp"
#include "cli/io/streams.hpp"
#include "planner/now/way_between.hpp"
#include "planner/state/named_part.hpp"

namespace dryfit::cli {

/// The K of "--built K"; nothing when `said` is something else.
[[nodiscard]] std::optional<int> step_count(const std::string& said);

/// What the first `count` steps of `order` make of so many `contacts`. UsageError, repeating `said`, for a count that
/// the order does not have.
[[nodiscard]] std::vector<char> after_steps(const std::string& said, int count, const planner::StepsOfContacts& order,
                                            std::size_t contacts);

/// Which contacts are made, one flag each. `said`: "K" for the first K steps of `order`, the name of a steps file
/// (ending in .json; "-": standard input), or names set apart by commas:
/// - "P3 in C2": the joint of the two; "FL on floor": a flange's screws; a contact's id stands for itself;
/// - "S1 on P3": the board on that pipe; "S1 on": on all of its carriers that are joined to something;
/// - "K1 on": a part with one joint.
/// Throws UsageError with all that is not known, that leaves open what is meant, or that cannot stand so: a board on
/// what is joined to nothing, or what no order of legal moves can have made.
[[nodiscard]] std::vector<char> given_state(const LoadedFrame& loaded, const std::string& said,
                                            const planner::StepsOfContacts& order, const Streams& streams);

/// Throws what given_state() throws of names that the frame has not, or that leave open what is meant; no order has to be
/// known for it. Standard input is left for later.
void check_names(const LoadedFrame& loaded, const std::string& said, const Streams& streams);

/// The parts of these names; UsageError, beginning with `option`, for one that the frame has not.
[[nodiscard]] std::vector<planner::NamedPart> parts_named(const LoadedFrame& loaded,
                                                          const std::vector<std::string>& names, const char* option);

}  // namespace dryfit::cli

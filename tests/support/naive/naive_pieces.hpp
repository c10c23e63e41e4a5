#pragma once
/// Pieces of work looked at slowly and without the planner's code, for naive_effort and naive_handling.
#include <functional>
#include <set>
#include <string>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::test {

/// A rate of model/data/effort.csv; not a number when there is none of that name.
[[nodiscard]] double rate(const std::string& name);

[[nodiscard]] const planner::Contact& contact(const planner::ContactList& list, planner::ContactId c);
[[nodiscard]] bool hole_like(const planner::Contact& c);

/// All vertices that hang together with `start` through the made contacts that `counts` admits; the room is a vertex.
[[nodiscard]] std::set<int> together(const planner::ContactList& list, const std::vector<char>& made, int start,
                                     const std::function<bool(const planner::Contact&)>& counts);
/// The same through all made contacts.
[[nodiscard]] std::set<int> together(const planner::ContactList& list, const std::vector<char>& made, int start);
[[nodiscard]] std::set<int> without_room(const planner::ContactList& list, std::set<int> vertices);

/// kg.
[[nodiscard]] double mass(const model::Frame& frame, const std::set<int>& parts);
[[nodiscard]] model::Bounds box_of(const model::Frame& frame, const std::set<int>& parts);
/// A second lift of what is made up already, seconds; a bare part is lifted once.
[[nodiscard]] double carry(const model::Frame& frame, const std::set<int>& parts, int people);

}  // namespace dryfit::test

#pragma once
/// Ways round that two or more loops of a basis make together: round a ladder's frame past its rung.
#include <optional>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// A simple way round: vertex i lies between contacts i and i + 1, the last before the first.
struct WayRound {
  std::vector<ContactId> contacts;
  std::vector<int> vertices;
};

/// Loops of a basis are summed when there are no more than these: their sums double with each.
inline constexpr std::size_t kMostSummed = 5;

/// Of the loops, each given by its contacts, all that two or more make together: the contacts that are in an odd number
/// of them, where those are one simple way round. Nothing for more than kMostSummed. O(2^loops * contacts).
[[nodiscard]] std::vector<WayRound> sums_of(const ContactList& list, const std::vector<std::vector<ContactId>>& loops);

}  // namespace dryfit::planner

#pragma once
/// A knot in words: rings of joints, and what is caught besides.
#include <string>
#include <vector>

#include "planner/order/order.hpp"

namespace dryfit::cli {

/// A closed chain of the knot's joints: whichever is made last, its two sides hang together already.
struct KnotRing {
  std::vector<planner::ContactId> contacts;  ///< ascending
  std::vector<model::PartId> parts;          ///< round the ring, from the one that comes first in the file
};

/// Rings that together hold every contact of the knot which some ring holds; the shortest first. O(knot^2).
[[nodiscard]] std::vector<KnotRing> rings_of(const planner::ContactList& list, const planner::Order& order);

/// The knot as whole lines: the joints, the parts, the rings, and for joints that are in none why they cannot be
/// undone.
[[nodiscard]] std::string knot_text(const model::Frame& frame, const planner::ContactList& list,
                                    const planner::Order& order);

}  // namespace dryfit::cli

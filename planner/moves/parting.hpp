#pragma once
/// Two parts that touch in the finished frame and go apart without a hit, whatever their bodies say. Private to
/// planner/.
#include "planner/state/body_index.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// The two make up a thread in the finished frame, and `a` moved by `sweep` goes straight out of it. O(contacts of a).
[[nodiscard]] bool drawn_apart(const ContactList& list, PartId a, PartId b, model::Vec3 sweep);

/// `board_part` moved by `sweep` leaves its carrier, whose body pokes into no more than the trailing half of it. False
/// for what is no board. O(carriers).
[[nodiscard]] bool lifted_off(const model::Frame& frame, const BodyIndex& index, PartId board_part, int carrier_body,
                              model::Vec3 sweep);

}  // namespace dryfit::planner

#pragma once
/// Two parts that touch in the finished frame and go apart without a hit, whatever their bodies say. Private to
/// planner/.
#include "planner/state/body_index.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// The two make up a thread in the finished frame, and `a` moved by `sweep` goes straight out of it. O(contacts of a).
[[nodiscard]] bool drawn_apart(const ContactList& list, PartId a, PartId b, model::Vec3 sweep);

/// `carrier` carries the board, or stands in it as drawn alone (Board::sunken); the board, moved by `sweep`, is not
/// pressed onto it: it goes the way it faces or along its own plane. However high the carrier is drawn, the board is
/// lifted off it or slides over it; what they overlap by is a closure, told by the fit. False for what is no board.
/// O(carriers).
[[nodiscard]] bool leaves_carrier(const model::Frame& frame, PartId board_part, PartId carrier, model::Vec3 sweep);

/// How much overlap two parts may have without a hit, mm: union halves spring apart.
[[nodiscard]] double touch_between(const model::Frame& frame, const ContactList& list, PartId a, PartId b);

}  // namespace dryfit::planner

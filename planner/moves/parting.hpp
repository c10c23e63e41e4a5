#pragma once
/// Two parts that touch in the finished frame and go apart without a hit, whatever their bodies say. Private to
/// planner/.
#include "planner/state/body_index.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// `carrier` carries the board, or stands in it as drawn alone (Board::sunken); the board, moved by `sweep`, is not
/// pressed onto it: it goes the way it faces or along its own plane. However high the carrier is drawn, the board is
/// lifted off it or slides over it; what they overlap by is a closure, told by the fit. False for what is no board.
/// O(carriers).
[[nodiscard]] bool leaves_carrier(const model::Frame& frame, PartId board_part, PartId carrier, model::Vec3 sweep);

/// Moved by `sweep` the part is drawn straight out of the other's thread, or a board leaves its carrier, whichever of the
/// two moves. O(contacts of the part + carriers).
[[nodiscard]] bool goes_apart(const model::Frame& frame, const ContactList& list, PartId moved, PartId left,
                              model::Vec3 sweep);

/// How much overlap two parts may have without a hit, mm: union halves spring apart.
[[nodiscard]] double touch_between(const model::Frame& frame, const ContactList& list, PartId a, PartId b);

}  // namespace dryfit::planner

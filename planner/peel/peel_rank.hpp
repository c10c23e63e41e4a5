#pragma once
/// In which order contacts are tried while a frame is peeled.
#include <compare>

#include "planner/state/contacts.hpp"

namespace dryfit::planner {

/// Pieces up to this many parts are tried first; the cap grows only when nothing smaller is left to try.
inline constexpr std::size_t kFirstPeelCap = 16;

/// Smaller goes first. What is built last is undone first: what holds the frame to the room, then straps, nuts and
/// boards, then the frame itself, against the order of the file.
struct PeelRank {
  int rank;
  int late;   ///< minus the position in the file of the later part
  int minus;  ///< minus the contact: late ones before early ones
  [[nodiscard]] ContactId contact() const { return -minus; }
  friend auto operator<=>(const PeelRank&, const PeelRank&) = default;
};
[[nodiscard]] PeelRank peel_rank(const ContactList& list, ContactId c);

}  // namespace dryfit::planner

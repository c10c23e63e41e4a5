#pragma once
/// What the oracle counts with: states of a frame and moves between them.
#include <bitset>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::test {

inline constexpr std::size_t kMostContacts = 192;
/// One bit per contact of Oracle::ids(): set while the contact is made.
using State = std::bitset<kMostContacts>;

enum class MoveKind { unscrew, slide_apart, sideways, swing, take_away, undo_nut, unfasten };

/// One legal undo move.
struct UndoMove {
  MoveKind kind = MoveKind::unscrew;
  State undone;                       ///< contacts that go
  std::vector<model::PartId> moving;  ///< ascending; empty for nuts and fastenings
};

}  // namespace dryfit::test

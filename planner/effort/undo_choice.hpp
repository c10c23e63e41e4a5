#pragma once
/// Which of several undo moves that cost no extra is undone first. They all lead to orders of the same effort, so this
/// only decides how the order reads: what a fitter does last is undone first.
#include <array>
#include <tuple>

#include "planner/effort/effort.hpp"

namespace dryfit::planner {

/// Where the hands were last.
struct Place {
  model::Vec3 at;
  bool known = false;
};

/// Rank of a move; the smaller is undone first. Made of places and kinds alone, so that new names change nothing.
struct UndoKey {
  int rank = 0;        ///< what it is: see key_of
  long long band = 0;  ///< height in bands of a hand's breadth, the highest first
  long long walk = 0;  ///< from where the hands were last
  std::array<long long, 3> where{};
  int kind = 0;
  friend bool operator==(const UndoKey&, const UndoKey&) = default;
  friend bool operator<(const UndoKey& a, const UndoKey& b) {
    return std::tie(a.rank, a.band, a.walk, a.where, a.kind) < std::tie(b.rank, b.band, b.walk, b.where, b.kind);
  }
};

/// Straps and screws of boards first, then a pipe that has just been unscrewed and still hangs in its holes, boards as
/// soon as they are free of all their pipes, then the screws of flanges: weight goes on last, when what carries it is
/// fast. Then everything else from the top down and near the last place; a lone leg on a board last of all from its far
/// end, as the others of its table. `just_moved`: parts of the move before, ascending. O(contacts of the parts that
/// move).
[[nodiscard]] UndoKey key_of(const model::Frame& frame, const ContactList& list, const Effort& effort,
                             const State& state, const Move& move, const Place& last,
                             const std::vector<PartId>& just_moved);

/// Middle of where the move's joint is, for the next key.
[[nodiscard]] Place place_of(const ContactList& list, const Effort& effort, const Move& move);

}  // namespace dryfit::planner

#pragma once
/// Through a door, and moving house: the answer of `order` with --carry or --down.
#include <optional>
#include <string>

#include "cli/check/finding.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/io/streams.hpp"
#include "planner/now/carry.hpp"

namespace dryfit::cli {

/// What is said of door and direction. At least one of `carry` and `down` is given.
struct DoorAsked {
  std::string carry;  ///< as opening_said() reads it; "": no door
  bool down = false;  ///< apart instead of together
  [[nodiscard]] bool any() const { return down || !carry.empty(); }
};

struct DoorAnswer {
  std::optional<planner::Opening> opening;
  bool down = false;
  bool from_built = false;                 ///< something was said to stand there already
  std::vector<char> built;                 ///< per contact: what stands; with `down` what is taken apart
  planner::Carry carry;                    ///< without `down`
  std::vector<planner::Step> made_before;  ///< a way in which what `carry` keeps can have been made: for the words
  planner::TakeDown apart;                 ///< with `down`
  /// Of `carry`, before the door and behind it.
  [[nodiscard]] std::vector<planner::Step> steps() const {
    std::vector<planner::Step> all = carry.before;
    all.insert(all.end(), carry.on_spot.begin(), carry.on_spot.end());
    return all;
  }
  [[nodiscard]] const std::vector<planner::Move>& undo() const { return down ? apart.undo : carry.undo; }
  [[nodiscard]] const planner::Bounded& undo_moves() const { return down ? apart.undo_moves : carry.undo_moves; }
  [[nodiscard]] const std::vector<planner::CarriedPiece>& too_large() const {
    return down ? apart.too_large : carry.too_large;
  }
};

/// For a frame that can be built; `finding` has its order. `built` as given_state() reads it; "": with `down` the
/// finished frame, else bare parts. Every move has passed the judge, on the frame as drawn and on the frame as it stands after the
/// turns of its fit. Throws UsageError for a door that is none and a state that cannot be.
[[nodiscard]] DoorAnswer door_answer(const LoadedFrame& loaded, const Finding& finding, const DoorAsked& asked,
                                     const std::string& built, int people, const Streams& streams);

}  // namespace dryfit::cli

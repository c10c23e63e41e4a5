#pragma once
/// Room for the driver: what stands over the screws of a flange in the finished frame. Private to planner/.
///
/// A flange has four screws on a circle about its pipe. Each is driven straight in, from the side that the pipe is on,
/// and needs a clear way of Frame::driver along its axis, as thin as a long bit. The flange may be turned on its pipe
/// before it is screwed down, so one position of the four is enough. Where a screw of a board, clip or strap sits is
/// the builder's choice: those are never in the way of anything.
///
/// Worked example, 3/4 in: the screws stand 31.8 mm from the axis. A shelf 80 mm above the plate lies over all of them,
/// however the flange is turned: while it is there the screws stay as they are, unless it can be pushed up its posts by
/// 70 mm, so that 150 mm are free. A pipe that crosses 80 mm above the middle is over two screws until the flange is
/// turned by 45 degrees; of one that crosses 20 mm beside the middle some screw is always under it.
#include <optional>
#include <vector>

#include "planner/state/body_index.hpp"

namespace dryfit::planner {

/// What a board meets when it is pushed along its pipes out of the driver's way.
struct PushedAside {
  PartId board = model::kNone;
  std::vector<PartId> stops;   ///< ascending; each stops it before the way is clear
  int surface = model::kNone;  ///< and so does this one
  /// Of the stops the boards that may go along, each with what it meets on the rest of the way.
  std::vector<PushedAside> pushes;
};

/// The screws of one fastening, position by position of the flange.
struct ScrewReach {
  struct Position {
    std::vector<PartId> over;    ///< parts over one of the screws, ascending
    int surface = model::kNone;  ///< a surface that is too near
  };
  std::vector<Position> positions;  ///< empty: nothing is ever in the way
  std::vector<PushedAside> aside;   ///< boards among `over` that have holes along the screws, by part
  model::Direction away;            ///< the way the driver comes from
  model::Vec3 plate;                ///< middle of the plate's face that the screw heads lie on
};

/// O(bodies near the flange). Parts are where the finished frame has them.
[[nodiscard]] ScrewReach reach_of(const model::Frame& frame, const ContactList& list, const BodyIndex& index,
                                  const Contact& fastening);

}  // namespace dryfit::planner

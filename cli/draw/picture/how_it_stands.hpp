#pragma once
/// What the picture of a step has to know besides the step.
#include <vector>

#include "model/frame/frame.hpp"
#include "model/geometry/attitude.hpp"

namespace dryfit::cli {

/// How the work of a step stands in the room.
struct HowItStands {
  bool on_floor = false;  ///< on the floor that it will stand on in the end, which is drawn
  model::Attitude lies{};
  bool propped = false;                 ///< it does not stand by itself after the step
  int people = 1;                       ///< that the step takes
  std::vector<model::PartId> steadied{};  ///< kept in their places by a second person
  std::vector<model::PartId> tied{};      ///< stay only as long as they are tied or held
};

}  // namespace dryfit::cli

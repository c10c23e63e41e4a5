#pragma once
/// Frames put together by hand, body by body, for tests that must not depend on the reader.
#include <string>
#include <vector>

#include "model/frame/frame.hpp"

namespace dryfit::tests {

/// Adds parts to a frame; every call returns the new part's id. Lengths in mm.
class HandFrame {
 public:
  model::PartId pipe(const std::string& id, model::Vec3 from, model::Direction along, double length,
                     double diameter = 26.7);
  /// One arm per direction, from `centre`, `reach` long, `band` across.
  model::PartId fitting(const std::string& id, model::PartKind kind, model::Vec3 centre,
                        const std::vector<model::Direction>& arms, double reach = 33.0, double band = 37.0);
  model::PartId coupling(const std::string& id, model::Vec3 middle, model::Direction along, double length = 38.0,
                         double band = 37.0);
  /// `face` is the centre of the mounting face; the port looks along `facing`.
  model::PartId flange(const std::string& id, model::Vec3 face, model::Direction facing);
  struct HoleFor {
    model::PartId pipe = model::kNone;
    model::Vec3 at;  ///< any point of the axis
    double diameter = 28.6;
    model::Direction open{};  ///< valid: a slot open to that edge
  };
  model::PartId board(const std::string& id, model::Vec3 lo, model::Vec3 hi, int normal,
                      const std::vector<HoleFor>& holes = {});
  model::Frame frame;

 private:
  model::PartId add(model::Part part);
};

/// A rack: two posts from floor flanges, a foot rail between two tees, a shelf on couplings with the posts through
/// it, a second shelf slotted from the front, elbows on top that carry a cross rail, and a loose board on the floor.
[[nodiscard]] model::Frame hand_rack();

}  // namespace dryfit::tests

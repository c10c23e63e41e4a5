#pragma once
/// How a thing lies in the room, by quarter turns.
#include "model/geometry/direction.hpp"

namespace dryfit::model {

/// Where the own right and up of a thing point in the room; both along axes and square to each other. Default: as it
/// stands when it is finished.
struct Attitude {
  Direction right = kRight;
  Direction up = kUp;
  friend constexpr bool operator==(const Attitude&, const Attitude&) = default;
  /// Where its own back points: up x right, right-handed.
  [[nodiscard]] constexpr Direction back() const {
    return {up.y * right.z - up.z * right.y, up.z * right.x - up.x * right.z, up.x * right.y - up.y * right.x};
  }
  [[nodiscard]] constexpr bool as_finished() const { return right == kRight && up == kUp; }
  /// From the thing's own directions to those of the room. What is valid stays valid.
  [[nodiscard]] constexpr Direction operator()(Direction own) const {
    const Direction b = back();
    return {own.x * right.x + own.y * b.x + own.z * up.x, own.x * right.y + own.y * b.y + own.z * up.y,
            own.x * right.z + own.y * b.z + own.z * up.z};
  }
  [[nodiscard]] constexpr Vec3 operator()(Vec3 own) const {
    const Direction b = back();
    return {own.x * right.x + own.y * b.x + own.z * up.x, own.x * right.y + own.y * b.y + own.z * up.y,
            own.x * right.z + own.y * b.z + own.z * up.z};
  }
  /// From the room's directions to the thing's own.
  [[nodiscard]] constexpr Vec3 own(Vec3 room) const {
    const Direction b = back();
    return {room.x * right.x + room.y * right.y + room.z * right.z, room.x * b.x + room.y * b.y + room.z * b.z,
            room.x * up.x + room.y * up.y + room.z * up.z};
  }
};

}  // namespace dryfit::model

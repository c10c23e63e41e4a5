#pragma once
/// A frame that several tests ask about.

namespace dryfit::test {

/// A pole in the open slots of two shelves on the wall: drawn forward out of both, or up along both once nothing of it
/// is too wide for that.
inline constexpr const char* kPoleInSlots = R"(dryfit: 1
name: Pole in two slots
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 6}
runs:
  pole:
    from: floor
    at: [0, 0]
    go: up
    parts:
      - FL: flange
      - P1: {pipe: 12}
      - C1: coupling
      - P2: {pipe: 12}
      - C2: coupling
      - P3: {pipe: 8}
      - K1: cap
boards:
  S1: {notch: {P2: front}, rests-on: [C1], size: {x: 20, y: 9, z: 3/4}, reach: {left: 10, front: 3}, stock: pine, fix: [wall]}
  S2: {notch: {P3: front}, rests-on: [C2], size: {x: 20, y: 9, z: 3/4}, reach: {left: 10, front: 3}, stock: pine, fix: [wall]}
)";

}  // namespace dryfit::test

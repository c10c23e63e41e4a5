#pragma once
/// Frames with a board that takes two people to lift, made by hand. A fitter screws down what carries it first, where
/// that costs little (common practice, no source).
#include <string>
#include <vector>

namespace dryfit::test {

/// 69 lb on two posts, flanges at both ends.
inline const std::string kTopOnTwoPosts = R"(dryfit: 1
pipe: {standard: npt, size: 1-1/4}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 30}, G1: flange], to: TOP.down}
  right: {from: floor, at: [36, 0], parts: [F2: flange, P2: {pipe: 30}, G2: flange], to: TOP.down}
boards:
  TOP: {rests-on: [G1, G2], size: {x: 60, y: 24, z: 1-3/4}, reach: {left: 12, front: 12}, stock: oak}
)";

/// 69 lb over two posts, on couplings, under caps.
inline const std::string kHeavyShelf = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  left: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 24}, C1: coupling, P2: {pipe: 12}, K1: cap]}
  right: {from: floor, at: [36, 0], parts: [F2: flange, P3: {pipe: 24}, C2: coupling, P4: {pipe: 12}, K2: cap]}
boards:
  S: {through: [P2, P4], rests-on: [C1, C2], size: {x: 60, y: 24, z: 1-3/4}, reach: {left: 12, front: 12}, stock: oak}
)";

/// 46 lb over the ends of two arms on the wall, under caps.
inline const std::string kShelfOnWallArms = R"(dryfit: 1
pipe: {standard: npt, size: 3/4}
surfaces:
  wall: {normal: front, at: 0}
runs:
  a: {from: wall, at: [0, 40], parts: [F1: flange, P1: {pipe: 8}, E1: {elbow: up}, Q1: {pipe: 12}, K1: cap]}
  b: {from: wall, at: [36, 40], parts: [F2: flange, P2: {pipe: 8}, E2: {elbow: up}, Q2: {pipe: 12}, K2: cap]}
boards:
  S: {through: [Q1, Q2], rests-on: [E1, E2], size: {x: 60, y: 16, z: 1-3/4}, reach: {left: 12, front: 8}, stock: oak}
)";

/// A board on one leg of a hoop, which shuts it in once both feet are screwed down.
inline const std::string kShelfUnderAHoop = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  hoop: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 24}, C1: coupling, P2: {pipe: 12}, E1: {elbow: back},
         R: {pipe: 20}, E2: {elbow: down}, P3: {pipe: 12}, C2: coupling, P4: {pipe: 24}, F2: flange], to: floor}
boards:
  S: {through: [P2], rests-on: [C1], size: {x: 30, y: 30, z: 1-3/4}, reach: {left: 15, front: 15}, stock: oak}
)";

/// A light board over a heavy one on one post.
inline const std::string kLightOverHeavy = R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  post: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 24}, C1: coupling, P2: {pipe: 12}, C2: coupling,
                                          P3: {pipe: 12}, K1: cap]}
boards:
  S: {through: [P2], rests-on: [C1], size: {x: 30, y: 30, z: 1-3/4}, reach: {left: 15, front: 15}, stock: oak}
  L: {through: [P3], rests-on: [C2], size: {x: 20, y: 20, z: 3/4}, reach: {left: 10, front: 10}, mass: 2 kg}
)";

[[nodiscard]] inline std::vector<std::string> heavy_frames() {
  return {kTopOnTwoPosts, kHeavyShelf, kShelfOnWallArms, kShelfUnderAHoop, kLightOverHeavy};
}

}  // namespace dryfit::test

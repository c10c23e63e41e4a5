#include "tests/support/frames/linked_frames.hpp"

namespace dryfit::test {
namespace {

/// Head and surfaces; sizes are 1/2.
std::string room(const std::string& surfaces) {
  return "dryfit: 1\nunits: in\npipe: {standard: npt, size: 1/2}\n" +
         (surfaces.empty() ? "" : "surfaces:\n" + surfaces) + "runs:\n";
}

const std::string kFloor = "  floor: {normal: up, at: 0}\n";
const std::string kWall = "  wall: {normal: front, at: 0}\n";

/// A pole from the floor, of 30 in, to the ceiling or with a free top.
std::string pole(bool to_ceiling) {
  return std::string("  pole:\n    from: floor\n    at: [0, 0]\n    parts: [FB: flange, P: {pipe: 30}, ") +
         (to_ceiling ? "FT: flange]\n    to: ceiling\n" : "K: cap]\n");
}

/// A square ring with a union, level, its near left corner at x, y, 15 in up, about 10 in wide.
std::string level_ring(const std::string& id, double x, double y, double z = 15.0) {
  const auto at = "[" + std::to_string(x) + ", " + std::to_string(y) + ", " + std::to_string(z) + "]";
  return "  ring " + id + ":\n    at: " + at + "\n    go: right\n    parts:\n      - " + id +
         "1: {pipe: 4}\n      - U" + (id == "A" ? "" : id) + ": union\n      - " + id + "2: {pipe: 4}\n      - E" + id +
         "1: {elbow: back}\n      - " + id + "3: {pipe: 9}\n      - E" + id + "2: {elbow: left}\n      - " + id +
         "4: {pipe: 9}\n      - E" + id + "3: {elbow: front}\n      - " + id + "5: {pipe: 9}\n      - E" + id +
         "4: {elbow: right}\n    to: " + id + "1.start\n";
}

/// The same upright in the plane of x and z.
std::string upright_ring(const std::string& id, double x, double y, double z) {
  const auto at = "[" + std::to_string(x) + ", " + std::to_string(y) + ", " + std::to_string(z) + "]";
  return "  ring " + id + ":\n    at: " + at + "\n    go: right\n    parts:\n      - " + id +
         "1: {pipe: 4}\n      - U" + id + ": union\n      - " + id + "2: {pipe: 4}\n      - E" + id +
         "1: {elbow: up}\n      - " + id + "3: {pipe: 9}\n      - E" + id + "2: {elbow: left}\n      - " + id +
         "4: {pipe: 9}\n      - E" + id + "3: {elbow: down}\n      - " + id + "5: {pipe: 9}\n      - E" + id +
         "4: {elbow: right}\n    to: " + id + "1.start\n";
}

/// A level window of two meshes with a rung between them, unions in its left side and in the rung; a pole at 0, 0 is in
/// the right one.
std::string window() {
  return "  window:\n    at: [-12, -6, 15]\n    go: right\n    parts:\n      - M1: {pipe: 8}\n      - T1: {tee: back}\n"
         "      - M2: {pipe: 8}\n      - E1: {elbow: back}\n      - R: {pipe: 9}\n      - E2: {elbow: left}\n"
         "      - M3: {pipe: 8}\n      - T2: {tee: front}\n      - M4: {pipe: 8}\n      - E3: {elbow: front}\n"
         "      - L1: {pipe: 4}\n      - UL: union\n      - L2: {pipe: 4}\n      - E4: {elbow: right}\n    to: M1.start\n"
         "  rung:\n    from: T1.back\n    parts: [N1: {pipe: 4}, UN: union, N2: {pipe: 4}]\n    to: T2.front\n";
}

/// A rail held off the wall by two flanges, 40 in up.
std::string wall_rail(bool to_wall) {
  return std::string(
             "  rail:\n    from: wall\n    at: [0, 40]\n    parts:\n      - FL: flange\n      - N1: {pipe: 8}\n"
             "      - R1: {elbow: right}\n      - P: {pipe: 30}\n      - R2: {elbow: back}\n") +
         (to_wall ? "      - N2: {pipe: 8}\n      - FR: flange\n    to: wall\n" : "      - N2: {pipe: 4}\n");
}

}  // namespace

std::vector<LinkedFrame> linked_frames() {
  const std::string high = kFloor + "  ceiling: {normal: down, at: 31}\n";
  return {
      {"a hoop round a pole that is screwed to floor and ceiling: it hangs there for good", true, true,
       room(high) + pole(true) + level_ring("A", -6, -6)},
      {"the same hoop beside the pole", false, false, room(high) + pole(true) + level_ring("A", 3, -6)},
      {"the same hoop round a pole with a free top: it is lifted off", false, false,
       room(kFloor) + pole(false) + level_ring("A", -6, -6)},
      {"a window of two meshes round the pole in one of them: either union closes a way round it", true, true,
       room(high) + pole(true) + window()},
      {"two rings like a chain, one level, one upright through its middle", true, true,
       room("") + level_ring("A", 0, 0) + upright_ring("B", 3.5, 5, 9)},
      {"two rings, one upright beside the other", false, false,
       room("") + level_ring("A", 0, 0) + upright_ring("B", 20, 5, 9)},
      {"two rings, one upright over the other", false, false,
       room("") + level_ring("A", 0, 0) + upright_ring("B", 3.5, 5, 18)},
      {"two rings, one level over the other", false, false,
       room("") + level_ring("A", 0, 0) + level_ring("B", 2, 2, 20)},
      {"a ring round a rail that the wall closes", true, true,
       room(kWall) + wall_rail(true) +
           "  hoop:\n    at: [15, -14, 34]\n    go: back\n    parts:\n      - B1: {pipe: 4}\n      - UB: union\n"
           "      - B2: {pipe: 2}\n      - EB1: {elbow: up}\n      - B3: {pipe: 9}\n      - EB2: {elbow: front}\n"
           "      - B4: {pipe: 6-3/4}\n      - EB3: {elbow: down}\n      - B5: {pipe: 9}\n      - EB4: {elbow: back}\n"
           "    to: B1.start\n"},
      {"the same ring round a rail of which one end is free", false, false,
       room(kWall) + wall_rail(false) +
           "  hoop:\n    at: [15, -14, 34]\n    go: back\n    parts:\n      - B1: {pipe: 4}\n      - UB: union\n"
           "      - B2: {pipe: 2}\n      - EB1: {elbow: up}\n      - B3: {pipe: 9}\n      - EB2: {elbow: front}\n"
           "      - B4: {pipe: 6-3/4}\n      - EB3: {elbow: down}\n      - B5: {pipe: 9}\n      - EB4: {elbow: back}\n"
           "    to: B1.start\n"},
      {"a loop of two legs that a board closes by its flanges, and a level ring round one leg", true, true,
       room("") +
           "  legs:\n    at: [0, 0, 0]\n    go: down\n    parts:\n      - L1: {pipe: 14}\n      - E1: {elbow: right}\n"
           "      - L2: {pipe: 20}\n      - E2: {elbow: up}\n      - L3: {pipe: 14}\n      - F2: flange\n"
           "    to: TOP.down\n  foot:\n    from: L1.start\n    parts: [F1: flange]\n    to: TOP.down\n" +
           level_ring("A", -5, -5, -8) + "boards:\n  TOP:\n    size: {x: 30, y: 10, z: 3/4}\n    at: [-4, -5]\n"},
  };
}

std::string random_linked_text(std::mt19937& rng) {
  const auto below = [&](unsigned most) { return static_cast<double>(rng() % most); };
  const bool with_pole = rng() % 2 == 0, to_ceiling = rng() % 4 != 0, level = rng() % 2 == 0;
  const std::string other = with_pole ? pole(to_ceiling) : level_ring("A", -6, -6, 16);
  const std::string surfaces = !with_pole ? "" : to_ceiling ? kFloor + "  ceiling: {normal: down, at: 31}\n" : kFloor;
  // The ring is about 11 in wide: within that of the other's middle it holds a part of it now and then.
  const double x = below(20) - 14, y = below(20) - 14;
  const std::string ring = level && with_pole ? level_ring("B", x, y, 8 + below(12))
                                              : upright_ring("B", x, y, with_pole ? 4 + below(12) : 4 + below(20));
  return room(surfaces) + other + ring;
}

}  // namespace dryfit::test

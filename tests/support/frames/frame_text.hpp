#pragma once
/// Frame files written short, and what the reader says about them.
#include <initializer_list>
#include <string>

#include "model/placing/reader.hpp"

namespace dryfit::test {

/// Four lines of head; sizes are 3/4 unless a part says otherwise.
inline const std::string kHead =
    "dryfit: 1\n"
    "pipe: {standard: npt, size: 3/4}\n"
    "surfaces:\n"
    "  floor: {normal: up, at: 0}\n";

/// One run up from the floor at [0, 0]. The first part stands in line 10, column 9.
inline std::string post(std::initializer_list<const char*> parts) {
  std::string out = kHead + "runs:\n  post:\n    from: floor\n    at: [0, 0]\n    parts:\n";
  for (const char* part : parts) out += std::string("      - ") + part + "\n";
  return out;
}

/// A post of two pipes and an arm to the right with a board 'S'; its lines begin in line 19, column 5.
inline std::string with_board(std::initializer_list<const char*> lines) {
  std::string out = kHead +
                    "  wall: {normal: front, at: 6}\n"
                    "runs:\n"
                    "  a:\n"
                    "    from: floor\n"
                    "    at: [0, 0]\n"
                    "    parts:\n"
                    "      - F: flange\n"
                    "      - P1: {pipe: 6}\n"
                    "      - C1: coupling\n"
                    "      - P2: {pipe: 6}\n"
                    "      - E: {elbow: right}\n"
                    "      - P3: {pipe: 20}\n"
                    "boards:\n"
                    "  S:\n";
  for (const char* line : lines) out += std::string("    ") + line + "\n";
  return out;
}

/// Two posts on the floor, FL P1 T1 P2 C1 P3 K1 and FR P5 T2 P6 C2 P7 K2, with a foot rail P4 of so many inches between
/// the tees. `boards` follow, if any; `surfaces` stand beside the floor.
inline std::string two_posts(const std::string& rail, const std::string& boards = "",
                             const std::string& surfaces = "") {
  const std::string runs =
      R"(runs:
  left post:
    from: floor
    at: [0, 0]
    go: up
    parts:
      - FL: flange
      - P1: {pipe: 6}
      - T1: {tee: right}
      - P2: {pipe: 12}
      - C1: coupling
      - P3: {pipe: 4-1/2}
      - K1: cap
  foot rail:
    from: T1.right
    parts:
      - P4: {pipe: )" +
      rail + R"(}
    to: T2.left
  right post:
    from: floor
    go: up
    parts:
      - FR: flange
      - P5: {pipe: 6}
      - T2: {tee: left}
      - P6: {pipe: 12}
      - C2: coupling
      - P7: {pipe: 4-1/2}
      - K2: cap
)";
  return kHead + surfaces + runs + (boards.empty() ? "" : "boards:\n" + boards);
}

/// The posts a foot apart with a drilled shelf S1 on the couplings, which the caps keep there.
inline std::string shelf_rack() {
  return two_posts("12", R"(  S1:
    through: [P3, P7]
    rests-on: [C1, C2]
    size: {x: 32, y: 9-1/4, z: 3/4}
    reach: {left: 2, front: 4-5/8}
)");
}

/// A 40 inch post on a floor flange with an arm of so many inches to the right at the top, capped. `surfaces` stand
/// beside the floor.
inline std::string arm(const std::string& length, const std::string& surfaces = "") {
  return R"(dryfit: 1
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
)" + surfaces +
         R"(runs:
  post:
    from: floor
    at: [0, 0]
    parts:
      - F: flange
      - P1: {pipe: 40}
      - E: {elbow: right}
      - P2: {pipe: )" +
         length + R"(}
      - K: cap
)";
}

/// Everything the reader says against the text, or "" when it reads it.
inline std::string complaint(const std::string& text) {
  try {
    (void)model::read_frame(text, "f.yaml");
  } catch (const model::InputError& error) {
    return error.what();
  }
  return "";
}

}  // namespace dryfit::test

#include "tests/support/frames/early_frames.hpp"

namespace dryfit::tests {

std::string free_rack_text(int boards) {
  const bool two = boards == 2;
  const auto post = [&](const char* id, const char* letter, const char* at, const char* turn) {
    const std::string x = letter;
    std::string text = std::string("  ") + id + " post:\n    go: up\n" + at + "    parts:\n      - K" + x +
                       ": cap\n      - A" + x + ": {pipe: 8}\n      - C" + x + ": coupling\n      - B" + x +
                       ": {pipe: 10}\n";
    if (two) text += "      - D" + x + ": coupling\n      - H" + x + ": {pipe: 10}\n";
    return text + "      - E" + x + ": {elbow: " + turn + "}\n";
  };
  std::string text = "dryfit: 1\nname: Free plant rack\npipe: {standard: npt, size: 3/4}\nruns:\n";
  text += post("left", "1", "    at: [0, 0, 0]\n", "right");
  text += "  top:\n    from: E1.right\n    parts:\n      - R: {pipe: 24}\n    to: E2.left\n";
  text += post("right", "2", "", "left");
  const auto board = [&](const char* id, const char* through, const char* on) {
    return std::string("  ") + id + ":\n    through: " + through + "\n    rests-on: " + on +
           "\n    size: {x: 30, y: 9-1/4, z: 3/4}\n    reach: {left: 3, front: 4-5/8}\n";
  };
  text += "boards:\n" + board("S1", "[B1, B2]", "[C1, C2]");
  if (two) text += board("S2", "[H1, H2]", "[D1, D2]");
  return text;
}

std::string trestle_text() {
  return "dryfit: 1\nname: Trestle\npipe: {standard: npt, size: 3/4}\n"
         "surfaces:\n  floor: {normal: up, at: 0}\nruns:\n"
         "  left post:\n    from: floor\n    at: [0, 0]\n    parts:\n"
         "      - F1: flange\n      - A1: {pipe: 8}\n      - T1: {tee: right}\n      - B1: {pipe: 8}\n      - K1: cap\n"
         "  rail:\n    from: T1.right\n    parts:\n      - R: {pipe: 24}\n    to: T2.left\n"
         "  right post:\n    from: floor\n    parts:\n"
         "      - F2: flange\n      - A2: {pipe: 8}\n      - T2: {tee: left}\n      - B2: {pipe: 8}\n      - K2: cap\n"
         "boards:\n  S:\n    through: [B1, B2]\n    rests-on: [T1, T2]\n    size: {x: 30, y: 9-1/4, z: 3/4}\n"
         "    reach: {left: 3, front: 4-5/8}\n";
}

std::string square_text(bool with_union) {
  return std::string(
             "dryfit: 1\nname: Square\npipe: {standard: npt, size: 3/4}\nruns:\n"
             "  square:\n    go: right\n    at: [0, 0, 0]\n    parts:\n"
             "      - E1: {elbow: up}\n      - A: {pipe: 12}\n      - E2: {elbow: left}\n      - B: {pipe: 12}\n"
             "      - E3: {elbow: down}\n") +
         (with_union ? "      - C1: {pipe: 5}\n      - U: union\n      - C2: {pipe: 5.98}\n"
                     : "      - C: {pipe: 12}\n") +
         "      - E4: {elbow: right}\n      - D: {pipe: 12}\n    to: E1.left\n";
}

std::string stack_text() {
  return "dryfit: 1\nname: Stack\npipe: {standard: npt, size: 3/4}\n"
         "surfaces:\n  floor: {normal: up, at: 0}\nruns:\n"
         "  post:\n    from: floor\n    at: [0, 0]\n    parts:\n"
         "      - F: flange\n      - A: {pipe: 8}\n      - T: {tee: right}\n      - B: {pipe: 6}\n      - K: cap\n"
         "  arm:\n    from: T.right\n    parts:\n      - C: {pipe: 12}\n      - G: cap\n"
         "boards:\n"
         "  LOW:\n    rests-on: [C]\n    size: {x: 8, y: 6, z: 3/4}\n    reach: {left: 4, front: 3}\n    strap: {C: 1}\n"
         "  HIGH:\n    rests-on: [LOW]\n    size: {x: 6, y: 5, z: 3/4}\n    reach: {left: 3, front: 2-1/2}\n";
}

}  // namespace dryfit::tests

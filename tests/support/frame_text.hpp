#pragma once
/// Frame files written short, and what the reader says about them.
#include <initializer_list>
#include <string>

#include "model/reader.hpp"

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

#pragma once
/// A part put on a free end of a frame, in its text.
#include <string>

#include "cli/input/frame_file.hpp"

namespace dryfit::cli {

struct PutOn {
  std::string text;  ///< of the frame with the part
  std::string id;    ///< the name that the part got
};

/// `place` is a free end (P5.end, T1.right) or a surface (floor, floor@0,24); `what` is a kind as the file holds it
/// ("coupling", "pipe: 12", "{tee: right, size: 1/2}"). Behind the last part of a run the run goes on, anywhere else a
/// new one begins. Throws UsageError that says what was found and what was expected.
[[nodiscard]] PutOn put_on(const std::string& text, const std::string& name, const std::string& place,
                           const std::string& what);

}  // namespace dryfit::cli

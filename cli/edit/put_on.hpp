#pragma once
/// A part put on a free end of a frame or a surface, in its text.
#include <string>

#include "cli/edit/ends.hpp"

namespace dryfit::cli {

struct PutOn {
  std::string text;  ///< of the frame with the part
  std::string id;    ///< the name that the part got
};

/// `place` is a free end (P5.end, T1.right) or a surface (floor, floor@0,24); `what` is a kind as the file holds it
/// ("coupling", "pipe: 12", "{tee: right, size: 1/2}"). Behind the last part of a run the run goes on, anywhere else a
/// new one begins. The first part of a frame brings its floor, wall or ceiling along. Throws UsageError that says what
/// was found and what was expected.
[[nodiscard]] PutOn put_on(const std::string& text, const std::string& name, const std::string& place,
                           const std::string& what);

/// `given` is "wall=4-5/8", or "shelf side=left 12" for one that is neither floor, wall nor ceiling. Throws UsageError
/// or std::invalid_argument.
[[nodiscard]] std::string with_surface_at(const std::string& text, const std::string& given);

/// The first lines of an empty file; `given` is "npt 3/4" or "iso7 1/2 cm". Throws UsageError or std::invalid_argument.
[[nodiscard]] std::string started(const std::string& text, const std::string& given);

}  // namespace dryfit::cli

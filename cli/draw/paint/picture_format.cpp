#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "cli/draw/paint/surface.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

PictureFormat format_for(const std::string& path) {
  const std::size_t dot = path.rfind('.');
  std::string ending = dot == std::string::npos ? "" : path.substr(dot + 1);
  std::transform(ending.begin(), ending.end(), ending.begin(),
                 [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
  if (ending == "svg") return PictureFormat::svg;
  if (ending == "pdf") return PictureFormat::pdf;
  if (ending == "png") return PictureFormat::png;
  throw DrawError(say("'{}': a picture's name ends in .svg, .pdf or .png", path));
}

void check_size(double width_mm, double height_mm) {
  constexpr double kLargest = 5000.0;
  if (!(width_mm >= 10.0 && height_mm >= 10.0 && width_mm <= kLargest && height_mm <= kLargest)) {
    throw DrawError(
        say("a picture of {:.6g} x {:.6g} mm cannot be drawn: each side is from 10 to 5000 mm", width_mm, height_mm));
  }
}

}  // namespace dryfit::cli

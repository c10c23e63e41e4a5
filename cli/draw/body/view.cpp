#include "cli/draw/body/view.hpp"

#include <cmath>
#include <numbers>

#include "cli/words/say.hpp"

namespace dryfit::cli {

std::string describe(const View& view) {
  const double azimuth = view.azimuth_deg * std::numbers::pi / 180.0;
  constexpr double kSlight = 0.2588;  // sine of 15 degrees
  const int across = std::sin(azimuth) > kSlight ? 1 : std::sin(azimuth) < -kSlight ? -1 : 0;
  const bool front = std::cos(azimuth) > kSlight, back = std::cos(azimuth) < -kSlight;
  std::string side;
  if (front) {
    side = across == 0 ? say("from the front") : across > 0 ? say("from the front right") : say("from the front left");
  } else if (back) {
    side = across == 0 ? say("from the back") : across > 0 ? say("from the back right") : say("from the back left");
  } else {
    side = across > 0 ? say("from the right") : say("from the left");
  }
  if (view.elevation_deg > 5.0) return say("{} and above", side);
  if (view.elevation_deg < -5.0) return say("{} and below", side);
  return side;
}

Projection::Projection(const View& view) {
  const double azimuth = view.azimuth_deg * std::numbers::pi / 180.0;
  const double elevation = view.elevation_deg * std::numbers::pi / 180.0;
  right = view.lies.own({std::cos(azimuth), std::sin(azimuth), 0.0});
  toward = view.lies.own(
      {std::sin(azimuth) * std::cos(elevation), -std::cos(azimuth) * std::cos(elevation), std::sin(elevation)});
  up = cross(toward, right);
}

}  // namespace dryfit::cli

#include "cli/draw/view.hpp"

#include <cmath>
#include <numbers>

namespace dryfit::cli {

std::string describe(const View& view) {
  const double azimuth = view.azimuth_deg * std::numbers::pi / 180.0;
  constexpr double kSlight = 0.2588;  // sine of 15 degrees
  std::string side;
  if (std::cos(azimuth) > kSlight) side = "front";
  if (std::cos(azimuth) < -kSlight) side = "back";
  if (std::sin(azimuth) > kSlight) side += side.empty() ? "right" : " right";
  if (std::sin(azimuth) < -kSlight) side += side.empty() ? "left" : " left";
  std::string out = "from the " + side;
  if (view.elevation_deg > 5.0) out += " and above";
  if (view.elevation_deg < -5.0) out += " and below";
  return out;
}

Projection::Projection(const View& view) {
  const double azimuth = view.azimuth_deg * std::numbers::pi / 180.0;
  const double elevation = view.elevation_deg * std::numbers::pi / 180.0;
  right = {std::cos(azimuth), std::sin(azimuth), 0.0};
  toward = {std::sin(azimuth) * std::cos(elevation), -std::cos(azimuth) * std::cos(elevation), std::sin(elevation)};
  up = cross(toward, right);
}

}  // namespace dryfit::cli

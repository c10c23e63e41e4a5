#pragma once
/// Looking into a placed frame.
#include <doctest/doctest.h>

#include <cmath>
#include <string>
#include <vector>

#include "model/placing/reader.hpp"

namespace dryfit::test {

inline constexpr double kIn = 25.4;

/// A point given in inches.
inline model::Vec3 inch(double x, double y, double z) { return {x * kIn, y * kIn, z * kIn}; }

/// Within a hundredth of a millimetre. (doctest's Approx is relative, and 0 would match nearly nothing.)
inline bool near(double a, double b) { return std::abs(a - b) < 0.01; }
inline bool near(model::Vec3 a, model::Vec3 b) { return model::norm(a - b) < 0.01; }

inline const model::Part& part(const model::Frame& frame, const std::string& id) {
  const model::PartId found = frame.find(id);
  REQUIRE_MESSAGE(found >= 0, "no part ", id);
  return frame.part(found);
}

/// The place of the end of a part that faces that way.
inline model::Vec3 end_at(const model::Frame& frame, const std::string& id, const std::string& direction) {
  for (const model::Port& port : part(frame, id).ports) {
    if (port.facing.name() == direction) return port.at;
  }
  FAIL(id, " has no end that faces ", direction);
  return {};
}

/// The closure between those two.
inline const model::Closure& closure(const model::Frame& frame, const std::string& a, const std::string& b) {
  for (const model::Closure& c : frame.closures) {
    if (c.between == std::vector<std::string>{a, b}) return c;
  }
  FAIL("no closure between ", a, " and ", b);
  return frame.closures.front();
}

/// "P4-T2", in the order of the frame.
inline std::vector<std::string> closure_names(const model::Frame& frame) {
  std::vector<std::string> out;
  for (const model::Closure& c : frame.closures) out.push_back(c.between[0] + "-" + c.between[1]);
  return out;
}

}  // namespace dryfit::test

namespace doctest {
/// Failures show coordinates in inches, as the arithmetic beside the checks does.
template <>
struct StringMaker<dryfit::model::Vec3> {
  static String convert(const dryfit::model::Vec3& v) {
    const std::string text = "(" + std::to_string(v.x / 25.4) + ", " + std::to_string(v.y / 25.4) + ", " +
                             std::to_string(v.z / 25.4) + ") in";
    return text.c_str();
  }
};
}  // namespace doctest

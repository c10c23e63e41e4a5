#pragma once
/// What has to be told to people, before it is put into words. The planner knows no language and no unit but its own:
/// it hands out an English sentence with fields and what goes into them.
#include <string>
#include <variant>
#include <vector>

namespace dryfit::planner {

/// A measure that is told in inches and in metric units, for it is read with either rule at hand.
struct Quantity {
  enum class As { length, fine, slope };  ///< fine: too small for shop fractions; slope: mm per m
  double value = 0.0;                     ///< mm
  As as = As::length;
};

/// Floor, wall or ceiling, by its id.
struct SurfaceName {
  std::string id;
};

/// A name, several names, a measure, or a surface.
using RemarkField = std::variant<std::string, std::vector<std::string>, Quantity, SurfaceName>;

struct Remark {
  const char* english = "";  ///< with a "{}" for each field; static storage; a message of the catalogues
  std::vector<RemarkField> fields;
};

/// Marks a text for the catalogues.
[[nodiscard]] constexpr const char* remarked(const char* english) { return english; }

}  // namespace dryfit::planner

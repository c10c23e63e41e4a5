#pragma once
/// Ids are ints, so that kNone is below all of them; containers count in std::size_t.
#include <cstddef>

namespace dryfit::planner {

[[nodiscard]] constexpr std::size_t at(int id) { return static_cast<std::size_t>(id); }

}  // namespace dryfit::planner

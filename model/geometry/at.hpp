#pragma once
/// Ids are ints, so that kNone is below all of them; containers count in std::size_t.
#include <concepts>
#include <cstddef>
#include <type_traits>

namespace dryfit {

/// The place in a container that an id, a count or an enumerator names. It must not be negative.
template <typename Id>
  requires std::integral<Id> || std::is_enum_v<Id>
[[nodiscard]] constexpr std::size_t at(Id id) {
  return static_cast<std::size_t>(id);
}

}  // namespace dryfit

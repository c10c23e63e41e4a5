#pragma once
/// A change of a design in a few words that fit on a command line, and back: whoever was told of a cure can have it
/// made.
#include <optional>
#include <string>
#include <string_view>

#include "planner/cure/cure_edit.hpp"

namespace dryfit::planner {

/// "union P3 middle", "coupling P3 start", "notch S1 back P3 P8", "wider-hole S1 38.1 P3" (mm), "flange P4 end floor",
/// "right-angle-driver F1 F2", "shared-threads P7 end".
[[nodiscard]] std::string name_of_change(const model::Frame& frame, const CureChange& change);

/// The change so named, to be made by `edited`; nullopt when the words name none of this frame. O(length of the words).
[[nodiscard]] std::optional<CureChange> change_named(const model::Frame& frame, std::string_view words);

}  // namespace dryfit::planner

#pragma once
/// What almost goes through a hole: how much play there is, and how much it takes.
#include <string>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// A thing `across` mm wide is not plainly wider than a hole of `hole` mm: whether it goes through is a matter of play.
[[nodiscard]] bool nearly_goes_through(double across, double hole);

/// "no play, and it takes 0.5 mm", "0.3 mm of play, and it takes 0.5 mm", or, where it goes but would not with less
/// room, "only 0.6 mm of play".
[[nodiscard]] std::string play_text(double across, double hole, model::Units units);

}  // namespace dryfit::cli

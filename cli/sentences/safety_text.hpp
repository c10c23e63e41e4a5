#pragma once
/// Warnings that hold for a whole frame, in the same words wherever they are given.
#include <string>

#include "model/frame/frame.hpp"

namespace dryfit::cli {

[[nodiscard]] std::string wear_text();
/// Not to climb on it: until it is fastened, or never where nothing fastens it.
[[nodiscard]] std::string climb_text(const model::Frame& frame);
/// That this is no structural check.
[[nodiscard]] std::string codes_text();
/// Before steps that are told as the finished frame stands, whatever it lies on at the time.
[[nodiscard]] std::string as_finished_text();
/// What becomes of a joint that is turned back.
[[nodiscard]] std::string loose_text();

}  // namespace dryfit::cli

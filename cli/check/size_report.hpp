#pragma once
/// How large the finished frame is, and how high its shelves are: what a builder compares with the room.
#include <string>

#include "cli/json/json_answer.hpp"
#include "model/frame/frame.hpp"

namespace dryfit::cli {

/// "36 in wide, 9-1/4 in deep and 62 in high. Board tops: S1 at 12 in and S2 at 30 in." on a line of its own;
/// heights above the floor where there is one, else as the file counts them. "" for a frame without bodies. O(parts).
[[nodiscard]] std::string size_text(const model::Frame& frame);
/// Adds `over_all_mm`: width, depth and height.
void add_size(Json& document, const model::Frame& frame);

}  // namespace dryfit::cli

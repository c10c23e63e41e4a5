#pragma once
/// Small pieces of language shared by everything that people read: lists, counts, directions, turns, weights.
#include <string>
#include <vector>

#include "model/direction.hpp"
#include "model/frame.hpp"

namespace dryfit::cli {

/// "A", "A and B", "A, B and C"; "" for none.
[[nodiscard]] std::string listed(const std::vector<std::string>& words, const char* last = "and");
/// About `most` words, then "and 7 more".
[[nodiscard]] std::string listed_briefly(const std::vector<std::string>& words, std::size_t most);

/// "1 step", "3 steps"; the plural adds an s unless given.
[[nodiscard]] std::string counted(long long count, const char* one, const char* many = nullptr);

/// Thread turns to the nearest quarter: "4-3/4 turns", "1 turn", "1/2 turn"; under an eighth "less than 1/4 turn".
[[nodiscard]] std::string turns_in_words(double turns);

/// "12.3 kg (27 lb)" where the frame is in inches the pounds come first.
[[nodiscard]] std::string weight(double kg, model::Units units);

/// The axis direction nearest to v (45-degree directions included); none when v is zero.
[[nodiscard]] model::Direction nearest_direction(model::Vec3 v);
/// Where something goes: "up", "down", "to the left", "back", "forward", "up and to the left".
[[nodiscard]] std::string going(model::Direction d);
/// Where something comes from when it goes along d: "from below", "from the right", "from behind".
[[nodiscard]] std::string coming_from(model::Direction d);
/// A side of a thing: "upper", "lower", "left", "right", "front", "back", "upper left".
[[nodiscard]] std::string side(model::Direction d);
/// Where an opening points: "up", "down", "left", "right", "to the back", "to the front", "up and left".
[[nodiscard]] std::string pointing(model::Direction d);

/// What people call a part: its label; "the lower half of U1" for half a union.
[[nodiscard]] std::string name_of(const model::Frame& frame, model::PartId part);
/// Labels in the order given, each once; a union of which only one half is there is "half of U1".
[[nodiscard]] std::vector<std::string> labels_of(const model::Frame& frame, const std::vector<model::PartId>& parts);

/// `text` broken at blanks to lines of at most `width` columns, every line after the first indented by `indent`.
[[nodiscard]] std::string wrapped(const std::string& text, std::size_t indent, std::size_t width = 96);

}  // namespace dryfit::cli

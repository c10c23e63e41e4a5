#pragma once
/// Small pieces of language shared by everything that people read: lists, counts, directions, turns, weights.
#include <string>
#include <string_view>
#include <vector>

#include "model/frame/frame.hpp"
#include "model/geometry/attitude.hpp"
#include "model/geometry/direction.hpp"

namespace dryfit::cli {

/// "A", "A and B", "A, B and C"; "" for none.
[[nodiscard]] std::string listed(const std::vector<std::string>& words);
/// "A", "A or B", "A, B or C".
[[nodiscard]] std::string listed_or(const std::vector<std::string>& words);
/// About `most` words, then "and 7 more".
[[nodiscard]] std::string listed_briefly(const std::vector<std::string>& words, std::size_t most);

/// Thread turns to the nearest quarter: "4¾ turns", "1 turn", "½ turn"; under an eighth "less than ¼ turn". No blank and
/// no hyphen stands within the number, so that no line ends there.
[[nodiscard]] std::string turns_in_words(double turns);

/// "12.3 kg (27 lb)"; pounds come first where lengths are shown in inches, see show_lengths_in().
[[nodiscard]] std::string weight(double kg, model::Units units);

/// The axis direction nearest to v (45-degree directions included); none when v is zero.
[[nodiscard]] model::Direction nearest_direction(model::Vec3 v);
/// Where something goes: "up", "down", "to the left", "back", "forward", "up and to the left".
[[nodiscard]] std::string going(model::Direction d);
/// Where something comes from when it goes along d: "from below", "from the right", "from behind".
[[nodiscard]] std::string coming_from(model::Direction d);
/// A side of a thing: "upper", "lower", "left", "right", "front", "back", "upper left".
[[nodiscard]] std::string side(model::Direction d);
/// An edge of a board as the end of a measure: "from the left edge".
[[nodiscard]] std::string from_edge(model::Direction d);
/// An edge of a board by itself: "left edge".
[[nodiscard]] std::string edge(model::Direction d);
/// The axis direction of a side's name, as the planner gives it: "left", "up" or "upper", ... Right for any other word.
[[nodiscard]] model::Direction side_named(std::string_view name);
/// "UPPER FACE".
[[nodiscard]] std::string face_title(model::Direction d);
/// The side a slot is open to, in "open to left".
[[nodiscard]] std::string opening(model::Direction d);
/// Where an opening points: "up", "down", "left", "right", "to the back", "to the front", "up and left".
[[nodiscard]] std::string pointing(model::Direction d);

/// What people call a part: its label; "the lower half of U1" for half a union, as the work `lies`.
[[nodiscard]] std::string name_of(const model::Frame& frame, model::PartId part, const model::Attitude& lies = {});
/// Labels in the order given, each once; a union of which only one half is there is "half of U1".
[[nodiscard]] std::vector<std::string> labels_of(const model::Frame& frame, const std::vector<model::PartId>& parts);

/// Letters of a text in UTF-8, which a terminal shows in as many columns.
[[nodiscard]] std::size_t letters(std::string_view text);
/// `text` with its first letter as a capital, where it is one of a to z.
[[nodiscard]] std::string capitalized(std::string text);

/// `text` broken at blanks to lines of at most `width` columns, every line after the first indented by `indent`.
[[nodiscard]] std::string wrapped(const std::string& text, std::size_t indent, std::size_t width = 96);

/// A line for a terminal, broken and hanging behind its heading: "  Parts: A, B, ..."; `stop` ends it.
[[nodiscard]] std::string hanging(const std::string& heading, const std::string& text, std::size_t indent,
                                  const char* stop = "");
/// "Note: ..." as a line for a terminal, broken and hanging.
[[nodiscard]] std::string noted(const std::string& note);

}  // namespace dryfit::cli

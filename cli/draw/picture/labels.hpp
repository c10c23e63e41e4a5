#pragma once
/// Where part labels go: on free paper near their part, or on the part itself where it is large enough; never over
/// one another, never over other parts.
#include <optional>
#include <string>
#include <vector>

#include "cli/draw/paint/number_grid.hpp"
#include "cli/draw/picture/figures.hpp"

namespace dryfit::cli {

/// A label to place. Sizes in page mm, the box around the letters.
struct LabelWish {
  std::string text;
  std::vector<model::PartId> parts;  ///< it may point at any of these (both halves of a union)
  double width = 0.0;
  double height = 0.0;
  bool held = false;               ///< the label has the mark of what is held
  bool may_stand_on_part = false;  ///< boards: their faces are large and plain
  std::optional<Figure> figure{};  ///< stands before the text
  bool wordless = false;           ///< the figure stands for the text
};

struct PlacedLabel {
  std::size_t wish = 0;  ///< index into the wishes
  RectMm box;
  bool on_part = false;     ///< stands on the part itself, without a leader
  PageMap::Point anchor;    ///< where the leader ends, on a visible spot of the part
  PageMap::Point foot;      ///< where the leader starts, on the edge of the box
  double over = 0.0;        ///< mm of other parts that the leader runs over
  bool over_words = false;  ///< the leader runs over what is written beside the picture
};

struct Labelling {
  std::vector<PlacedLabel> placed;    ///< in the order of the wishes
  std::vector<std::size_t> hidden;    ///< nothing of the part is seen
  std::vector<std::size_t> left_out;  ///< no room
};

/// Places labels one by one, the first wish first, then moves each once more with all others known. `taken` are areas
/// that must stay free (arrows, titles); over those of `written` no leader runs where another way is left.
/// Deterministic.
/// Cost: O(labels * candidates), about 1500 candidates per label, each O(labels + length of leader in cells).
[[nodiscard]] Labelling place_labels(const NumberGrid& grid, const std::vector<LabelWish>& wishes,
                                     const std::vector<RectMm>& taken, const std::vector<RectMm>& written = {});

/// True when the boxes share area.
[[nodiscard]] bool overlap(const RectMm& a, const RectMm& b);

}  // namespace dryfit::cli

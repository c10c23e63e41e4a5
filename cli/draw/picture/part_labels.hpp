#pragma once
/// The names on a picture: which there are, and how they look. Where they go is for labels.hpp.
#include <map>
#include <string>
#include <vector>

#include "cli/draw/body/depth_tree.hpp"
#include "cli/draw/body/fixtures.hpp"
#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/picture/labels.hpp"

namespace dryfit::cli {

/// One wish per text; emphasised parts first, then boards, then the rest. Of `new_fixtures` (indices into `fixtures`)
/// straps and clips get their trade's name, patches that of their surface. Of `held` parts the label says so;
/// `notes` stand behind a name. `emphasised` by number of part or fixture.
[[nodiscard]] std::vector<LabelWish> wishes_for(
    Canvas& canvas, const model::Frame& frame, const std::vector<model::PartId>& labelled,
    const std::vector<Fixture>& fixtures, const std::vector<int>& new_fixtures, const std::vector<bool>& emphasised,
    const std::vector<model::PartId>& held, const std::map<model::PartId, std::string>& notes, double text);

/// The figure of a help and its word, or the figure alone; it needs no emphasis, and stands beside the part.
[[nodiscard]] LabelWish wish_for_help(Canvas& canvas, Figure figure, const std::vector<model::PartId>& parts,
                                      double text, bool wordless);

void draw_leader(Canvas& canvas, const PlacedLabel& label);
/// Emphasised ones stand on a dark tag, held ones and figures in a frame.
void draw_label(Canvas& canvas, const PlacedLabel& label, const LabelWish& wish, double size, bool emphasised);

/// Adds the boxes round the holes and slots of boards: labels on boards keep off them.
void add_holes(const DepthTree& tree, const PageMap& map, std::vector<RectMm>& taken);

}  // namespace dryfit::cli

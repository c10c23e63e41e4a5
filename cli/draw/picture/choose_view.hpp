#pragma once
/// Which way to look at a frame so that the new piece is seen.
#include <optional>
#include <vector>

#include "cli/draw/body/depth_tree.hpp"
#include "cli/draw/body/view.hpp"

namespace dryfit::cli {

struct ChosenView {
  View view;
  bool turned = false;   ///< not the usual view
  double visible = 1.0;  ///< share of the emphasised parts' outline that nothing hides
};

/// The usual view when at least 60 % of the emphasised parts are seen from there and `move`, if given, is not
/// foreshortened to under a quarter, nor `surface`, if given, seen from behind; else the first view of a fixed list
/// that does as well; else the best of all. `surface` is the way into the room from what something is screwed to.
/// `emphasised` by part index; none set: the usual view. Cost: two small pictures per view.
[[nodiscard]] ChosenView choose_view(const DepthTree& tree, const std::vector<bool>& emphasised,
                                     std::optional<Vec3> move, std::optional<Vec3> surface = {});

/// The share of the emphasised parts that is seen in a given view.
[[nodiscard]] double visible_share(const DepthTree& tree, const std::vector<bool>& emphasised, const View& view);

}  // namespace dryfit::cli

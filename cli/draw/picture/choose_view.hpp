#pragma once
/// Which way to look at a frame so that the new piece is seen; for a row of pictures, with as few changes as can be.
#include <functional>
#include <optional>
#include <vector>

#include "cli/draw/body/depth_tree.hpp"
#include "cli/draw/body/view.hpp"

namespace dryfit::cli {

/// What a picture wants to be seen.
struct SightWish {
  std::vector<bool> emphasised;  ///< by part index; none set: any view will do
  std::optional<Vec3> move;      ///< not to be foreshortened to under a quarter
  std::optional<Vec3> surface;   ///< the way into the room from what something is screwed to: not seen from behind
  model::Attitude lies{};
};

struct ChosenView {
  View view;
  bool turned = false;   ///< not the usual view
  double visible = 1.0;  ///< share of the emphasised parts' outline that nothing hides
};

/// The usual view when at least 60 % of the emphasised parts are seen from there and the rest of the wish holds; else
/// the first view of a fixed list that does as well; else the best of all. Cost: two small pictures per view.
[[nodiscard]] ChosenView choose_view(const DepthTree& tree, const SightWish& wish);

/// A picture in a row: its bodies and its wish.
struct Sight {
  const DepthTree* tree = nullptr;
  const SightWish* wish = nullptr;
};

inline constexpr std::size_t kPicturesAhead = 12;  ///< that choose_views looks at before it decides

/// One view for each picture of a row. A view is kept as long as at least 40 % are seen and the rest of the wish holds;
/// then the one is taken that can be kept longest, and of those the nearest. `sight(i)` is asked for picture i of
/// `count`, more than once. Each view of each picture is tried once at most.
[[nodiscard]] std::vector<ChosenView> choose_views(std::size_t count, const std::function<Sight(std::size_t)>& sight);

/// How far the eye moves from one to the other, degrees.
[[nodiscard]] double turn_between(const View& a, const View& b);

/// The share of the emphasised parts that is seen in a given view.
[[nodiscard]] double visible_share(const DepthTree& tree, const std::vector<bool>& emphasised, const View& view);

}  // namespace dryfit::cli

#pragma once
/// Puts pieces on paper: faces filled, outlines drawn, holes cut out.
#include <vector>

#include "cli/draw/body/depth_tree.hpp"
#include "cli/draw/paint/canvas.hpp"
#include "cli/draw/paint/look.hpp"
#include "cli/draw/paint/number_canvas.hpp"
#include "cli/draw/paint/page_map.hpp"

namespace dryfit::cli {

/// How each part and fixture looks, by its number.
struct PartLook {
  look::Tone tone;
  double outline = look::kOutline;  ///< page mm
  look::Tone line = look::kInk;
};

/// Paints all pieces of the tree, shaded and outlined. Page units are mm.
void paint_shaded(Canvas& canvas, const DepthTree& tree, const PageMap& map, const std::vector<PartLook>& looks);

/// Paints all pieces as numbers: part i in the number i. `only`, when not empty, says by part index which parts are
/// painted.
void paint_numbers(NumberCanvas& canvas, const DepthTree& tree, const PageMap& map, const std::vector<bool>& only);

}  // namespace dryfit::cli

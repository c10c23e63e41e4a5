#pragma once
/// Puts pieces on paper: faces filled, outlines drawn, holes cut out.
#include <cairo.h>

#include <vector>

#include "cli/draw/body/depth_tree.hpp"
#include "cli/draw/paint/look.hpp"
#include "cli/draw/paint/page_map.hpp"

namespace dryfit::cli {

/// How each part and fixture looks, by its number.
struct PartLook {
  look::Tone tone;
  double outline = look::kOutline;  ///< page mm
  look::Tone line = look::kInk;
};

/// Paints all pieces of the tree, shaded and outlined. Page units are mm.
void paint_shaded(cairo_t* cairo, const DepthTree& tree, const PageMap& map, const std::vector<PartLook>& looks);

/// Paints all pieces in flat colours without lines: part i in the colour i + 1 (24 bits, red high). `only`, when not
/// empty, says by part index which parts are painted. The caller has switched antialiasing off.
void paint_numbers(cairo_t* cairo, const DepthTree& tree, const PageMap& map, const std::vector<bool>& only);

}  // namespace dryfit::cli

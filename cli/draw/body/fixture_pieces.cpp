#include "cli/draw/body/fixture_pieces.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// Slanting lines over the room's side of a patch, `spacing` apart and all of one lattice, so that neighbours match.
void hatch(const Patch& patch, double spacing, std::vector<Mark>& marks) {
  const int normal = std::abs(patch.normal.x) > 0.5 ? 0 : std::abs(patch.normal.y) > 0.5 ? 1 : 2;
  const int u = normal == 0 ? 1 : 0;
  const int v = normal == 2 ? 1 : 2;
  const double level = patch.normal[normal] > 0.0 ? patch.hi[normal] : patch.lo[normal];
  // Lines u + v = c.
  for (double c = spacing * std::ceil((patch.lo[u] + patch.lo[v]) / spacing + 1e-9); c < patch.hi[u] + patch.hi[v];
       c += spacing) {
    Vec3 a;
    Vec3 b;
    a[normal] = b[normal] = level;
    a[u] = std::max(patch.lo[u], c - patch.hi[v]);
    a[v] = c - a[u];
    b[u] = std::min(patch.hi[u], c - patch.lo[v]);
    b[v] = c - b[u];
    if (norm(b - a) > 0.5) marks.push_back({Mark::Kind::hatch, {a, b}, {patch.normal}, spacing});
  }
}

Piece patch_piece(const Patch& patch, double extent) {
  Piece piece;
  piece.block = box_block(patch.lo, patch.hi);
  for (Face& face : piece.block.faces) face.id = -1;
  piece.seen_from = patch.normal;
  // About 1.5 mm on a page that the frame fills; never so wide that a patch has no line.
  const Vec3 size = patch.hi - patch.lo;
  const double across = size.x + size.y + size.z - std::max({size.x, size.y, size.z});
  hatch(patch, std::clamp(extent / 90.0, 5.0, std::max(5.0, 0.3 * across)), piece.marks);
  return piece;
}

/// A box along the band's own directions: from `lo` to `hi` along, aside and down.
Block band_box(const Band& band, Vec3 lo, Vec3 hi) {
  const Vec3 side = cross(band.down, band.along);
  const auto at = [&](double along, double aside, double down) {
    return band.at + along * band.along + aside * side + down * band.down;
  };
  // Counterclockwise seen from the tip of `along`: side x down = along.
  return extruded({at(lo.x, lo.y, lo.z), at(lo.x, hi.y, lo.z), at(lo.x, hi.y, hi.z), at(lo.x, lo.y, hi.z)},
                  (hi.x - lo.x) * band.along, FaceKind::flat, FaceKind::flat, FaceKind::flat);
}

std::vector<Block> blocks_of(const Band& band) {
  constexpr int kArch = 16;
  const Vec3 side = cross(band.down, band.along);
  const Vec3 start = band.at - (band.width / 2.0) * band.along;
  const double r = band.radius;
  std::vector<Vec3> outline{start + r * side + band.sides_to() * band.down,
                            start - r * side + band.sides_to() * band.down};
  for (int k = 0; k <= kArch; ++k) {
    const double angle = std::numbers::pi * k / kArch;
    outline.push_back(start - (r * std::cos(angle)) * side - (r * std::sin(angle)) * band.down);
  }
  std::vector<Block> out{extruded(outline, band.width * band.along, FaceKind::curved, FaceKind::flat, FaceKind::flat)};
  const double half = band.width / 2.0;
  if (band.on_stem()) {
    const double stem = std::min(half, 0.4 * r);
    out.push_back(band_box(band, {-stem, -stem, r}, {stem, stem, band.depth - band.thickness}));
    out.push_back(band_box(band, {-half, -r, band.depth - band.thickness}, {half, r, band.depth}));
  } else {
    out.push_back(band_box(band, {-half, r, band.depth - band.thickness}, {half, r + band.foot, band.depth}));
    out.push_back(band_box(band, {-half, -r - band.foot, band.depth - band.thickness}, {half, -r, band.depth}));
  }
  return out;
}

/// Takes out of the pieces of the banded pipe what runs inside of the band.
void clear_band(const Band& band, model::PartId pipe, std::vector<Piece>& pieces) {
  const double middle = dot(band.at, band.along);
  std::vector<Piece> out;
  for (Piece& piece : pieces) {
    if (piece.part != pipe) {
      out.push_back(std::move(piece));
      continue;
    }
    PieceHalves beyond = cut(piece, {band.along, middle + band.width / 2.0}, FaceKind::crease, -1);
    PieceHalves before = cut(beyond.back, {band.along, middle - band.width / 2.0}, FaceKind::crease, -1);
    if (!beyond.front.block.empty()) out.push_back(std::move(beyond.front));
    if (!before.back.block.empty()) out.push_back(std::move(before.back));
  }
  pieces = std::move(out);
}

}  // namespace

void add_fixtures(const model::Frame& frame, const std::vector<Fixture>& fixtures, const std::vector<int>& drawn,
                  double extent, std::vector<Piece>& pieces) {
  for (const int index : drawn) {
    const Fixture& fixture = fixtures[dryfit::at(index)];
    const model::PartId number = number_of(frame, index);
    if (fixture.kind == Fixture::Kind::patch) {
      Piece piece = patch_piece(fixture.patch, extent);
      piece.part = number;
      pieces.push_back(std::move(piece));
      continue;
    }
    for (const Band& band : fixture.bands) {
      clear_band(band, fixture.parts.back(), pieces);
      for (Block& block : blocks_of(band)) {
        Piece piece;
        piece.part = number;
        piece.block = std::move(block);
        pieces.push_back(std::move(piece));
      }
    }
  }
}

}  // namespace dryfit::cli

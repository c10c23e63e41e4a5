#include <doctest/doctest.h>

#include <numeric>
#include <random>

#include "cli/draw/depth_tree.hpp"
#include "cli/draw/fit_page.hpp"
#include "cli/draw/scene.hpp"
#include "tests/support/hand_frame.hpp"
#include "tests/support/ray.hpp"

namespace {

using namespace dryfit;
using model::Frame;
using model::PartId;
using model::Vec3;

struct Agreement {
  int cells = 0;
  int same = 0;  ///< to the cell
  int near = 0;  ///< or to within one cell
};

/// Compares the drawing's part numbers with lines of sight, cell by cell.
Agreement compare(const Frame& frame, const std::vector<PartId>& shown, const cli::View& view) {
  const cli::DepthTree tree(cli::pieces_of(frame, shown));
  const cli::RectMm page{0, 0, 100, 100};
  const cli::PageMap map = cli::fit_page(tree.pieces(), view, page);
  const cli::NumberGrid grid = cli::grid_of(tree, map, page, 1.5);
  std::vector<bool> is_shown(frame.parts.size(), false);
  for (const PartId id : shown) is_shown[static_cast<std::size_t>(id)] = true;
  const auto seen = [&](double column, double row) {
    const double u = ((column + 0.5) / grid.per_mm - map.left) / map.scale;
    const double v = (map.top - (row + 0.5) / grid.per_mm) / map.scale;
    return tests::first_seen(frame, is_shown,
                             {u * map.projection.right + v * map.projection.up, map.projection.toward});
  };
  Agreement out;
  for (int row = 0; row < grid.height; ++row) {
    for (int column = 0; column < grid.width; ++column) {
      const PartId drawn = grid.at(column, row);
      ++out.cells;
      if (seen(column, row) == drawn) {
        ++out.same;
        ++out.near;
        continue;
      }
      bool near = false;
      // Fine steps: between two bodies a third may show in a slit much thinner than a cell.
      for (int dy = -8; dy <= 8 && !near; ++dy) {
        for (int dx = -8; dx <= 8 && !near; ++dx) near = seen(column + 0.125 * dx, row + 0.125 * dy) == drawn;
      }
      if (near) ++out.near;
    }
  }
  return out;
}

std::vector<PartId> all_of(const Frame& frame) {
  std::vector<PartId> out(frame.parts.size());
  std::iota(out.begin(), out.end(), 0);
  return out;
}

void check_views(const Frame& frame, const std::vector<PartId>& shown) {
  for (const cli::View view : {cli::View{28, 24}, cli::View{-58, 24}, cli::View{152, 48}, cli::View{28, -20},
                               cli::View{0, 0}, cli::View{45, 35.264}, cli::View{0, 90}}) {
    CAPTURE(view.azimuth_deg);
    CAPTURE(view.elevation_deg);
    const Agreement found = compare(frame, shown, view);
    CHECK(found.near == found.cells);
    CHECK(found.same > 0.97 * found.cells);
  }
}

double pick(std::mt19937& random, double lo, double hi) {
  return lo + (hi - lo) * static_cast<double>(random() % 10001) / 10000.0;
}

bool boxes_meet(const model::Bounds& a, const model::Bounds& b) {
  return a.lo.x < b.hi.x && b.lo.x < a.hi.x && a.lo.y < b.hi.y && b.lo.y < a.hi.y && a.lo.z < b.hi.z && b.lo.z < a.hi.z;
}

/// True when the box meets some body of the frame (of its boards alone).
bool meets(const Frame& frame, const model::Bounds& box, bool boards_alone) {
  for (const model::Part& part : frame.parts) {
    if (boards_alone && part.board == model::kNone) continue;
    for (const model::Solid& solid : part.solids) {
      if (boxes_meet(model::bounds_of(solid), box)) return true;
    }
  }
  return false;
}

/// Pipes in all 18 directions, elbows, and boards with a pipe through a hole, a slot and an empty hole (apart), thrown
/// together: round bodies may run through one another, boards keep clear of all but their own pipe.
Frame heap(std::uint32_t seed) {
  std::mt19937 random(seed);
  tests::HandFrame h;
  const auto directions = model::all_directions();
  const auto any_point = [&] { return Vec3{pick(random, 0, 400), pick(random, 0, 400), pick(random, 0, 400)}; };
  for (int i = 0; i < 30; ++i) {
    const std::string id = std::to_string(i);
    const model::Direction along = directions[random() % directions.size()];
    const Vec3 at = any_point();
    const double length = pick(random, 60, 400);
    switch (random() % 4) {
      case 0:
      case 1: {
        const double diameter = pick(random, 15, 50);
        if (meets(h.frame, model::bounds_of(model::cylinder(at, along, length, diameter)), true)) break;
        h.pipe("P" + id, at, along, length, diameter);
        break;
      }
      case 2: {
        const Vec3 reach{60, 60, 60};
        if (meets(h.frame, {at - reach, at + reach}, true)) break;
        h.fitting("E" + id, model::PartKind::elbow, at, {model::kUp, directions[random() % 4]}, pick(random, 35, 60));
        break;
      }
      default: {
        const int normal = static_cast<int>(random() % 3);
        Vec3 size{pick(random, 100, 250), pick(random, 100, 250), pick(random, 100, 250)};
        size[normal] = pick(random, 12, 30);
        const Vec3 first = at + 0.3 * size;
        const Vec3 second = at + 0.7 * size;
        Vec3 empty = first;
        empty[(normal + 1) % 3] = second[(normal + 1) % 3];
        const model::Direction square = normal == 0 ? model::kRight : normal == 1 ? model::kBack : model::kUp;
        const Vec3 start = first - 100.0 * square.unit();
        const model::Bounds pipe = model::bounds_of(model::cylinder(start, square, 250, 18));
        if (meets(h.frame, {at, at + size}, false) || meets(h.frame, pipe, false)) break;
        const model::Direction open = normal == 0 ? model::kUp : normal == 1 ? model::kRight : model::kBack;
        const PartId through = h.pipe("Q" + id, start, square, 250, 36);
        h.board("B" + id, at, at + size, normal,
                {{through, first, 40, {}}, {model::kNone, second, 30, open}, {model::kNone, empty, 24, {}}});
      }
    }
  }
  return h.frame;
}

}  // namespace

TEST_CASE("at every point the drawing shows the part that a line of sight meets first") {
  const Frame rack = tests::hand_rack();
  check_views(rack, all_of(rack));
}

TEST_CASE("a half-built frame is drawn right too") {
  const Frame rack = tests::hand_rack();
  std::vector<PartId> shown;
  for (PartId id = 0; id < static_cast<PartId>(rack.parts.size()); ++id) {
    if (id % 3 != 1) shown.push_back(id);
  }
  check_views(rack, shown);
}

TEST_CASE("bodies thrown together, even through one another, hide one another as lines of sight say") {
  std::size_t boards = 0;
  for (std::uint32_t seed = 1; seed <= 24; ++seed) {
    CAPTURE(seed);
    const Frame frame = heap(seed);
    REQUIRE(frame.parts.size() > 8);
    boards += frame.boards.size();
    for (const cli::View view : {cli::View{28, 24}, cli::View{-130, -35}}) {
      const Agreement found = compare(frame, all_of(frame), view);
      CHECK(found.near == found.cells);
    }
  }
  CHECK(boards > 24);
}

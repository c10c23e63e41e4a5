#include <doctest/doctest.h>

#include <algorithm>
#include <random>

#include "model/geometry/at.hpp"
#include "tests/support/frames/hand_frame.hpp"
#include "tests/support/seen/seen_picture.hpp"

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
  const tests::SeenPicture picture(frame, shown, view);
  Agreement out;
  for (int row = 0; row < picture.grid().height; ++row) {
    for (int column = 0; column < picture.grid().width; ++column) {
      ++out.cells;
      const bool same = picture.same(column, row);
      if (same) ++out.same;
      if (same || picture.near(column, row)) ++out.near;
    }
  }
  return out;
}

void check_views(const Frame& frame, const std::vector<PartId>& shown) {
  for (const cli::View view : {cli::View{28, 24}, cli::View{-58, 24}, cli::View{152, 48}, cli::View{28, -20},
                               cli::View{0, 0}, cli::View{45, 35.264}, cli::View{0, 90}}) {
    CAPTURE(view.azimuth_deg);
    CAPTURE(view.elevation_deg);
    const Agreement found = compare(frame, shown, view);
    CHECK(found.near == found.cells);
    CHECK(found.same > 0.97 * found.cells);  // set by hand: what differs lies along outlines
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

/// A bar on two legs from the floor with a seat strapped on top of it and a shelf strapped below, a rail clipped to the
/// wall close by and another far off it, and a flange up to the ceiling. The dimensions are invented.
Frame fastened() {
  using model::Fastening;
  tests::HandFrame h;
  const PartId left = h.flange("FL", {0, 0, 0}, model::kUp);
  h.pipe("P1", {0, 0, 10}, model::kUp, 400);
  h.fitting("E1", model::PartKind::elbow, {0, 0, 430}, {model::kDown, model::kRight});
  const PartId bar = h.pipe("P2", {20, 0, 430}, model::kRight, 560);
  h.fitting("E2", model::PartKind::elbow, {600, 0, 430}, {model::kDown, model::kLeft});
  const PartId right = h.flange("FR", {600, 0, 0}, model::kUp);
  h.pipe("P3", {600, 0, 10}, model::kUp, 400);
  const PartId seat = h.board("SEAT", {60, -100, 443.35}, {540, 90, 462}, 2);
  const PartId shelf = h.board("LOW", {200, -90, 395}, {400, 60, 416.65}, 2);
  const PartId near_rail = h.pipe("P4", {100, 145, 700}, model::kRight, 400);
  const PartId far_rail = h.pipe("P5", {100, 90, 850}, model::kRight, 400);
  const PartId top = h.flange("FC", {300, -60, 1000}, model::kDown);
  const PartId slant = h.pipe("P6", {150, 147, 500}, {1, 0, 1}, 150);
  h.pipe("P7", {300, -60, 700}, model::kUp, 290);
  h.frame.surfaces = {
      {"floor", model::kUp, 0.0, {}}, {"wall", model::kFront, 160.0, {}}, {"ceiling", model::kDown, 1000.0, {}}};
  using Kind = Fastening::Kind;
  h.frame.fastenings = {
      {Kind::flange_to_surface, left, model::kRoom, 0, 1, {}}, {Kind::flange_to_surface, right, model::kRoom, 0, 1, {}},
      {Kind::flange_to_surface, top, model::kRoom, 2, 1, {}},  {Kind::strap, seat, bar, model::kNone, 2, {}},
      {Kind::strap, shelf, bar, model::kNone, 1, {}},          {Kind::clip, near_rail, model::kRoom, 1, 1, {}},
      {Kind::clip, far_rail, model::kRoom, 1, 2, {}},          {Kind::clip, slant, model::kRoom, 1, 1, {}}};
  return h.frame;
}

}  // namespace

TEST_CASE("at every point the drawing shows the part that a line of sight meets first") {
  const Frame rack = tests::hand_rack();
  check_views(rack, tests::all_parts(rack));
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
    REQUIRE(frame.parts.size() > 8);  // floors set by hand, here and below: there must be something to hide
    boards += frame.boards.size();
    for (const cli::View view : {cli::View{28, 24}, cli::View{-130, -35}}) {
      const Agreement found = compare(frame, tests::all_parts(frame), view);
      CHECK(found.near == found.cells);
    }
  }
  CHECK(boards > 24);
}

TEST_CASE("floor, walls, ceiling, straps and clips hide one another and the frame as lines of sight say") {
  const Frame frame = fastened();
  const std::vector<cli::Fixture> fixtures = cli::fixtures_of(frame);
  using Kind = cli::Fixture::Kind;
  for (const Kind kind : {Kind::patch, Kind::strap, Kind::clip}) {
    CHECK(std::count_if(fixtures.begin(), fixtures.end(), [&](const cli::Fixture& f) { return f.kind == kind; }) >= 2);
  }
  check_views(frame, tests::all_parts(frame));
  check_views(frame, {0, 1, 2, 6, 7});
}

TEST_CASE("a patch hides what is behind it from the room, and nothing from those who look from behind") {
  const Frame frame = fastened();
  std::vector<bool> seen(2, false);
  const cli::View views[] = {{28, 24}, {152, 24}};
  const std::vector<cli::Fixture> fixtures = cli::fixtures_of(frame);
  const auto wall = std::find_if(fixtures.begin(), fixtures.end(), [&](const cli::Fixture& f) {
    return f.kind == cli::Fixture::Kind::patch && f.patch.normal.y < -0.5;
  });
  REQUIRE(wall != fixtures.end());
  const auto number = static_cast<PartId>(frame.parts.size() + dryfit::at(wall - fixtures.begin()));
  for (std::size_t i = 0; i < 2; ++i) {
    const tests::SeenPicture picture(frame, tests::all_parts(frame), views[i]);
    const auto& cells = picture.grid().cells;
    seen[i] = std::find(cells.begin(), cells.end(), number) != cells.end();
  }
  CHECK(seen[0]);
  CHECK_FALSE(seen[1]);
}

#include "cli/draw/body/fixtures.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "cli/draw/picture/picture.hpp"
#include "cli/draw/picture/step_picture.hpp"
#include "model/placing/reader.hpp"
#include "planner/order/order.hpp"
#include "tests/support/frames/hand_frame.hpp"
#include "tests/support/program/program.hpp"

namespace {

using namespace dryfit;
using cli::Fixture;
using model::Vec3;

/// A bench that stands on the floor, its seat strapped to a bar, with a rail clipped to the wall behind it. Invented.
constexpr const char* kBench = R"(
dryfit: 1
name: Boot bay
units: mm
pipe: {standard: npt, size: 3/4}
surfaces:
  floor: {normal: up, at: 0}
  wall: {normal: front, at: 170}
runs:
  bar:
    from: floor
    at: [0, 0]
    parts:
      - FL: flange
      - P1: {pipe: 350}
      - E1: {elbow: right}
      - P2: {pipe: 760}
      - E2: {elbow: down}
      - P3: {pipe: 350}
      - FR: flange
    to: floor
  rail:
    go: right
    at: [40, 145, 700]
    parts:
      - K1: cap
      - P4: {pipe: 660}
      - K2: cap
boards:
  SEAT: {rests-on: [P2], size: {x: 660, y: 200, z: 19}, reach: {left: 330, front: 100}, strap: {P2: 2}, stock: pine}
clips: {P4: wall}
)";

model::Frame bench() { return model::read_frame(kBench, "bench.yaml"); }

std::vector<const Fixture*> of_kind(const std::vector<Fixture>& all, Fixture::Kind kind) {
  std::vector<const Fixture*> out;
  for (const Fixture& fixture : all) {
    if (fixture.kind == kind) out.push_back(&fixture);
  }
  return out;
}

double radius_of(const model::Frame& frame, const char* pipe) {
  return frame.part(frame.find(pipe)).solids.front().radius;
}

}  // namespace

TEST_CASE("a patch lies on its surface round what is screwed to it, and surfaces end where they meet") {
  const model::Frame frame = bench();
  const auto fixtures = cli::fixtures_of(frame);
  const auto patches = of_kind(fixtures, Fixture::Kind::patch);
  REQUIRE(patches.size() == 3);  // one under each flange, one behind the clip
  for (const char* id : {"FL", "FR"}) {
    const model::Part& flange = frame.part(frame.find(id));
    const auto under = std::find_if(patches.begin(), patches.end(), [&](const Fixture* f) {
      return std::find(f->parts.begin(), f->parts.end(), frame.find(id)) != f->parts.end();
    });
    REQUIRE(under != patches.end());
    const cli::Patch& patch = (*under)->patch;
    CHECK(patch.hi.z == 0.0);
    CHECK(patch.normal == Vec3{0, 0, 1});
    for (const model::Solid& solid : flange.solids) {
      const model::Bounds box = model::bounds_of(solid);
      // The margin is 14 mm or more, the program's own choice; at the wall it ends.
      CHECK(patch.lo.x < box.lo.x - 10.0);
      CHECK(patch.hi.x > box.hi.x + 10.0);
      CHECK(patch.lo.y < box.lo.y - 10.0);
      CHECK(patch.hi.y <= 170.0);  // the wall
    }
  }
  const auto wall = std::find_if(patches.begin(), patches.end(), [](const Fixture* f) { return f->surface == 1; });
  REQUIRE(wall != patches.end());
  CHECK((*wall)->patch.lo.y == 170.0);
  CHECK((*wall)->patch.normal == Vec3{0, -1, 0});
}

TEST_CASE("patches that would overlap are one, which belongs to all that meets it there") {
  for (const double apart : {100.0, 400.0}) {
    CAPTURE(apart);
    tests::HandFrame h;
    const model::PartId first = h.flange("F1", {0, 0, 0}, model::kUp);
    const model::PartId second = h.flange("F2", {apart, 0, 0}, model::kUp);
    h.frame.surfaces = {{"floor", model::kUp, 0.0, {}}};
    h.frame.fastenings = {{model::Fastening::Kind::flange_to_surface, first, model::kRoom, 0, 1, {}}};
    const auto fixtures = cli::fixtures_of(h.frame);
    // The hand frame's flanges are 90 mm across, so each reaches 45 mm and a margin, which is at most 35 mm (the
    // program's own choice): they meet at 100 mm and not at 400.
    REQUIRE(fixtures.size() == (apart < 200.0 ? 1 : 2));
    CHECK(cli::fixtures_at(fixtures, {first}) == std::vector<int>{0});
    CHECK(cli::fixtures_at(fixtures, {second}) == std::vector<int>{static_cast<int>(fixtures.size()) - 1});
    CHECK(fixtures.front().fastenings == std::vector<int>{0});
    if (fixtures.size() == 2) CHECK(fixtures.back().fastenings.empty());  // it stands there, not screwed
  }
}

TEST_CASE("straps go round their pipe with their feet on the board, as many as asked for, along the board alone") {
  const model::Frame frame = bench();
  const auto fixtures = cli::fixtures_of(frame);
  const auto straps = of_kind(fixtures, Fixture::Kind::strap);
  REQUIRE(straps.size() == 1);
  REQUIRE(straps[0]->bands.size() == 2);
  const model::Board& seat = frame.boards.front();
  const model::Part& bar = frame.part(frame.find("P2"));
  for (const cli::Band& band : straps[0]->bands) {
    CHECK(band.at.y == doctest::Approx(bar.ports[0].at.y));
    CHECK(band.at.z == doctest::Approx(bar.ports[0].at.z));
    CHECK(band.at.x - band.width / 2.0 > seat.lo.x);
    CHECK(band.at.x + band.width / 2.0 < seat.hi.x);
    CHECK(band.radius > radius_of(frame, "P2"));
    CHECK(band.down == Vec3{0, 0, 1});
    CHECK((band.at + band.depth * band.down).z == doctest::Approx(seat.lo.z));
    CHECK_FALSE(band.on_stem());
  }
  // Spread over a board of 660 mm; what counts as spread is set by hand.
  CHECK(std::abs(straps[0]->bands[0].at.x - straps[0]->bands[1].at.x) > 200.0);
}

TEST_CASE("a clip goes from its pipe to the surface, on a stem where the pipe keeps off it") {
  model::Frame frame = bench();
  for (const double wall : {170.0, 260.0}) {
    CAPTURE(wall);
    frame.surfaces[1].at = wall;
    const auto fixtures = cli::fixtures_of(frame);
    const auto clips = of_kind(fixtures, Fixture::Kind::clip);
    REQUIRE(clips.size() == 1);
    REQUIRE(clips[0]->bands.size() == 1);
    const cli::Band& band = clips[0]->bands[0];
    CHECK((band.at + band.depth * band.down).y == doctest::Approx(wall));
    // The rail's axis is at 145 mm, its radius 13.3: 11.7 mm off the nearer wall, 101.7 off the other.
    CHECK(band.on_stem() == (wall > 200.0));
  }
}

TEST_CASE("a strap whose pipe goes through the board has no picture") {
  model::Frame frame = bench();
  frame.fastenings.front().kind = model::Fastening::Kind::strap;
  frame.fastenings.front().part = frame.boards.front().part;
  frame.fastenings.front().other = frame.find("P1");
  CHECK(of_kind(cli::fixtures_of(frame), Fixture::Kind::strap).size() == 1);  // the seat's own on P2
}

TEST_CASE("a step of fastening shows what the thing is fast to, names it, and shows nothing that comes later") {
  const model::Frame frame = bench();
  const auto fixtures = cli::fixtures_of(frame);
  const planner::ContactList list = planner::contacts_of(frame);
  const planner::Order order = planner::find_order(frame, list);
  REQUIRE(order.buildable);
  int straps = 0;
  int clips = 0;
  int flanges = 0;
  for (const planner::Step& step : order.steps) {
    CAPTURE(step.number);
    cli::PictureOptions options = cli::step_picture(frame, list, order.steps, step.number);
    REQUIRE(options.fixtures.has_value());
    cli::PictureReport report;
    static_cast<void>(cli::picture_bytes(cli::PictureFormat::svg, frame, options, &report));
    const auto labelled = [&](const std::string& text) {
      return std::find(report.texts.begin(), report.texts.end(), text) != report.texts.end();
    };
    if (step.action != planner::Action::fasten) {
      CHECK(options.new_fixtures.empty());
      CHECK_FALSE(labelled("floor"));
      continue;
    }
    const auto fastening = list.contact(step.contacts.front()).fastening;
    switch (frame.fastening(fastening).kind) {
      case model::Fastening::Kind::strap:
        CHECK(labelled("straps"));
        CHECK(report.visible > 0.2);  // set by hand: enough to be found
        ++straps;
        break;
      case model::Fastening::Kind::clip:
        CHECK(labelled("clip"));
        CHECK(labelled("wall"));
        ++clips;
        break;
      default:
        CHECK(labelled("floor"));
        // npt 1/2 to 1 in: four screws, as the table has it.
        CHECK(labelled(frame.part(frame.fastening(fastening).part).label + ": 4 screws 5 x 65 mm"));
        ++flanges;
    }
  }
  CHECK(straps == 1);
  CHECK(clips == 1);
  CHECK(flanges == 2);
  // What stands on the floor shows it before it is screwed down; what lies on the bench does not.
  const auto upright = cli::step_picture(frame, list, order.steps, static_cast<int>(order.steps.size()),
                                         cli::HowItStands{true, {}});
  CHECK(upright.fixtures->size() == fixtures.size());
  CHECK(cli::step_picture(frame, list, order.steps, 1).fixtures->empty());
}

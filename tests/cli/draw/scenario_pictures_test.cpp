/// Every frame in scenarios/, whole and as of every step: hidden surfaces against lines of sight, labels that keep
/// apart.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <numeric>
#include <optional>

#include "cli/draw/choose_view.hpp"
#include "cli/draw/depth_tree.hpp"
#include "cli/draw/fit_page.hpp"
#include "cli/draw/scene.hpp"
#include "cli/draw/step_picture.hpp"
#include "model/reader.hpp"
#include "planner/order.hpp"
#include "tests/support/program.hpp"
#include "tests/support/ray.hpp"

namespace {

using namespace dryfit;
using model::Frame;
using model::PartId;

std::vector<std::string> frame_files() {
  std::vector<std::string> files;
  for (const auto& entry : std::filesystem::directory_iterator(DRYFIT_SOURCE_DIR "/scenarios")) {
    const std::string path = entry.path().string();
    if (path.ends_with(".yaml") && !path.ends_with(".expect.yaml")) files.push_back(path);
  }
  std::sort(files.begin(), files.end());
  return files;
}

std::vector<PartId> all_of(const Frame& frame) {
  std::vector<PartId> out(frame.parts.size());
  std::iota(out.begin(), out.end(), 0);
  return out;
}

/// Cells of a picture of `shown`, every `stride`th, that show another part than a line of sight through or beside them.
int wrong_cells(const Frame& frame, const std::vector<PartId>& shown, const cli::View& view, int stride,
                const std::optional<std::vector<int>>& wanted = {}) {
  const std::vector<cli::Fixture> fixtures = cli::fixtures_of(frame);
  const std::vector<int> on = wanted ? *wanted : cli::fixtures_at(fixtures, shown);
  const cli::DepthTree tree(cli::pieces_of(frame, shown, fixtures, on));
  const cli::RectMm page{0, 0, 100, 100};
  const cli::PageMap map = cli::fit_page(tree.pieces(), view, page);
  const cli::NumberGrid grid = cli::grid_of(tree, map, page, 1.5);
  std::vector<bool> is_shown(frame.parts.size(), false);
  for (const PartId id : shown) is_shown[static_cast<std::size_t>(id)] = true;
  const auto seen = [&](double column, double row) {
    const double u = ((column + 0.5) / grid.per_mm - map.left) / map.scale;
    const double v = (map.top - (row + 0.5) / grid.per_mm) / map.scale;
    return tests::first_seen(frame, is_shown, {u * map.projection.right + v * map.projection.up, map.projection.toward},
                             fixtures, on);
  };
  int wrong = 0;
  for (std::size_t cell = 0; cell < grid.cells.size(); cell += static_cast<std::size_t>(stride)) {
    const int row = static_cast<int>(cell) / grid.width;
    const int column = static_cast<int>(cell) % grid.width;
    const PartId drawn = grid.cells[cell];
    bool right = seen(column, row) == drawn;
    for (int dy = -8; dy <= 8 && !right; ++dy) {
      for (int dx = -8; dx <= 8 && !right; ++dx) right = seen(column + 0.125 * dx, row + 0.125 * dy) == drawn;
    }
    if (!right) ++wrong;
  }
  return wrong;
}

void check_labels(const cli::PictureReport& report) {
  for (std::size_t i = 0; i < report.labels.size(); ++i) {
    for (std::size_t j = i + 1; j < report.labels.size(); ++j) {
      CAPTURE(report.texts[i]);
      CAPTURE(report.texts[j]);
      REQUIRE_FALSE(cli::overlap(report.labels[i].box, report.labels[j].box));
    }
  }
}

}  // namespace

TEST_CASE("of every scenario the whole picture shows what lines of sight meet, and labels every visible part apart") {
  for (const std::string& file : frame_files()) {
    CAPTURE(file);
    const Frame frame = model::read_frame(tests::slurp(file), file);
    CHECK(wrong_cells(frame, all_of(frame), {28, 24}, 3) == 0);
    CHECK(wrong_cells(frame, all_of(frame), {-58, -20}, 7) == 0);
    cli::PictureReport report;
    static_cast<void>(cli::picture_bytes(cli::PictureFormat::svg, frame, {}, &report));
    check_labels(report);
    CHECK(report.left_out.empty());
    CHECK_FALSE(report.labels.empty());
  }
}

TEST_SUITE("slow") {
  TEST_CASE("of every step of every scenario the picture shows what lines of sight meet, and what moves is seen") {
    int steps_drawn = 0;
    for (const std::string& file : frame_files()) {
      CAPTURE(file);
      const Frame frame = model::read_frame(tests::slurp(file), file);
      const planner::ContactList list = planner::contacts_of(frame);
      const planner::Order order = planner::find_order(frame, list);
      for (const planner::Step& step : order.steps) {
        CAPTURE(step.number);
        cli::PictureOptions options = cli::step_picture(frame, list, order.steps, step.number);
        options.width_mm = 90;
        options.height_mm = 80;
        cli::PictureReport report;
        static_cast<void>(cli::picture_bytes(cli::PictureFormat::svg, frame, options, &report));
        check_labels(report);
        CHECK(wrong_cells(frame, options.shown, report.view, 23, options.fixtures) == 0);
        if (step.action != planner::Action::fasten && step.action != planner::Action::join)
          CHECK(report.visible > 0.25);
        ++steps_drawn;
      }
    }
    CHECK(steps_drawn > 200);
  }
}

TEST_CASE("a step's picture leaves out what is not yet joined to the work") {
  const std::string file = tests::scenario("plant-rack");
  const Frame frame = model::read_frame(tests::slurp(file), file);
  const planner::ContactList list = planner::contacts_of(frame);
  const planner::Order order = planner::find_order(frame, list);
  REQUIRE(order.buildable);
  const cli::PictureOptions first = cli::step_picture(frame, list, order.steps, 1);
  CHECK(first.shown.size() == 2);
  for (const PartId part : order.steps[0].moving) {
    CHECK(std::find(first.emphasised.begin(), first.emphasised.end(), part) != first.emphasised.end());
  }
  const auto last = static_cast<int>(order.steps.size());
  CHECK(cli::work_at(frame, list, order.steps, last).size() == frame.parts.size());
  CHECK_THROWS_WITH_AS(static_cast<void>(cli::step_picture(frame, list, order.steps, last + 1)),
                       doctest::Contains("there is no step"), cli::DrawError);
  CHECK_THROWS_AS(static_cast<void>(cli::step_picture(frame, list, order.steps, 0)), cli::DrawError);
}

TEST_CASE("the arrow of a screwed pipe turns the way that drives a right-hand thread home") {
  const std::string file = tests::scenario("plant-rack");
  const Frame frame = model::read_frame(tests::slurp(file), file);
  const planner::ContactList list = planner::contacts_of(frame);
  const planner::Order order = planner::find_order(frame, list);
  int turns = 0;
  for (const planner::Step& step : order.steps) {
    if (step.action != planner::Action::screw) continue;
    const auto options = cli::step_picture(frame, list, order.steps, step.number);
    REQUIRE(options.arrow.has_value());
    CHECK(options.arrow->kind == cli::Arrow::Kind::turn);
    const planner::Contact& contact = list.contacts[static_cast<std::size_t>(step.contacts.front())];
    const model::Joint& joint = frame.joints[static_cast<std::size_t>(contact.joint)];
    const model::Part& male = frame.parts[static_cast<std::size_t>(joint.male)];
    const model::Part& female = frame.parts[static_cast<std::size_t>(joint.female)];
    // Home for the male side is into the port, for the female side onto the pipe: against where the port faces, or
    // along it. A right-hand thread advances along the axis that its turn is right-handed about.
    const model::Vec3 out = female.ports[static_cast<std::size_t>(joint.female_port)].facing.unit();
    const bool male_moves = std::find(step.moving.begin(), step.moving.end(), joint.male) != step.moving.end();
    CHECK(dot(options.arrow->along, out) * (male_moves ? -1.0 : 1.0) > 0.99);
    CHECK(male.ports[static_cast<std::size_t>(joint.male_port)].male);
    ++turns;
  }
  CHECK(turns > 5);
}

TEST_CASE("of several straps far apart one is enlarged, and none of a board that is large enough") {
  const std::string file = tests::scenario("paint-shelf");
  const Frame frame = model::read_frame(tests::slurp(file), file);
  const planner::ContactList list = planner::contacts_of(frame);
  const planner::Order order = planner::find_order(frame, list);
  int strapped = 0;
  int laid = 0;
  for (const planner::Step& step : order.steps) {
    CAPTURE(step.number);
    cli::PictureOptions options = cli::step_picture(frame, list, order.steps, step.number);
    options.width_mm = 90;
    options.height_mm = 80;
    cli::PictureReport report;
    static_cast<void>(cli::picture_bytes(cli::PictureFormat::svg, frame, options, &report));
    const bool straps = std::find(report.texts.begin(), report.texts.end(), "straps") != report.texts.end();
    if (straps) CHECK(report.enlarged);
    strapped += straps ? 1 : 0;
    if (step.action != planner::Action::lay) continue;
    CHECK_FALSE(report.enlarged);
    ++laid;
  }
  CHECK(strapped == 2);
  CHECK(laid >= 1);
}

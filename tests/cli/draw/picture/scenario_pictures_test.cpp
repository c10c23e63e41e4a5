/// Every frame in scenarios/, whole and as of every step: hidden surfaces against lines of sight, labels that keep
/// apart.
#include <doctest/doctest.h>

#include <algorithm>

#include "cli/draw/picture/step_picture.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/order/order.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/seen/seen_picture.hpp"

namespace {

using namespace dryfit;
using model::Frame;
using model::PartId;

/// A scenario with the order that is found for it.
struct Ordered {
  explicit Ordered(const std::string& file)
      : frame(model::read_frame(tests::slurp(file), file)),
        list(planner::contacts_of(frame)),
        order(planner::find_order(frame, list)) {}
  Frame frame;
  planner::ContactList list;
  planner::Order order;
  [[nodiscard]] cli::PictureOptions picture(int step) const {
    return cli::step_picture(frame, list, order.steps, step);
  }
  /// On a page as small as a card's.
  [[nodiscard]] cli::PictureOptions small_picture(int step) const {
    cli::PictureOptions options = picture(step);
    options.width_mm = 90;
    options.height_mm = 80;
    return options;
  }
};

/// Cells of a picture, every `stride`th, that show another part than a line of sight through or beside them.
int wrong_cells(const tests::SeenPicture& picture, int stride) {
  const cli::NumberGrid& grid = picture.grid();
  int wrong = 0;
  for (int cell = 0; cell < static_cast<int>(grid.cells.size()); cell += stride) {
    if (!picture.near(cell % grid.width, cell / grid.width)) ++wrong;
  }
  return wrong;
}

}  // namespace

TEST_CASE("of every scenario the whole picture shows what lines of sight meet, and labels every visible part apart") {
  for (const std::string& file : tests::scenario_files()) {
    CAPTURE(file);
    const Frame frame = model::read_frame(tests::slurp(file), file);
    const auto all = tests::all_parts(frame);
    CHECK(wrong_cells({frame, all, {28, 24}}, 3) == 0);
    CHECK(wrong_cells({frame, all, {-58, -20}}, 7) == 0);
    const cli::PictureReport report = tests::report_of(frame, {});
    tests::check_labels(report);
    CHECK(report.left_out.empty());
    CHECK_FALSE(report.labels.empty());
  }
}

TEST_SUITE("slow") {
  TEST_CASE("of every step of every scenario the picture shows what lines of sight meet, and what moves is seen") {
    int steps_drawn = 0;
    for (const std::string& file : tests::scenario_files()) {
      CAPTURE(file);
      const Ordered built(file);
      for (const planner::Step& step : built.order.steps) {
        CAPTURE(step.number);
        const cli::PictureOptions options = built.small_picture(step.number);
        const cli::PictureReport report = tests::report_of(built.frame, options);
        tests::check_labels(report);
        CHECK(wrong_cells({built.frame, options.shown, report.view, options.fixtures}, 23) == 0);
        if (step.action != planner::Action::fasten && step.action != planner::Action::join)
          CHECK(report.visible > 0.25);  // set by hand: enough to be found
        ++steps_drawn;
      }
    }
    CHECK(steps_drawn > 200);  // a floor set by hand
  }
}

TEST_CASE("a step's picture leaves out what is not yet joined to the work") {
  const Ordered built(tests::scenario("plant-rack"));
  const auto& [frame, list, order] = built;
  REQUIRE(order.buildable);
  const cli::PictureOptions first = built.picture(1);
  CHECK(first.shown.size() == 2);  // the first step joins two bare parts
  for (const PartId part : order.steps[0].moving) {
    CHECK(std::find(first.emphasised.begin(), first.emphasised.end(), part) != first.emphasised.end());
  }
  const auto last = static_cast<int>(order.steps.size());
  CHECK(cli::work_at(frame, list, order.steps, last).size() == frame.parts.size());
  CHECK_THROWS_WITH_AS(static_cast<void>(built.picture(last + 1)), doctest::Contains("there is no step"),
                       cli::DrawError);
  CHECK_THROWS_AS(static_cast<void>(built.picture(0)), cli::DrawError);
}

TEST_CASE("the arrow of a screwed pipe turns the way that drives a right-hand thread home") {
  const Ordered built(tests::scenario("plant-rack"));
  const auto& [frame, list, order] = built;
  int turns = 0;
  for (const planner::Step& step : order.steps) {
    if (step.action != planner::Action::screw) continue;
    const auto options = built.picture(step.number);
    REQUIRE(options.arrow.has_value());
    CHECK(options.arrow->kind == cli::Arrow::Kind::turn);
    const planner::Contact& contact = list.contact(step.contacts.front());
    const model::Joint& joint = frame.joint(contact.joint);
    const model::Part& male = frame.part(joint.male);
    const model::Part& female = frame.part(joint.female);
    // Home for the male side is into the port, for the female side onto the pipe: against where the port faces, or
    // along it. A right-hand thread advances along the axis that its turn is right-handed about.
    const model::Vec3 out = female.ports[at(joint.female_port)].facing.unit();
    const bool male_moves = std::find(step.moving.begin(), step.moving.end(), joint.male) != step.moving.end();
    CHECK(dot(options.arrow->along, out) * (male_moves ? -1.0 : 1.0) > 0.99);  // 1 but for rounding
    CHECK(male.ports[at(joint.male_port)].male);
    ++turns;
  }
  CHECK(turns > 5);  // a floor set by hand
}

TEST_CASE("of several straps far apart one is enlarged, and none of a board that is large enough") {
  const Ordered built(tests::scenario("paint-shelf"));
  int strapped = 0;
  int laid = 0;
  for (const planner::Step& step : built.order.steps) {
    CAPTURE(step.number);
    const cli::PictureReport report = tests::report_of(built.frame, built.small_picture(step.number));
    const bool straps = std::find(report.texts.begin(), report.texts.end(), "straps") != report.texts.end();
    if (straps) CHECK(report.enlarged);
    strapped += straps ? 1 : 0;
    if (step.action != planner::Action::lay) continue;
    CHECK_FALSE(report.enlarged);
    ++laid;
  }
  CHECK(strapped == 2);  // LEFT and RIGHT
  CHECK(laid >= 1);
}

/// The cards as hands see the work: it lies in the picture as it lies in the plan, words and arrows go the way that
/// hands move, what moves is drawn where it comes from, and the view stays.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

#include "cli/cards/deck.hpp"
#include "cli/draw/body/staged.hpp"
#include "cli/draw/picture/choose_view.hpp"
#include "cli/order/planned_order.hpp"
#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "tests/support/program/program.hpp"

namespace {

using namespace dryfit;
using model::Attitude;
using model::Direction;
using model::Vec3;

/// A scenario with its plan and its cards.
struct Cards {
  explicit Cards(const std::string& name)
      : loaded(cli::loaded_from(tests::slurp(tests::scenario(name)), name)),
        planned(cli::planned_order(loaded, {})),
        deck(cli::deck_of(loaded, planned.finding, planned.plan, cli::Lengths(loaded.frame.units),
                          planner::drill_sheets(loaded.frame, planned.finding.fit))) {}
  cli::LoadedFrame loaded;
  cli::PlannedOrder planned;
  cli::Deck deck;
  [[nodiscard]] const planner::Step& step(std::size_t i) const { return planned.plan.best.order.steps[i]; }
};

int view_changes(const cli::Deck& deck) {
  int changes = 0;
  cli::View before;
  for (const cli::Card& card : deck.cards) {
    if (cli::turn_between(*card.picture.view, before) > 0.5) ++changes;
    before = *card.picture.view;
  }
  return changes;
}

}  // namespace

TEST_CASE("quarter turns keep right-handed, and there and back is no turn") {
  for (const Attitude& lies : {Attitude{}, Attitude{model::kRight, model::kDown}, Attitude{model::kRight, model::kBack},
                               Attitude{model::kUp, model::kLeft}, Attitude{model::kLeft, model::kDown}}) {
    const Vec3 right = lies(Vec3{1, 0, 0}), back = lies(Vec3{0, 1, 0}), up = lies(Vec3{0, 0, 1});
    CHECK(cross(right, back) == up);
    CHECK(lies.own(lies(Vec3{1, 2, 3})) == Vec3{1, 2, 3});
    for (const Direction d : model::all_directions()) {
      CHECK(lies(d).valid());
      CHECK(norm(lies(d).unit() - lies(d.unit())) < 1e-12);
    }
  }
}

TEST_CASE("on its back a rack's front looks up, its top away; upside down a cart's wheels look up") {
  const Cards rack("plant-rack");
  const Attitude back = rack.planned.plan.lies.laid;
  CHECK(back(model::kFront) == model::kUp);
  CHECK(back(model::kUp) == model::kBack);
  CHECK(back(model::kRight) == model::kRight);
  const Attitude over = rack.planned.plan.lies.over;
  CHECK(over(model::kUp) == model::kDown);
  CHECK(rack.planned.plan.lies.of(planner::Pose::standing).as_finished());
}

TEST_CASE("laid work lies low: a wide table on its back or its front, a deep arm on its side") {
  CHECK(Cards("work-table").planned.plan.lies.laid.up.axis() == model::kBack.axis());
  CHECK(Cards("trellis-arm").planned.plan.lies.laid.up == model::kLeft);
}

TEST_CASE("the work lies in every card's picture as it lies in the plan, and the card says so") {
  int over = 0, laid = 0;
  for (const char* name : {"plant-rack", "bakery-cart", "oar-rack", "trellis-arm", "pot-rail"}) {
    CAPTURE(name);
    const Cards cards(name);
    for (std::size_t i = 0; i < cards.deck.cards.size(); ++i) {
      CAPTURE(i);
      const cli::Card& card = cards.deck.cards[i];
      const planner::Pose pose = cards.planned.plan.standing.pose_of_step[i];
      REQUIRE(card.picture.view.has_value());
      const cli::Projection seen(*card.picture.view);
      const Vec3 up{0, 0, 1};
      // The eye is above the horizon or below it; up in the room is up on paper either way.
      if (pose == planner::Pose::standing) {
        CHECK(seen.v(up) > 0.2);
        CHECK(std::abs(seen.u(up)) < 1e-9);
        CHECK(card.pose == "standing");
      } else if (pose == planner::Pose::over) {
        CHECK(seen.v(up) < -0.2);
        CHECK(std::abs(seen.u(up)) < 1e-9);
        CHECK(card.pose == "upside down");
        ++over;
      } else {
        // What was up is level: it goes into the picture, not along the paper's upright.
        const Vec3 out = cards.planned.plan.lies.of(pose)(up);
        CHECK(out.z == 0.0);
        CHECK(norm(card.picture.view->lies(up) - out) < 1e-12);
        CHECK(card.pose.starts_with("on its "));
        ++laid;
      }
    }
  }
  CHECK(over > 20);
  CHECK(laid > 20);  // floors set by hand
}

TEST_CASE("what is built upside down is told with the ways that hands move, in words, picture and JSON") {
  const auto ran = tests::run({"order", tests::scenario("bakery-cart"), "--json"});
  REQUIRE(ran.code == 0);
  const auto order = nlohmann::json::parse(ran.out);
  const std::string text = tests::run({"order", tests::scenario("bakery-cart")}).out;
  const Cards cards("bakery-cart");
  int slid = 0;
  for (const auto& step : order["steps"]) {
    if (step["action"] != "slide") continue;
    const std::string own = step["text"], hands = step["text_in_pose"];
    CAPTURE(own);
    REQUIRE(step["pose"] == "over");
    CHECK(own.find(" up over ") != std::string::npos);
    CHECK(hands.find(" down over ") != std::string::npos);
    CHECK(text.find(hands.substr(0, 20)) != std::string::npos);
    const auto& card = cards.deck.cards[step["number"].get<std::size_t>() - 1];
    CHECK(card.text == hands);
    REQUIRE(card.picture.arrow.has_value());
    // Down on paper, as the words say.
    CHECK(cli::Projection(*card.picture.view).v(card.picture.arrow->along) < 0.0);
    ++slid;
  }
  CHECK(slid == 2);
}

TEST_CASE("what moves is drawn where it comes from, clear of everything that it is not joined to") {
  int started = 0;
  for (const char* name : {"plant-rack", "bakery-cart", "towel-ladder", "work-table", "trellis-arm"}) {
    CAPTURE(name);
    const Cards cards(name);
    const model::Frame& frame = cards.loaded.frame;
    for (std::size_t i = 0; i < cards.deck.cards.size(); ++i) {
      CAPTURE(i);
      const planner::Step& step = cards.step(i);
      const cli::PictureOptions& picture = cards.deck.cards[i].picture;
      const bool travels = norm(step.travel) > 1e-6;
      if (!travels) continue;
      REQUIRE(picture.start.has_value());
      // Against the way in, and far enough to be seen beside where it ends.
      CHECK(dot(picture.start->by, step.travel) < 0.0);
      CHECK(norm(picture.start->by) > 8.0);
      CHECK_FALSE(picture.start->seats.empty());
      ++started;
      if (step.action != planner::Action::screw) continue;
      const model::Frame drawn = cli::staged(frame, picture.start->parts, picture.start->by);
      for (const model::PartId moved : picture.start->parts) {
        for (const model::PartId still : picture.shown) {
          if (std::find(picture.start->parts.begin(), picture.start->parts.end(), still) != picture.start->parts.end())
            continue;
          if (frame.part(moved).board != model::kNone || frame.part(still).board != model::kNone) continue;
          CAPTURE(frame.part(moved).label);
          CAPTURE(frame.part(still).label);
          for (const model::Solid& a : drawn.part(moved).solids) {
            for (const model::Solid& b : drawn.part(still).solids) CHECK_FALSE(model::hits(a, b));
          }
        }
      }
    }
  }
  CHECK(started > 100);  // a floor set by hand
}

TEST_CASE("the view stays the same as long as it can, and a change is said") {
  for (const auto& [name, most] : {std::pair{"plant-rack", 0}, std::pair{"bakery-cart", 4}, std::pair{"pot-rail", 1},
                                   std::pair{"potting-hoop-drilled", 3}, std::pair{"window-pole", 2}}) {
    CAPTURE(name);
    const Cards cards(name);
    CHECK(view_changes(cards.deck) <= most);  // set by hand
    cli::View before;
    for (const cli::Card& card : cards.deck.cards) {
      CHECK(card.seen.empty() == (cli::turn_between(*card.picture.view, before) <= 0.5));
      before = *card.picture.view;
    }
  }
}

TEST_CASE("insets of a card lie on free paper: on no part, on no label") {
  int insets = 0;
  for (const char* name : {"plant-rack", "bakery-cart", "oar-rack"}) {
    CAPTURE(name);
    const Cards cards(name);
    for (const cli::Card& card : cards.deck.cards) {
      CAPTURE(card.number);
      cli::PictureOptions picture = card.picture;
      picture.width_mm = 88.0;
      picture.height_mm = 80.0;
      cli::PictureReport report;
      static_cast<void>(cli::picture_bytes(cli::PictureFormat::svg, cards.loaded.frame, picture, &report));
      // No label is cut by the page.
      for (const cli::PlacedLabel& label : report.labels) {
        CHECK(label.box.x >= 0.0);
        CHECK(label.box.y >= 0.0);
        CHECK(label.box.x + label.box.width <= picture.width_mm);
        CHECK(label.box.y + label.box.height <= picture.height_mm);
      }
      for (const cli::RectMm& inset : report.insets) {
        ++insets;
        for (const cli::PlacedLabel& label : report.labels) CHECK_FALSE(cli::overlap(inset, label.box));
        // The middles of the bodies that stand still are seen beside it.
        for (const model::PartId id : picture.shown) {
          if (picture.start &&
              std::find(picture.start->parts.begin(), picture.start->parts.end(), id) != picture.start->parts.end()) {
            continue;
          }
          const auto at = report.map(cards.loaded.frame.part(id).centre);
          CHECK_FALSE(cli::overlap(inset, {at.x - 0.1, at.y - 0.1, 0.2, 0.2}));
        }
      }
    }
  }
  CHECK(insets > 70);  // a floor set by hand: the axes alone stand on nearly every card
}

TEST_CASE("only traps are told as traps: where they go on and where they are closed out, with what that costs") {
  const auto ran = tests::run({"order", tests::scenario("plant-rack"), "--json"});
  const auto order = nlohmann::json::parse(ran.out);
  const Cards cards("plant-rack");
  std::vector<int> told(cards.deck.cards.size(), 0);
  for (const auto& step : order["steps"]) {
    for (const auto& call : step["last_calls"]) {
      const std::string part = call["part"];
      const auto on = step["number"].get<std::size_t>() - 1, closed = call["last_call_step"].get<std::size_t>() - 1;
      const auto says = [&](std::size_t i) {
        const auto& traps = cards.deck.cards[i].traps;
        return std::any_of(traps.begin(), traps.end(), [&](const std::string& text) {
          return text.find(part + " on") != std::string::npos || text.find(part + " on?") != std::string::npos;
        });
      };
      CAPTURE(part);
      CHECK(says(on) == says(closed));
      if (!call["trap"].get<bool>()) CHECK_FALSE(says(on));
      if (says(on)) {
        ++told[on];
        ++told[closed];
        const std::string& text = cards.deck.cards[closed].traps.front();
        CHECK(text.find(std::to_string(call["price_moves"].get<int>()) + " joint") != std::string::npos);
      }
    }
  }
  CHECK(std::count_if(told.begin(), told.end(), [](int n) { return n > 0; }) >= 2);
  for (std::size_t i = 0; i < told.size(); ++i) CHECK(static_cast<int>(cards.deck.cards[i].traps.size()) == told[i]);
}

TEST_CASE("what does not stand, is only tied or takes two is seen in the picture") {
  int propped = 0, tied = 0, helped = 0;
  for (const char* name : {"bakery-cart", "window-pole", "towel-ladder", "work-table", "oar-rack"}) {
    CAPTURE(name);
    const Cards cards(name);
    for (std::size_t i = 0; i < cards.deck.cards.size(); ++i) {
      CAPTURE(i);
      const cli::PictureOptions& picture = cards.deck.cards[i].picture;
      const auto has = [&](cli::Figure figure) {
        return std::any_of(picture.help.begin(), picture.help.end(),
                           [&](const cli::Help& help) { return help.figure == figure; });
      };
      for (const cli::Help& help : picture.help) {
        for (const model::PartId id : help.parts) {
          CHECK(std::find(picture.shown.begin(), picture.shown.end(), id) != picture.shown.end());
        }
      }
      const bool falls = !cli::stands_alone(cards.planned.plan, i);
      if (falls) {
        ++propped;
        CHECK((has(cli::Figure::prop) || has(cli::Figure::person)));
      }
      CHECK(has(cli::Figure::prop) == !picture.props.empty());
      // A prop stands upright under what it holds, as the work lies.
      for (const cli::Prop& prop : picture.props) {
        const Vec3 post = picture.lies(prop.head) - picture.lies(prop.foot);
        CHECK(std::abs(post.x) + std::abs(post.y) < 1e-6);
        CHECK(post.z > 50.0);
      }
      for (const std::string& caution : cards.deck.cards[i].cautions) {
        if (caution.starts_with("Pinch point")) {
          ++tied;
          CHECK(has(cli::Figure::clamp));
        }
        if (caution.find("pieces stand separately") != std::string::npos) {
          ++helped;
          CHECK(has(cli::Figure::person));
        }
      }
    }
  }
  // Floors set by hand: what is compared must be there.
  CHECK(propped > 0);
  CHECK(tied > 0);
  CHECK(helped > 0);
}

TEST_CASE("the sizes over all on the cover are those of the frame, and their lines lie on the page") {
  for (const char* name : {"plant-rack", "trellis-arm", "oar-rack", "paint-shelf", "towel-ladder"}) {
    CAPTURE(name);
    const Cards cards(name);
    const cli::Lengths lengths(cards.loaded.frame.units);
    cli::PictureOptions whole;
    whole.width_mm = 120.0;
    whole.height_mm = 140.0;
    whole.dimensions = cards.deck.sizes;
    cli::PictureReport report;
    static_cast<void>(cli::picture_bytes(cli::PictureFormat::svg, cards.loaded.frame, whole, &report));
    REQUIRE(cards.deck.sizes.size() == 3);
    for (const cli::Dimension& one : cards.deck.sizes) {
      CHECK(one.text == lengths(norm(one.to - one.from)));
      CHECK(cards.deck.size.find(one.text) != std::string::npos);
      for (const Vec3& end : {one.from, one.to}) {
        const auto at = report.map(end);
        CHECK(at.x >= 0.0);
        CHECK(at.x <= whole.width_mm);
        CHECK(at.y >= 0.0);
        CHECK(at.y <= whole.height_mm);
      }
    }
  }
}

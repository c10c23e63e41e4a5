/// The cards as hands see the work: it lies in the picture as it lies in the plan, words and arrows go the way that
/// hands move, what moves is drawn where it comes from, and the view stays.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <map>
#include <memory>

#include <nlohmann/json.hpp>

#include "cli/cards/deck.hpp"
#include "cli/draw/body/staged.hpp"
#include "cli/draw/picture/choose_view.hpp"
#include "cli/draw/picture/step_picture.hpp"
#include "cli/order/planned_order.hpp"
#include "cli/words/trade_words.hpp"
#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/shop/buy.hpp"
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
        deck(planned.finding.verdict == cli::Verdict::buildable
                 ? cli::deck_of(loaded, planned.finding, planned.plan, cli::Lengths(loaded.frame.units),
                                planner::drill_sheets(loaded.frame, planned.finding.fit))
                 : cli::Deck{}) {}
  cli::LoadedFrame loaded;
  cli::PlannedOrder planned;
  cli::Deck deck;
  [[nodiscard]] const planner::Step& step(std::size_t i) const { return planned.plan.best.order.steps[i]; }
};

/// Planned once for all tests of this file.
const Cards& cards_of(const std::string& name) {
  static std::map<std::string, std::unique_ptr<Cards>> known;
  std::unique_ptr<Cards>& entry = known[name];
  if (!entry) entry = std::make_unique<Cards>(name);
  return *entry;
}

/// Every scenario that can be built, by name.
const std::vector<std::string>& buildable() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> out;
    for (const std::string& file : tests::scenario_files()) {
      const std::string name = std::filesystem::path(file).stem().string();
      if (!cards_of(name).deck.cards.empty()) out.push_back(name);
    }
    return out;
  }();
  return names;
}

int view_changes(const cli::Deck& deck) {
  int changes = 0;
  cli::View before;
  for (const cli::Card& card : deck.cards) {
    if (cli::turn_between(*card.picture.view, before) > 0.5) ++changes;
    before = *card.picture.view;
  }
  return changes;
}

void check_insets_and_labels(const std::vector<std::string>& scenarios, int least_insets, int least_labels) {
  int insets = 0, labels = 0, far_over = 0;
  for (const std::string& name : scenarios) {
    CAPTURE(name);
    const Cards& cards = cards_of(name);
    for (const cli::Card& card : cards.deck.cards) {
      CAPTURE(card.number);
      cli::PictureOptions picture = card.picture;
      picture.width_mm = 88.0;
      picture.height_mm = 80.0;
      cli::PictureReport report;
      static_cast<void>(cli::picture_bytes(cli::PictureFormat::svg, cards.loaded.frame, picture, &report));
      // What is new or held has its label.
      for (const model::PartId id : picture.emphasised) {
        const std::string& label = cards.loaded.frame.part(id).label;
        CHECK(std::find(report.left_out.begin(), report.left_out.end(), label) == report.left_out.end());
      }
      // No label is cut by the page.
      for (const cli::PlacedLabel& label : report.labels) {
        CHECK(label.box.x >= 0.0);
        CHECK(label.box.y >= 0.0);
        CHECK(label.box.x + label.box.width <= picture.width_mm);
        CHECK(label.box.y + label.box.height <= picture.height_mm);
      }
      // The line of a glass runs over no board (over the rungs of a ladder it may), and no line to a part over words.
      const bool has_board = std::any_of(picture.shown.begin(), picture.shown.end(), [&](model::PartId id) {
        return cards.loaded.frame.part(id).kind == model::PartKind::board;
      });
      if (has_board) CHECK(report.lens_over <= 0.5);
      for (const cli::PlacedLabel& label : report.labels) CHECK_FALSE(label.over_words);
      // Of help nothing is missing: a second person is in the picture.
      for (const cli::Help& help : picture.help) {
        const std::string word = cli::word_beside(help.figure);
        CHECK(std::find(report.left_out.begin(), report.left_out.end(), word) == report.left_out.end());
      }
      // What the work lies on is not cut by the page.
      for (const auto& corner : report.bench) {
        CHECK(corner.x >= 0.0);
        CHECK(corner.y >= 0.0);
        CHECK(corner.x <= picture.width_mm);
        CHECK(corner.y <= picture.height_mm);
      }
      for (const cli::PlacedLabel& label : report.labels) far_over += label.over > 10.0 ? 1 : 0;
      labels += static_cast<int>(report.labels.size());
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
  CHECK(insets > least_insets);  // floors set by hand: the axes alone stand on nearly every card
  CHECK(labels > least_labels);
  CHECK(100 * far_over <= labels);  // hardly any line runs far over other parts
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
  const Cards& rack = cards_of("plant-rack");
  const Attitude back = rack.planned.plan.lies.laid;
  CHECK(back(model::kFront) == model::kUp);
  CHECK(back(model::kUp) == model::kBack);
  CHECK(back(model::kRight) == model::kRight);
  const Attitude over = rack.planned.plan.lies.over;
  CHECK(over(model::kUp) == model::kDown);
  CHECK(rack.planned.plan.lies.of(planner::Pose::standing).as_finished());
}

TEST_CASE("laid work lies low: a wide table on its back or its front, a deep arm on its side") {
  CHECK(cards_of("work-table").planned.plan.lies.laid.up.axis() == model::kBack.axis());
  CHECK(cards_of("trellis-arm").planned.plan.lies.laid.up == model::kLeft);
}

TEST_CASE("the work lies in every card's picture as it lies in the plan, and the card says so") {
  int over = 0, laid = 0;
  for (const std::string& name : buildable()) {
    CAPTURE(name);
    const Cards& cards = cards_of(name);
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
  const Cards& cards = cards_of("bakery-cart");
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
  for (const std::string& name : buildable()) {
    CAPTURE(name);
    const Cards& cards = cards_of(name);
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
  // How often each scenario's view may change; set by hand from what is seen of them.
  const std::map<std::string, int> most{{"paint-shelf", 1}, {"window-pole", 1}, {"work-table", 1}};
  int changes = 0;
  for (const std::string& name : buildable()) {
    CAPTURE(name);
    const Cards& cards = cards_of(name);
    CHECK(view_changes(cards.deck) <= (most.count(name) == 1 ? most.at(name) : 0));
    changes += view_changes(cards.deck);
    cli::View before;
    for (const cli::Card& card : cards.deck.cards) {
      CHECK(card.seen.empty() == (cli::turn_between(*card.picture.view, before) <= 0.5));
      before = *card.picture.view;
    }
  }
  CHECK(changes > 0);
}

TEST_CASE("a top that is laid on flanges comes to them, and where it lies on the bench they come to it") {
  const Cards& cards = cards_of("work-table");
  const model::Frame& frame = cards.loaded.frame;
  const std::vector<planner::Step>& steps = cards.planned.plan.best.order.steps;
  int laid = 0;
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (!cards.deck.cards[i].text.starts_with("Lay TOP")) continue;
    ++laid;
    for (const bool over : {false, true}) {
      CAPTURE(over);
      cli::HowItStands how;
      if (over) how.lies = cards.planned.plan.lies.over;
      const cli::PictureOptions picture =
          cli::step_picture(frame, cards.loaded.contacts, steps, static_cast<int>(i) + 1, how);
      REQUIRE(picture.start.has_value());
      const bool top_moves =
          std::any_of(picture.start->parts.begin(), picture.start->parts.end(),
                      [&](model::PartId id) { return frame.part(id).kind == model::PartKind::board; });
      CHECK(top_moves == !over);
      // What comes comes from above.
      CHECK(how.lies(picture.start->by).z > 0.0);
    }
  }
  CHECK(laid == 1);
}

TEST_CASE("what stands on its head or lies has its top marked, and its front where that is seen from here") {
  int lying = 0, top = 0, front = 0;
  for (const char* name : {"bakery-cart", "work-table", "plant-rack", "oar-rack"}) {
    const Cards& cards = cards_of(name);
    for (const cli::Card& card : cards.deck.cards) {
      cli::PictureOptions picture = card.picture;
      picture.width_mm = 120.0;
      picture.height_mm = 96.0;
      cli::StampSheet sheet;
      const std::string drawn = cli::stamped_picture(sheet, cards.loaded.frame, picture);
      const bool lies = !picture.lies.as_finished();
      lying += lies ? 1 : 0;
      if (drawn.find("up when finished") != std::string::npos) ++top;
      if (drawn.find("front when finished") != std::string::npos) {
        ++front;
        CHECK(lies);
      }
    }
  }
  CAPTURE(lying);
  CHECK(lying > 50);
  CHECK(10 * top > 9 * lying);  // free paper is not always found
  CHECK(10 * front > 7 * lying);
}

TEST_CASE("screws on a card are as many, and of the size, that the shopping list has") {
  int fastened = 0;
  for (const std::string& name : buildable()) {
    CAPTURE(name);
    const Cards& cards = cards_of(name);
    std::map<std::string, int> told, bought;
    for (const cli::Card& card : cards.deck.cards) {
      for (const std::string& fact : card.facts) {
        const std::size_t at = fact.find(" screws ");
        if (at == std::string::npos) continue;
        told[fact.substr(at + 8)] += std::stoi(fact);
        ++fastened;
      }
    }
    const cli::Lengths lengths(cards.loaded.frame.units);
    for (const planner::BuyLine& line : planner::shopping_of(cards.loaded.frame, {}).lines) {
      if (line.item == "screw" && !line.size.empty())
        bought[cli::screw_text(line.size, line.length, lengths)] += line.count;
    }
    CHECK(told == bought);
  }
  CHECK(fastened > 20);  // a floor set by hand
}

TEST_CASE("no card, list or note has the id of a joint: people are told parts") {
  int looked_at = 0;
  for (const std::string& name : buildable()) {
    CAPTURE(name);
    const Cards& cards = cards_of(name);
    std::vector<std::string> said = cards.deck.tools;
    const auto add = [&said](const std::vector<std::string>& more) {
      said.insert(said.end(), more.begin(), more.end());
    };
    for (const auto& more :
         {cards.deck.lay_out, cards.deck.safety, cards.deck.tapes, cards.deck.closing, cards.deck.about_swaps})
      add(more);
    for (const auto* chores : {&cards.deck.before, &cards.deck.after}) {
      for (const cli::Chore& chore : *chores) {
        said.push_back(chore.text);
        add(chore.cautions);
      }
    }
    for (const cli::Card& card : cards.deck.cards) {
      said.push_back(card.text);
      for (const auto& more : {card.first, card.traps, card.facts, card.notes, card.cautions}) add(more);
    }
    for (const planner::Contact& contact : cards.loaded.contacts.contacts) {
      if (contact.id.find('/') == std::string::npos) continue;
      for (const std::string& text : said) {
        CAPTURE(text);
        CHECK(text.find(contact.id) == std::string::npos);
        ++looked_at;
      }
    }
  }
  CHECK(looked_at > 10000);
}

TEST_CASE("insets of a card lie on free paper: on no part, on no label") {
  std::vector<std::string> some;
  for (std::size_t i = 0; i < buildable().size(); i += 3) some.push_back(buildable()[i]);
  check_insets_and_labels(some, 20, 300);
}

TEST_SUITE("slow") {
  TEST_CASE("insets of every scenario's cards lie on free paper: on no part, on no label") {
    check_insets_and_labels(buildable(), 70, 1000);
  }
}

TEST_CASE("the name of a piece goes on what moves, or on the piece that something comes to; on nothing in between") {
  int named = 0, standing = 0;
  for (const std::string& name : buildable()) {
    CAPTURE(name);
    const Cards& cards = cards_of(name);
    for (const planner::Subassembly& piece : cards.planned.plan.grouping.pieces) {
      const cli::PictureOptions& picture = cards.deck.cards[at(piece.joined_in) - 1].picture;
      if (picture.piece.empty()) continue;
      ++named;
      REQUIRE_FALSE(picture.piece_parts.empty());
      const auto moves = [&](model::PartId id) {
        return picture.start &&
               std::find(picture.start->parts.begin(), picture.start->parts.end(), id) != picture.start->parts.end();
      };
      const bool all = std::all_of(picture.piece_parts.begin(), picture.piece_parts.end(), moves);
      CHECK((all || std::none_of(picture.piece_parts.begin(), picture.piece_parts.end(), moves)));
      if (!all) CHECK(picture.piece_parts == piece.parts);
      CHECK(std::any_of(piece.parts.begin(), piece.parts.end(), [&](model::PartId id) {
        return std::find(picture.piece_parts.begin(), picture.piece_parts.end(), id) != picture.piece_parts.end();
      }));
      standing += all ? 0 : 1;
    }
  }
  CHECK(named > 3);
  CHECK(standing > 0);  // the bakery cart's upper board goes over both pieces
}

TEST_CASE("a top that is laid on flanges has them named") {
  const Cards& cards = cards_of("work-table");
  const model::Frame& frame = cards.loaded.frame;
  int named = 0;
  for (const cli::Card& card : cards.deck.cards) {
    if (!card.text.starts_with("Lay TOP")) continue;
    for (const char* label : {"F1", "F2", "F3", "F4"}) {
      const auto& labelled = card.picture.labelled;
      CHECK(std::find(labelled.begin(), labelled.end(), frame.find(label)) != labelled.end());
      ++named;
    }
  }
  CHECK(named == 4);
}

TEST_CASE("only traps are told as traps: where they go on and where they are closed out, with what that costs") {
  const auto ran = tests::run({"order", tests::scenario("plant-rack"), "--json"});
  const auto order = nlohmann::json::parse(ran.out);
  const Cards& cards = cards_of("plant-rack");
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
  for (const std::string& name : buildable()) {
    CAPTURE(name);
    const Cards& cards = cards_of(name);
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
    const Cards& cards = cards_of(name);
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

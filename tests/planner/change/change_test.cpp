#include "planner/change/change.hpp"

#include <doctest/doctest.h>

#include <set>

#include "model/editing/edit.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/change/pieces.hpp"
#include "tests/support/frames/design.hpp"
#include "tests/support/frames/frame_text.hpp"

using namespace dryfit;
using planner::ChangePlan;
using tests::Design;

namespace {

const std::string kRack = test::shelf_rack();

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (auto at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size()))
    text.replace(at, from.size(), to);
  return text;
}

}  // namespace

TEST_CASE("a design that does not change is free from every state") {
  const Design a(kRack);
  const planner::Matching m = planner::match_designs(a.frame, a.list, a.frame, a.list);
  for (std::size_t c = 0; c < a.list.contacts.size(); ++c) CHECK(m.kept_as[c] == static_cast<int>(c));
  planner::Changer changer(a.frame, a.list, a.frame, a.list, m);
  const ChangePlan plan = changer.plan(a.complete());
  CHECK(plan.verdict == ChangePlan::Verdict::free);
  CHECK(plan.undo.empty());
  CHECK(plan.then.empty());
}

TEST_CASE("renamed parts are still the same pieces, and a renaming is free") {
  const Design a(kRack);
  const Design b(replaced(replaced(replaced(kRack, "P3", "upper-left"), "K1", "L9"), "T2", "knee"));
  const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
  CHECK(m.by[dryfit::at(a.frame.find("P3"))] == planner::MatchedBy::structure);
  CHECK(m.new_of_old[dryfit::at(a.frame.find("T2"))] == b.frame.find("knee"));
  planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
  CHECK(changer.plan(a.complete()).verdict == ChangePlan::Verdict::free);
}

TEST_CASE("the first part of a file is compared like any other: another pipe is bought, and the old one is left over") {
  const std::string bar =
      "dryfit: 1\nname: Bar\npipe: {standard: npt, size: 1}\nruns:\n  bar:\n    go: right\n    parts:\n"
      "      - P: {pipe: 20}\n      - K: cap\n";
  const Design a(bar), b(model::with_value(bar, "P.length", "24"));
  const planner::Pieces pieces =
      planner::compare_pieces(a.frame, b.frame, planner::match_designs(a.frame, a.list, b.frame, b.list));
  CHECK(pieces.buy == std::vector<planner::PartId>{b.frame.find("P")});
  std::vector<planner::PartId> left_over = pieces.spare;
  left_over.insert(left_over.end(), pieces.scrap.begin(), pieces.scrap.end());
  CHECK(left_over == std::vector<planner::PartId>{a.frame.find("P")});
}

// Common practice, no source: lengthening a bar between two posts moves one side as a whole, and a drilled board
// across the gap must come off and be drilled anew.
TEST_CASE("a longer bar moves the right post as a whole and takes the drilled shelf off") {
  const Design a(kRack);
  const Design b(model::with_value(kRack, "P4.length", "24"));
  const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
  CHECK(m.redrilled == std::vector<planner::PartId>{a.frame.find("S1")});
  planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
  const ChangePlan plan = changer.plan(a.complete());
  CHECK(plan.verdict == ChangePlan::Verdict::teardown);
  CHECK(plan.price.proven());
  tests::check_plan(a, b, m, a.complete(), plan);
  // The right post keeps its own threads; the floor screws of both posts: only the right foot has to be moved.
  const std::set<std::string> kept = a.names(plan.kept);
  for (const char* id : {"P5/T2.down", "P6/T2.up", "P5/FR.up", "P6/C2.down", "P1/T1.down", "FL/floor"}) {
    CHECK_MESSAGE(kept.contains(id), id);
  }
  for (const char* id : {"P4/T1.right", "P4/T2.left", "S1/P3", "S1/P7", "FR/floor"})
    CHECK_MESSAGE(!kept.contains(id), id);
  const planner::Pieces pieces = planner::compare_pieces(a.frame, b.frame, m);
  REQUIRE(pieces.buy.size() == 1);
  CHECK(b.frame.part(pieces.buy[0]).id == "P4");
  REQUIRE(pieces.spare.size() == 1);
  CHECK(a.frame.part(pieces.spare[0]).id == "P4");
}

TEST_CASE("before the bar is in, the longer bar is free") {
  const Design a(kRack);
  const Design b(model::with_value(kRack, "P4.length", "24"));
  const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
  planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
  std::vector<char> built(a.list.contacts.size(), 0);
  for (const char* id : {"P1/FL.up", "P1/T1.down", "P2/T1.up", "P5/FR.up"}) {
    built[dryfit::at(a.list.find(id))] = 1;
  }
  CHECK(changer.plan(built).verdict == ChangePlan::Verdict::free);
}

TEST_CASE("a change into a frame that no order can build says so with its knot") {
  const Design a(kRack);
  // A second rail between the posts closes a ring of threads.
  std::string ring = kRack;
  ring = replaced(ring, "      - C1: coupling\n", "      - C1: {tee: right}\n");
  ring = replaced(ring, "      - C2: coupling\n", "      - C2: {tee: left}\n");
  ring = replaced(ring, "boards:\n",
                  "  upper bar:\n    from: C1.right\n    parts:\n      - P9: {pipe: 12}\n    to: C2.left\nboards:\n");
  const Design b(ring);
  const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
  planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
  const ChangePlan plan = changer.plan(a.complete());
  CHECK(plan.verdict == ChangePlan::Verdict::locked);
  CHECK(b.names(plan.knot).contains("P9/C2.left"));
}

TEST_CASE("the price of every step rises to that of the finished frame and starts free") {
  const Design a(kRack);
  const Design b(model::with_value(kRack, "P4.length", "24"));
  const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
  planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
  const planner::Order order = planner::find_order(a.frame, a.list);
  std::vector<std::vector<planner::ContactId>> steps;
  for (const auto& s : order.steps) steps.push_back(s.contacts);
  const auto curve = planner::price_by_step(changer, a.list, steps, 2000);
  REQUIRE(curve.size() == steps.size() + 1);
  CHECK(curve.front().price.at_most == 0);
  CHECK(curve.back().price.at_most == changer.plan(a.complete()).price.at_most);
  for (const auto& point : curve) CHECK(point.price.proven());
}

TEST_CASE("a value is replaced in the text, and nothing else") {
  const std::string text =
      "# a comment\nruns:\n  r: {parts: [{P9: {pipe: \"4-1/2\"}}, {C: coupling}]}\nboards:\n  S: {size: {x: 36, y: 9}}\n";
  CHECK(model::with_value(text, "P9.length", "24") == replaced(text, "\"4-1/2\"", "24"));
  CHECK(model::with_value(text, "P9", "24") == replaced(text, "\"4-1/2\"", "24"));
  CHECK(model::with_value(text, "S.size.x", "48") == replaced(text, "36", "48"));
  CHECK_THROWS_WITH(static_cast<void>(model::with_value(text, "C.length", "3")),
                    "'C' is no pipe: it has no length to set");
  CHECK_THROWS_WITH(static_cast<void>(model::with_value(text, "Q.length", "3")),
                    "there is no part or board 'Q' in the file");
  CHECK_THROWS_WITH(static_cast<void>(model::with_value(text, "C", "3")),
                    "'C' names no value, expected PART.length, PART.size or BOARD.KEY");
}

// A fitter unscrews nothing but the pipe that is swapped: with its flange still on the floor, it comes out of the
// flange and the tee comes off it with all that is on it.
TEST_CASE("another pipe under a tee takes both its threads apart and nothing else, whatever the lengths") {
  const auto post = [](const char* length) {
    return Design(test::post({"FL: flange", (std::string("P3: {pipe: ") + length + "}").c_str(), "T1: {tee: right}",
                              "P4: {pipe: 3-1/2}", "K1: cap"}));
  };
  const Design a = post("2");
  for (const char* length : {"2-1/2", "3", "4", "4-1/2", "5", "6", "7-3/8", "12"}) {
    CAPTURE(length);
    const Design b = post(length);
    const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
    planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
    const ChangePlan plan = changer.plan(a.complete());
    CHECK(plan.price.proven());
    CHECK(a.names(plan.kept) == std::set<std::string>{"P4/T1.up", "P4/K1.down", "FL/floor"});
    CHECK(plan.undo.size() == 2);
    const planner::Pieces pieces = planner::compare_pieces(a.frame, b.frame, m);
    REQUIRE(pieces.buy.size() == 1);
    CHECK(b.frame.parts[static_cast<std::size_t>(pieces.buy[0])].id == "P3");
  }
}

// "The same name is the same part unless something says otherwise": a measured dimension does.
TEST_CASE("a fitting of the same name that is measured otherwise is another piece") {
  const auto post = [](const char* tee) {
    return Design(test::post({"FL: flange", "P1: {pipe: 6}", tee, "P2: {pipe: 6}", "K1: cap"}));
  };
  const Design a = post("T1: {tee: right, measured: {centre-to-end: 1.31}}");
  // A hair that no rule can tell is nothing; 1/16 in is another casting.
  const Design hair = post("T1: {tee: right, measured: {centre-to-end: 1.3101}}");
  const Design other = post("T1: {tee: right, measured: {centre-to-end: 1.3725}}");
  const planner::PartId tee = a.frame.find("T1");
  CHECK(planner::match_designs(a.frame, a.list, hair.frame, hair.list).new_of_old[static_cast<std::size_t>(tee)] ==
        hair.frame.find("T1"));
  CHECK(planner::match_designs(a.frame, a.list, other.frame, other.list).new_of_old[static_cast<std::size_t>(tee)] ==
        model::kNone);
}

// The hoop is lifted out of its shelf whole and both its pipes are unscrewed: 3 moves. Whoever unscrews first has to
// draw three pieces out of the shelf one by one.
TEST_CASE("a hoop that goes through a shelf is lifted out of it before its pipes are swapped") {
  const auto hoop = [](const std::string& length) {
    return Design(
        "dryfit: 1\nunits: in\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  wall: {normal: front, at: 4-5/8}\n"
        "runs:\n  hoop:\n    at: [0, 0, 40]\n    go: up\n    parts:\n      - P1: {pipe: " +
        length +
        "}\n      - E1: {elbow: right}\n      - R1: {pipe: 20}\n      - E2: {elbow: down}\n      - P2: {pipe: " +
        length +
        "}\nboards:\n  S1:\n    through: [P1, P2]\n    height: 50\n    size: {x: 30, y: 9-1/4, z: 3/4}\n"
        "    reach: {left: 3, front: 4-5/8}\n    fix: [wall]\n");
  };
  const Design a = hoop("24"), b = hoop("22");
  const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
  planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
  const ChangePlan plan = changer.plan(a.complete());
  CHECK(plan.price.proven());
  REQUIRE(plan.undo.size() == 3);
  CHECK(a.names(plan.undo.front().contacts) == std::set<std::string>{"S1/P1", "S1/P2"});
  tests::check_plan(a, b, m, a.complete(), plan);
}

TEST_CASE("a table top that is turned by a quarter on its two legs is lifted off them") {
  const std::string table = R"(
dryfit: 1
name: Table on two legs
units: mm
pipe: {standard: npt, size: 3/4}
surfaces: {floor: {normal: up, at: 0}}
runs:
  leg 1: {from: floor, at: [-100, 0], parts: [F1: flange, P1: {pipe: 700}, G1: flange]}
  leg 2: {from: floor, at: [100, 0], parts: [F2: flange, P2: {pipe: 700}, G2: flange]}
boards:
  S: {rests-on: [G1, G2], at: [-200, -150], size: {x: 400, y: 300, z: 19}}
)";
  const Design a(table);
  const Design b(replaced(replaced(table, "[-200, -150]", "[-150, -200]"), "x: 400, y: 300", "x: 300, y: 400"));
  const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
  REQUIRE(m.new_of_old[dryfit::at(a.frame.find("S"))] == b.frame.find("S"));
  planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
  const ChangePlan plan = changer.plan(a.complete());
  CHECK(plan.verdict == ChangePlan::Verdict::teardown);
  REQUIRE(plan.undo.size() == 1);
  CHECK(plan.undo[0].moving == std::vector<planner::PartId>{a.frame.find("S")});
  CHECK(plan.then.size() == 1);
}

TEST_CASE("a shelf that stays on the wall is drilled there, though turned end for end it would have the holes") {
  const std::string shelf = R"(
dryfit: 1
name: Pegs in a shelf
units: mm
pipe: {standard: npt, size: 3/4}
surfaces: {wall: {normal: front, at: 100}}
runs:
  a: {at: [100, 0, 760], go: down, parts: [K1: cap, P1: {pipe: 150}]}
  b: {at: [400, 0, 760], go: down, parts: [K2: cap, P2: {pipe: 150}]}
boards:
  S: {through: [P1, P2], height: 700, at: [0, -100], size: {x: 1000, y: 200, z: 19}, fix: [wall]}
)";
  const Design a(shelf);
  const Design b(replaced(replaced(shelf, "[100, 0, 760]", "[900, 0, 760]"), "[400, 0, 760]", "[600, 0, 760]"));
  const planner::Matching m = planner::match_designs(a.frame, a.list, b.frame, b.list);
  planner::Changer changer(a.frame, a.list, b.frame, b.list, m);
  const ChangePlan plan = changer.plan(a.complete());
  // The pegs are drawn out, and the screws stay in the wall.
  CHECK(plan.kept ==
        std::vector<planner::ContactId>{a.list.find("P1/K1.down"), a.list.find("P2/K2.down"), a.list.find("S/wall")});
  const planner::Pieces pieces = planner::compare_pieces(a.frame, b.frame, m);
  REQUIRE(pieces.boards.size() == 1);
  CHECK(pieces.boards[0].laid == planner::Laid::as_before);
  CHECK(pieces.boards[0].to_drill());
  CHECK(pieces.boards[0].left_open.size() == 2);
  // Once its screws are out as well it comes off, and hangs the other way round with the holes that it has.
  planner::Matching off = m;
  planner::let_turn(a.list, {a.list.find("P1/K1.down"), a.list.find("P2/K2.down")}, off);
  const planner::Pieces turned = planner::compare_pieces(a.frame, b.frame, off);
  REQUIRE(turned.boards.size() == 1);
  CHECK(turned.boards[0].laid != planner::Laid::as_before);
  CHECK_FALSE(turned.boards[0].to_drill());
  CHECK(turned.boards[0].left_open.empty());
  // What the plan keeps is what may stay here: nothing else may turn than before.
  planner::Matching planned = m;
  planner::let_turn(a.list, plan.kept, planned);
  CHECK(planned.may_turn == m.may_turn);
}

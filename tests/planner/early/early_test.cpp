/// The must-come-first relation, lock-outs, prices and last calls against every state that can be reached.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include <nlohmann/json.hpp>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"

#include "planner/early/precedence.hpp"
#include "planner/early/trap.hpp"
#include "planner/order/order.hpp"
#include "tests/support/every/early_checks.hpp"
#include "tests/support/every/every_state.hpp"
#include "tests/support/frames/early_frames.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/program/program.hpp"

using namespace dryfit;
using planner::ContactId;

namespace {

using tests::Example;

void check_all(const std::string& text) {
  Example e(text);
  const tests::EveryState all(e.rules);
  REQUIRE(all.buildable());
  tests::check_relation(e, all);
  tests::check_parts(e, all);
  tests::check_last_calls(e, all, e.rules);
}

/// A pole with a shelf S on its coupling, and a board W on the wall beside it that hangs over the shelf's corner.
std::string pole_under_wall_board() {
  return R"(dryfit: 1
units: mm
pipe: {standard: npt, size: 1-1/4}
surfaces:
  floor: {normal: up, at: 0}
  side: {normal: right, at: -110}
runs:
  pole: {from: floor, at: [0, 0], parts: [F: flange, A: {pipe: 80}, C: coupling, B: {pipe: 220}, K: coupling]}
boards:
  S: {through: [B], rests-on: [C], size: {x: 150, y: 140, z: 25}, reach: {left: 50, back: 80}}
  W: {height: 163, size: {x: 90, y: 60, z: 19}, at: [-110, 10], fix: [side]}
)";
}

}  // namespace

TEST_CASE("must-come-first, lock-outs, prices and last calls are those that trying every order gives") {
  SUBCASE("a free rack with one board") { check_all(tests::free_rack_text(1)); }
  SUBCASE("a trestle whose rail closes a ring over the floor") { check_all(tests::trestle_text()); }
  SUBCASE("a square with a union") { check_all(tests::square_text(true)); }
  SUBCASE("a strapped board with another laid on it") { check_all(tests::stack_text()); }
  SUBCASE("a shelf over a flange's screws with a board on the wall over it") { check_all(pole_under_wall_board()); }
}

TEST_CASE("what the room alone joins to a part may keep it from going on, and is never taken to be there already") {
  // By hand: the shelf S lies over the screws of F. It is pushed up out of the driver's way unless W hangs over it, so
  // F goes on last as long as W is not on the wall; only pole and W together are too much. The room is all that joins F
  // to W while F is not on.
  Example e(pole_under_wall_board());
  const planner::Lockouts of_flange = planner::lockouts_of(e.undoer, e.part("F").contacts);
  CHECK(of_flange.complete);
  CHECK(of_flange.sets == std::vector<std::vector<ContactId>>{{e.id("B/C.up"), e.id("W/side")}});
  CHECK(planner::can_wait(e.undoer, e.part("F").contacts, {e.id("B/C.up"), e.id("S/B"), e.id("B/K.down")}));
}

TEST_CASE(
    "a free rack can be built from either end: nothing must strictly come first, yet each board has a last call") {
  Example e(tests::free_rack_text(2));
  const planner::Precedence relation = planner::precedence_of(e.undoer);
  for (const auto& before : relation.before) CHECK(before.empty());
  CHECK(planner::reduced(relation).empty());

  const auto call = [&](const char* board, std::vector<const char*> order) {
    planner::StepContacts steps;
    for (const char* id : order) steps.push_back({e.id(id)});
    for (auto& step : steps) {  // a board slides over both pipes of a joined pair at once
      if (step.front() == e.id("S1/B1")) step.push_back(e.id("S1/B2"));
      if (step.front() == e.id("S2/H1")) step.push_back(e.id("S2/H2"));
    }
    return planner::last_call(e.undoer, e.part(board).contacts, steps);
  };
  SUBCASE("built from the top rail down: a board must be on before the coupling under it") {
    // Steps count from 1: H1/D1.up is the sixth, B1/C1.up the eleventh.
    const std::vector<const char*> down{"R/E1.right", "R/E2.left",  "H1/E1.down", "H2/E2.down", "S2/H1",    "H1/D1.up",
                                        "H2/D2.up",   "B1/D1.down", "B2/D2.down", "S1/B1",      "B1/C1.up", "B2/C2.up",
                                        "A1/C1.down", "A2/C2.down", "A1/K1.up",   "A2/K2.up"};
    const planner::LastCall s2 = call("S2", down);
    CHECK(s2.step == 6);
    CHECK(s2.closed_out_by == std::vector<ContactId>{e.id("H1/D1.up")});
    CHECK(s2.trap);
    const planner::LastCall s1 = call("S1", down);
    CHECK(s1.step == 11);
    CHECK(s1.closed_out_by == std::vector<ContactId>{e.id("B1/C1.up")});
  }
  SUBCASE("built from below, one board at a time: a board must be on before the fitting over it") {
    const std::vector<const char*> up{"A1/K1.up",   "A2/K2.up",   "A1/C1.down", "A2/C2.down", "B1/C1.up", "B2/C2.up",
                                      "S1/B1",      "B1/D1.down", "B2/D2.down", "H1/D1.up",   "H2/D2.up", "S2/H1",
                                      "H1/E1.down", "R/E1.right", "R/E2.left",  "H2/E2.down"};
    // B1/D1.down is the eighth, H1/E1.down the thirteenth.
    const planner::LastCall s1 = call("S1", up);
    CHECK(s1.step == 8);
    CHECK(s1.closed_out_by == std::vector<ContactId>{e.id("B1/D1.down")});
    const planner::LastCall s2 = call("S2", up);
    CHECK(s2.step == 13);
    CHECK(s2.closed_out_by == std::vector<ContactId>{e.id("H1/E1.down")});
  }
}

TEST_CASE("the lock-outs of a board between two couplings are the fittings over and under it, post by post") {
  Example e(tests::free_rack_text(2));
  const planner::Lockouts found = planner::lockouts_of(e.undoer, e.part("S1").contacts);
  CHECK(found.complete);
  std::set<std::vector<ContactId>> sets(found.sets.begin(), found.sets.end());
  const auto pair = [&](const char* a, const char* b) {
    std::vector<ContactId> set{e.id(a), e.id(b)};
    std::sort(set.begin(), set.end());
    return set;
  };
  CHECK(sets == std::set<std::vector<ContactId>>{pair("B1/C1.up", "B1/D1.down"), pair("B2/C2.up", "B2/D2.down")});
  // They are among what is told of the part.
  const planner::Lockouts told = planner::early_facts(e.undoer, e.part("S1"), e.steps()).lockouts;
  CHECK(told.complete);
  CHECK(told.sets == found.sets);
}

TEST_CASE("forgetting a board costs the fewest joints on any side, and they are named") {
  Example e(tests::free_rack_text(2));
  const planner::EarlyPart early = planner::early_facts(e.undoer, e.part("S1"), e.steps());
  CHECK(early.depth.proven());
  CHECK(early.price.at_most() == 2);  // one joint over or under the board on each post
  CHECK(early.price.at_least() == 2);
  REQUIRE(early.price.comes_off.size() == 2);
  tests::Made made(e.list.contacts.size(), 1);
  for (const ContactId c : early.part.contacts) made[at(c)] = 0;
  CHECK(planner::half_built(e.undoer, early.part.contacts, made).closed);
  for (const ContactId c : early.price.comes_off) made[at(c)] = 0;
  CHECK_FALSE(planner::half_built(e.undoer, early.part.contacts, made).closed);
}

TEST_CASE("a half-built frame without a board is closed when the board is locked out, and says what it costs to open") {
  Example e(tests::free_rack_text(2));
  const planner::NamedPart board = e.part("S1");
  tests::Made made(e.list.contacts.size(), 0);
  for (const char* id : {"A1/K1.up", "A1/C1.down", "B1/C1.up"}) made[at(e.id(id))] = 1;
  CHECK_FALSE(planner::half_built(e.undoer, board.contacts, made).closed);
  made[at(e.id("B1/D1.down"))] = 1;
  const planner::HalfBuilt now = planner::half_built(e.undoer, board.contacts, made);
  CHECK(now.closed);
  CHECK(now.stuck == e.id("S1/B1"));
  CHECK_FALSE(now.why.empty());
  const planner::FewestMoves price = planner::price_when_closed(e.undoer, board.contacts, made);
  CHECK(price.possible);
  CHECK(price.proven());
  CHECK(price.at_most() == 1);  // B1/D1.down off again, which was made last
}

TEST_CASE("what can never come free has no price") {
  Example e(tests::square_text(false));
  const planner::FewestMoves depth = planner::fewest_moves(e.undoer, planner::State(e.list), e.part("A").contacts);
  CHECK_FALSE(depth.possible);
}

TEST_CASE("the price of a board under seven others is proven, though the others have to come off one by one") {
  // With the posts' feet on the floor and the rails between them nothing is taken off from below.
  Example e(tests::rack_text(1, 8));
  const planner::EarlyPart early = planner::early_facts(e.undoer, e.part("S0-0"), e.steps());
  CHECK(early.depth.proven());
  CHECK(early.price.at_most() == 2);  // the joint over the board on each of its two posts
}

// A slot lets its pipe out sideways, so a pipe of the hoop that was forgotten costs one foot: with its screws off, all
// on that side turns.
TEST_CASE("a pipe in an open slot is put in again at the price of one foot's screws, though other ways are as short") {
  Example e(tests::slurp(tests::scenario("potting-hoop-notched")));
  for (const char* pipe : {"P2", "P4"}) {
    CAPTURE(pipe);
    const planner::Price price = planner::price_of(e.undoer, e.part(pipe), 40000);
    CHECK(price.proven());
    CHECK(price.at_most() == 1);
    REQUIRE(price.comes_off.size() == 1);
    const std::string& off = e.list.contact(price.comes_off.front()).id;
    const bool foot = off == "FR/floor" || off == "FL/floor";
    CHECK_MESSAGE(foot, off);
  }
}

TEST_CASE("what comes off for a forgotten tray of a cart is let go at one height on all four posts") {
  Example e(tests::slurp(tests::scenario("bakery-cart")));
  const std::vector<planner::NamedPart> parts = planner::named_parts(e.frame, e.list);
  int trays = 0;
  for (const planner::NamedPart& part : parts) {
    const planner::Price price = planner::price_of(e.undoer, part, 40000);
    if (!part.board || price.comes_off.size() != 4) continue;
    CAPTURE(part.label);
    ++trays;
    std::set<long> heights;  // mm
    for (const ContactId c : price.comes_off) heights.insert(std::lround(e.list.contact(c).on_axis.z));
    CHECK(heights.size() == 1);
  }
  CHECK(trays == 2);
}

TEST_CASE("forgetting a handrail's foot costs the other foot's screws, not the whole rail turned off its flange") {
  Example e(R"(dryfit: 1
units: in
pipe: {standard: npt, size: 1}
surfaces:
  floor: {normal: up, at: 0}
runs:
  rail:
    from: floor
    at: [0, 0]
    parts:
      - F1: flange
      - N1: {pipe: 30}
      - E1: {elbow: right}
      - R1: {pipe: 48}
      - E2: {elbow: down}
      - N2: {pipe: 30}
      - F2: flange
    to: floor
)");
  for (const auto& pair : {std::pair<const char*, std::string>("F1", "F2/floor"), {"F2", "F1/floor"}}) {
    const char* const foot = pair.first;
    CAPTURE(foot);
    const planner::Price price = planner::price_of(e.undoer, e.part(foot), 40000);
    CHECK(price.proven());
    REQUIRE(price.comes_off.size() == 1);
    CHECK(e.list.contact(price.comes_off.front()).id == pair.second);
  }
}

// Two posts with a hoop over them, and a rung with a union between their tees. The lock-outs of the upper left pipe, by
// hand: the nut, for the rung and the hoop hold both ends then; both feet; or all of the right post under the hoop.
TEST_CASE(
    "where a part has few lock-outs, none of them wide, that these are all is found out within the usual limits") {
  Example e(R"(
dryfit: 1
name: Hoop with a rung
units: in
pipe: {standard: npt, size: 3/4}
surfaces: {floor: {normal: up, at: 0}}
runs:
  hoop:
    from: floor
    at: [0, 0]
    parts: [FL: flange, P1: {pipe: 4}, T1: {tee: right}, P2: {pipe: 4}, E1: {elbow: right}, P3: {pipe: 12},
            E2: {elbow: down}, P4: {pipe: 4}, T2: {tee: left}, P5: {pipe: 4}, FR: flange]
    to: floor
  rung: {from: T1.right, parts: [P6: {pipe: 4}, U1: union, P7: {pipe: 4}], to: T2.left}
)");
  const auto set = [&](std::vector<const char*> ids) {
    std::vector<planner::ContactId> contacts;
    for (const char* id : ids) contacts.push_back(e.id(id));
    std::sort(contacts.begin(), contacts.end());
    return contacts;
  };
  const planner::Lockouts found = planner::lockouts_of(e.undoer, e.part("P2").contacts);
  CHECK(found.complete);
  CHECK(std::set(found.sets.begin(), found.sets.end()) ==
        std::set{set({"U1"}), set({"FL/floor", "FR/floor"}),
                 set({"P4/E2.down", "P4/T2.up", "P5/T2.down", "P5/FR.up", "FR/floor"})});
  for (const auto& lockout : found.sets) CHECK_FALSE(planner::can_wait(e.undoer, e.part("P2").contacts, lockout));
}

TEST_CASE("a board that a cap keeps off is put on again at the price of the cap, not of the pipe with the cap on it") {
  Example e(R"(
dryfit: 1
name: A shelf caught on a post
units: in
pipe: {standard: npt, size: 3/4}
surfaces: {floor: {normal: up, at: 0}}
runs:
  left post: {from: floor, at: [0, 0], parts: [FL: flange, P1: {pipe: 4}, C1: coupling, P2: {pipe: 5}, K1: cap]}
  right post: {from: floor, at: [10, 0], parts: [FR: flange, P3: {pipe: 4}, C2: coupling, P4: {pipe: 5}]}
boards:
  S1: {through: [P2, P4], rests-on: [C1, C2], size: {x: 14, y: 6, z: 3/4}, reach: {left: 2, front: 3}}
)");
  const planner::Price price = planner::price_of(e.undoer, e.part("S1"), 20000);
  CHECK(price.at_most() == 1);
  CHECK(price.comes_off == std::vector<planner::ContactId>{e.id("P2/K1.down")});
}

// Rung k, counted from 0, leaves its stiles once one of them gives way: with all unions under it open, a foot off the
// floor and the stile apart over it, k + 2 joints; or with all over it open and the stile apart under it, 60 - k.
TEST_CASE("what forgetting a union in the middle of a long ladder costs is found and proven") {
  Example e(tests::ladder_text(60, true));
  for (const int rung : {28, 30}) {
    CAPTURE(rung);
    const planner::Price price = planner::price_of(e.undoer, e.part("U" + std::to_string(rung)), 200000);
    CHECK(price.proven());
    CHECK(price.at_most() == std::min(rung + 2, 60 - rung));
  }
}

TEST_CASE("for the upper tray of a cart all four posts are parted from the couplings under it, none somewhere else") {
  const tests::Ran ran = tests::run({"early", tests::scenario("bakery-cart"), "--json"});
  const nlohmann::json told = nlohmann::json::parse(ran.out);
  for (const auto& part : told.at("parts")) {
    if (part.at("part") != "HIGH") continue;
    CHECK(part.at("price_moves") == 4);
    std::set<std::string> off;
    for (const auto& contact : part.at("comes_off")) off.insert(contact.get<std::string>());
    CHECK(off == std::set<std::string>{"P10/C7.up", "P3/C2.up", "P4/C3.up", "P9/C6.up"});
    return;
  }
  FAIL("HIGH is not told");
}

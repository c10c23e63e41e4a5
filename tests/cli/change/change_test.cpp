/// `change` as a builder calls it. The frames are invented; what is checked are the rules of a change of design.
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>

#include "model/geometry/at.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;
using nlohmann::json;

namespace {

const std::string kRack = dryfit::test::shelf_rack();

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  const auto at = text.find(from);
  REQUIRE(at != std::string::npos);
  return text.replace(at, from.size(), to);
}

/// The rack without its shelf.
std::string bare() { return dryfit::test::two_posts("12"); }

json json_of(const Ran& ran) {
  CHECK(ran.err == "");
  return json::parse(ran.out);
}

std::set<std::string> words(const json& list) { return list.get<std::set<std::string>>(); }

void check_refused(const Ran& ran, const std::string& reason) {
  CHECK(ran.code == 2);
  CHECK(ran.out == "");
  CHECK_MESSAGE(ran.err.find(reason) != std::string::npos, ran.err);
}

}  // namespace

// A pole that closes only with its joints screwed further in: standing, they have been.
TEST_CASE("what was turned for the old frame is not to be turned once more for the new one") {
  const std::string pole =
      "dryfit: 1\nunits: in\npipe: {standard: npt, size: 3/4}\n"
      "surfaces: {floor: {normal: up, at: 0}, ceiling: {normal: down, at: 96}}\n"
      "runs: {pole: {from: floor, at: [0, 0], parts: [FB: flange, P1: {pipe: 24}, C1: coupling, P2: {pipe: 36}, "
      "T1: {tee: right, branch-size: 1/2}, P3: {pipe: 30}, C2: coupling, P4: {pipe: 2}, FT: flange], to: ceiling},\n"
      "  arm: {from: T1.right, parts: [A1: {pipe: 14, size: 1/2}, A2: {cap: , size: 1/2}]}}\n";
  const ScratchFolder folder;
  const std::string old_file = folder.file("old.yaml", pole);
  const json same = json_of(run({"change", old_file, old_file, "--json"}));
  CHECK(!same["turns"].empty());
  CHECK(same["turns_left"].empty());
  CHECK(run({"change", old_file, old_file}).out.find("line up, turn") == std::string::npos);

  // A longer arm touches no joint of the pole. Half an inch less at the top shifts what the joints have to make up:
  // every one that stays needs the difference, and those made anew the whole.
  const json arm = json_of(run({"change", old_file, "--set", "A1.length=18", "--json"}));
  CHECK(arm["turns"] == same["turns"]);
  CHECK(arm["turns_left"].empty());
  const json shorter = json_of(run({"change", old_file, "--set", "P4.length=1-1/2", "--json"}));
  const auto turns_at = [](const json& list, const json& joint) {
    for (const json& turn : list) {
      if (turn["contact"] == joint) return turn["turns"].get<double>();
    }
    return 0.0;
  };
  for (const json& turn : shorter["turns"]) {
    CAPTURE(turn.dump());
    const bool stays = words(shorter["stays"]).count(turn["contact"].get<std::string>()) != 0;
    const double stood = stays ? turns_at(same["turns"], turn["contact"]) : 0.0;
    CHECK(turns_at(shorter["turns_left"], turn["contact"]) == doctest::Approx(turn["turns"].get<double>() - stood));
  }
}

TEST_CASE("changing nothing is free, whole or half built") {
  for (const char* name : {"plant-rack", "pot-rail", "work-table", "cellar-rail-union"}) {
    CAPTURE(name);
    const Ran whole = run({"change", scenario(name), scenario(name), "--json"});
    CHECK(whole.code == 0);
    const json answer = json_of(whole);
    CHECK(answer["verdict"] == "free");
    CHECK(answer["undo"].empty());
    CHECK(answer["then"].empty());
    CHECK(answer["buy"].empty());
    CHECK(answer["moved"].empty());
    for (const json& point : answer["price_by_step"]) CHECK(point["undo_moves"] == 0);
    CHECK(run({"change", scenario(name), scenario(name), "--built", "3"}).code == 0);
  }
}

// Common practice, no source: lengthening a bar between two posts from 12 to 24 in moves one side as a whole, and a
// drilled board across the gap comes off and is drilled anew.
TEST_CASE("a longer bar moves one post as a whole, and the board is drilled anew and shows its old hole") {
  const ScratchFolder folder;
  const std::string rack = folder.file("rack.yaml", kRack);
  const Ran ran = run({"change", rack, "--set", "P4.length=24", "--json"});
  CHECK(ran.code == 1);
  const json answer = json_of(ran);
  CHECK(answer["verdict"] == "teardown");
  CHECK(answer["proven"] == true);
  CHECK(answer["undo_moves"] == answer["undo"].size());
  CHECK(answer["buy"] == json::array({"P4"}));
  CHECK(answer["spare"] == json::array({"P4"}));
  CHECK(answer["scrap"].empty());
  CHECK(answer["replaced"] == json::array({"P4"}));
  bool post_moves = false;
  for (const json& piece : answer["moved"]) {
    const auto parts = words(piece["parts"]);
    if (!parts.contains("T2")) continue;
    post_moves = parts.contains("P5") && parts.contains("P6") && parts.contains("FR") && !parts.contains("P4");
    CHECK(piece["by_mm"] == json::array({304.8, 0.0, 0.0}));  // 24 - 12 in
    CHECK(piece["turned"] == false);
  }
  CHECK(post_moves);
  REQUIRE(answer["redrill"].size() == 1);
  const json& board = answer["redrill"][0];
  CHECK(board["board"] == "S1");
  CHECK(board["serve"] == json::array({{{"pipe", "P3"}, {"was", "P3"}}}));
  CHECK(board["left_open"] == json::array({"P7"}));
  REQUIRE(board["drill"].size() == 1);
  CHECK(board["drill"][0]["pipe"] == "P7");
  CHECK(board["drill"][0]["from_front_mm"] == doctest::Approx(4.625 * 25.4));  // its reach to the front
  const Ran text = run({"change", rack, "--set", "P4.length=24"});
  CHECK(text.code == 1);
  CHECK(text.out.find("12 in to the right") != std::string::npos);
  CHECK(text.out.find("the old hole of P7 will show") != std::string::npos);
  // Its screws need other holes: where, is told from the flange that stays. 24 in of pipe with a tee's take-off at each
  // end, as the posts of the plant rack stand.
  CHECK_MESSAGE(
      text.out.find("Screw flange FR to the floor. Centre of FR: 25-15/16 in to the right of FL") != std::string::npos,
      text.out);
  CHECK(text.out.find("When to decide: up to step ") != std::string::npos);
}

TEST_CASE("the change is free until the step that the answer names, and costs after it") {
  const ScratchFolder folder;
  const std::string rack = folder.file("rack.yaml", kRack);
  const auto call = [&](std::vector<std::string> more) {
    std::vector<std::string> args = {"change", rack, "--set", "P4.length=24", "--json"};
    args.insert(args.end(), more.begin(), more.end());
    return run(args);
  };
  const json whole = json_of(call({}));
  const int last = whole["free_until_step"];
  const auto steps = static_cast<int>(whole["price_by_step"].size()) - 1;
  REQUIRE(last > 0);
  REQUIRE(last < steps);
  for (int k = 0; k <= steps; ++k) {
    CAPTURE(k);
    const Ran ran = call({"--built", std::to_string(k)});
    const json answer = json_of(ran);
    CHECK(ran.code == (k <= last ? 0 : 1));
    CHECK(answer["verdict"] == (k <= last ? "free" : "teardown"));
    CHECK(answer["undo_moves"] == whole["price_by_step"][dryfit::at(k)]["undo_moves"]);
    CHECK(answer["price_by_step"].empty());
  }
  check_refused(call({"--built", std::to_string(steps + 1)}), "the order has");
  // The steps that are counted are those that `order` prints.
  const json order = json_of(run({"order", rack, "--json"}));
  CHECK(static_cast<int>(order["steps"].size()) == steps);
  json done = json::array();
  for (int k = 0; k < last + 1; ++k) done.push_back(order["steps"][dryfit::at(k)]);
  const std::string file = folder.file("done.json", done.dump());
  CHECK(json_of(call({"--built", file}))["undo_moves"] == whole["price_by_step"][dryfit::at(last) + 1]["undo_moves"]);
  CHECK(json_of(call({"--order", folder.file("all.json", order.dump())}))["price_by_step"] == whole["price_by_step"]);
}

TEST_CASE("what is said to be done must be doable, step by step") {
  const ScratchFolder folder;
  const std::string rack = folder.file("rack.yaml", kRack);
  const std::string early = folder.file(
      "early.json",
      R"([{"action": "screw", "contacts": ["P3/C1.up"]}, {"action": "screw", "contacts": ["P3/K1.down"]}, {"action": "slide", "contacts": ["S1/P3"]}])");
  check_refused(run({"change", rack, "--set", "P4.length=24", "--built", early}), "step 3 cannot be made");
  const std::string twice =
      folder.file("twice.json",
                  R"([{"action": "screw", "contacts": ["P3/C1.up"]}, {"action": "screw", "contacts": ["P3/C1.up"]}])");
  check_refused(run({"change", rack, "--set", "P4.length=24", "--built", twice}), "makes P3/C1.up a second time");
  check_refused(run({"change", rack, "--set", "P4.length=24", "--order", early}), "step 3 cannot be made");
  check_refused(run({"change", "-", "--set", "P4.length=24", "--built", "-"}, kRack),
                "standard input can be read only once");
}

TEST_CASE("parts are known by id, then by what they are and what they hold; --map overrules") {
  const ScratchFolder folder;
  const std::string rack = folder.file("rack.yaml", kRack);
  std::string renamed = replaced(replaced(kRack, "K1: cap", "lid: cap"), "C2: coupling", "joint: coupling");
  renamed = replaced(renamed, "rests-on: [C1, C2]", "rests-on: [C1, joint]");
  const std::string other = folder.file("renamed.yaml", renamed);
  const Ran ran = run({"change", rack, other, "--json"});
  CHECK(ran.code == 0);
  const json answer = json_of(ran);
  CHECK(answer["renamed"] == json::array({{{"old", "K1"}, {"new", "lid"}}, {{"old", "C2"}, {"new", "joint"}}}));
  // Taking the left cap for the right one means that both have to come off: two threads.
  const std::string swapped = folder.file(
      "swapped.yaml", replaced(replaced(replaced(kRack, "K1: cap", "KX: cap"), "K2: cap", "K1: cap"), "KX", "K2"));
  const json by_id = json_of(run({"change", rack, swapped, "--json"}));
  CHECK(by_id["undo_moves"] == 2);
  const Ran mapped = run({"change", rack, swapped, "--map", "K1=K2", "--map", "K2=K1", "--json"});
  CHECK(mapped.code == 0);
  CHECK(json_of(mapped)["undo_moves"] == 0);
  check_refused(run({"change", rack, swapped, "--map", "K1=P3"}), "are different pieces");
  check_refused(run({"change", rack, swapped, "--map", "K9=K1"}), "there is no part 'K9' in the old design");
  check_refused(run({"change", rack, swapped, "--map", "K1"}), "expected OLD=NEW");
}

TEST_CASE("a piece that is left over serves where the new design needs the same") {
  const ScratchFolder folder;
  const std::string rack = folder.file("rack.yaml", bare());
  // P2 becomes 18 in, and a 12 in pipe is wanted on top of the right post instead of the 4-1/2 in one.
  const std::string other = folder.file("other.yaml", replaced(replaced(bare(), "P2: {pipe: 12}", "P2: {pipe: 18}"),
                                                               "P7: {pipe: 4-1/2}", "P9: {pipe: 12}"));
  const json answer = json_of(run({"change", rack, other, "--json"}));
  CHECK(answer["used_again"] == json::array({{{"from", "P2"}, {"as", "P9"}}}));
  CHECK(answer["buy"] == json::array({"P2"}));
  CHECK(answer["spare"] == json::array({"P7"}));
}

TEST_CASE("a new frame that no order builds, or that does not fit, is a no that says why") {
  const Ran locked = run({"change", scenario("cellar-rail-union"), scenario("cellar-rail-ring"), "--json"});
  CHECK(locked.code == 1);
  const json knot = json_of(locked);
  CHECK(knot["verdict"] == "locked");
  CHECK(!knot["knot"].empty());
  CHECK(!knot["knot_reasons"].empty());
  const Ran open = run({"change", scenario("cellar-rail-union"), "--set", "P3.length=30", "--json"});
  CHECK(open.code == 1);
  const json gap = json_of(open);
  CHECK(gap["fits"] == false);
  CHECK(!gap["open_closures"].empty());
  CHECK(run({"change", scenario("cellar-rail-union"), "--set", "P3.length=30"}).out.find("DOESN'T LINE UP") !=
        std::string::npos);
}

// The longer arm tilts the board's place against the other arm, whose elbow then stands in it. Nothing can be told of
// an order of what is in one place with something else: what helps is to move one of the two, and only that is said.
TEST_CASE("a new frame with two things in one place is said not to fit, and not to be locked as well") {
  const ScratchFolder folder;
  const std::string arms = R"(dryfit: 1
units: in
pipe: {standard: npt, size: 3/4}
surfaces:
  wall: {normal: front, at: 0}
runs:
  left arm:
    from: wall
    at: [0, 60]
    parts:
      - FL: flange
      - P1: {pipe: 10}
      - E1: {elbow: up}
      - P2: {pipe: 2}
      - K1: cap
  right arm:
    from: wall
    at: [30, 60]
    parts:
      - FR: flange
      - P3: {pipe: 10}
      - E2: {elbow: up}
      - P4: {pipe: 2}
      - K2: cap
boards:
  TOP:
    rests-on: [P1, P3]
    size: {x: 34, y: 8-1/2, z: 1}
    reach: {left: 2, front: 4}
    strap: {P1: 2, P3: 2}
)";
  const std::string near = folder.file("near.yaml", arms);
  const std::string far = folder.file("far.yaml", replaced(arms, "P1: {pipe: 10}", "P1: {pipe: 12}"));
  const Ran ran = run({"change", near, far});
  CAPTURE(ran.out);
  CHECK(ran.code == 1);
  CHECK(ran.out.find("DOES NOT FIT") != std::string::npos);
  CHECK(ran.out.find("TOP can't lie on P1 and P3: E2 is under it too") != std::string::npos);
  CHECK(ran.out.find("LOCKED") == std::string::npos);
}

TEST_CASE("an old frame that no order builds cannot stand there: the answer says why, whatever is asked of it") {
  const ScratchFolder folder;
  const std::string chart = folder.path("chart.svg");
  const std::string ring = scenario("cellar-rail-ring"), mended = scenario("cellar-rail-union");
  for (const std::vector<std::string>& more : {std::vector<std::string>{mended},
                                               {mended, "--built", "3"},
                                               {"--set", "P3.length=30"},
                                               {"--set", "P3.length=24..30"},
                                               {mended, "--by", "effort"},
                                               {mended, "-o", chart}}) {
    CAPTURE(more);
    std::vector<std::string> call = {"change", ring};
    call.insert(call.end(), more.begin(), more.end());
    const Ran text = run(call);
    CHECK(text.code == 1);
    CHECK(text.out.find("the old frame is LOCKED") != std::string::npos);
    call.emplace_back("--json");
    const Ran ran = run(call);
    CHECK(ran.code == 1);
    const json answer = json_of(ran);
    CHECK(answer["verdict"] == "impossible");
    CHECK(answer["old_frame"]["verdict"] == "locked");
    CHECK(!answer["old_frame"]["knot"].empty());
    for (const std::string& fault : dryfit::tests::faults_by_schema("change", answer)) FAIL_CHECK(fault);
  }
  CHECK(folder.entries().empty());
  // What is really made is known from a file; the old frame then need not have an order.
  const std::string done = folder.file("done.json", R"([{"action": "screw", "contacts": ["P3/E1.right"]}])");
  CHECK(json_of(run({"change", ring, mended, "--built", done, "--json"}))["verdict"] != "impossible");
}

TEST_CASE("when the search ends early the answer is bounded, and still no change that needs a move is called free") {
  const ScratchFolder folder;
  const std::string without = folder.file("bare.yaml", bare());
  const std::string with = folder.file("shelf.yaml", kRack);
  // Both posts are closed above: on each of them one joint or another has to come off again for the shelf.
  const json exact = json_of(run({"change", without, with, "--json"}));
  CHECK(exact["verdict"] == "teardown");
  CHECK(exact["undo_moves"] == 2);
  CHECK(exact["proven"] == true);
  const Ran hasty = run({"change", without, with, "--budget", "1", "--json"});
  CHECK(hasty.code == 1);
  const json bounded = json_of(hasty);
  CHECK(bounded["verdict"] == "teardown");
  CHECK(bounded["proven"] == false);
  CHECK(bounded["undo_moves_at_least"].get<double>() >= 1);
  CHECK(bounded["undo_moves_at_least"].get<double>() <= 2);
  CHECK(bounded["undo_moves"].get<int>() >= 2);
  CHECK(run({"change", without, with, "--budget", "1"}).out.find("at most, at least ") != std::string::npos);
}

TEST_CASE("by effort the price is the seconds of easy work of the order command's rates") {
  const ScratchFolder folder;
  const std::string rack = folder.file("rack.yaml", kRack);
  const json moves = json_of(run({"change", rack, "--set", "P4.length=24", "--json"}));
  const json effort = json_of(run({"change", rack, "--set", "P4.length=24", "--by", "effort", "--json"}));
  CHECK(effort["by"] == "effort");
  CHECK(effort["undo_moves"].get<int>() >= moves["undo_moves"].get<int>());
  // Every move but a lift of one board takes at least the start of a thread, 5 s by model/data/effort.csv (common
  // practice, no source), or a nut or fastening, which is more.
  CHECK(effort["effort"]["value"].get<double>() > 5.0 * (effort["undo_moves"].get<double>() - 1.0));
  CHECK(effort["effort"]["lower_bound"].get<double>() <= effort["effort"]["value"].get<double>());
  CHECK(effort["price_by_step"].back()["effort"].get<double>() > 0.0);
}

TEST_CASE("a range of lengths is priced with what stock offers and what closes") {
  const Ran ran = run({"change", scenario("cellar-rail-union"), "--set", "P3.length=34..38", "--json"});
  CHECK(ran.code == 1);
  const json answer = json_of(ran);
  std::set<double> lengths;
  for (const json& entry : answer["sweep"]) {
    const double length = entry["length_mm"];
    CAPTURE(length);
    CHECK(length >= 34 * 25.4 - 0.1);
    CHECK(length <= 38 * 25.4 + 0.1);
    CHECK(lengths.insert(length).second);
    const bool present = std::abs(length - 36 * 25.4) < 0.1;
    CHECK(entry["present"] == present);
    // Pipe is sold threaded in that size at 36 in; odd inches are cut to measure.
    CHECK(entry["stock"].is_null() == !present);
    // By hand: both threads of P3, the union's nut, a thread of P7, whose posts now stand otherwise, and both flanges,
    // for what turns about P7 would swing through the floor.
    CHECK(entry["undo_moves"] == (present ? 0 : 6));
    const Ran one = run(
        {"change", scenario("cellar-rail-union"), "--set", "P3.length=" + std::to_string(length) + " mm", "--json"});
    const json alone = json_of(one);
    CHECK(alone["undo_moves"] == entry["undo_moves"]);
    CHECK(alone["fits"] == (entry["closes"] != "open"));
  }
  CHECK(lengths.size() >= 5);  // the whole inches from 34 to 38
  check_refused(run({"change", scenario("cellar-rail-union"), "--set", "P3.length=38..34"}),
                "write the shorter length first");
  check_refused(run({"change", scenario("cellar-rail-union"), "--set", "E1.length=1..2"}), "is not a pipe's length");
  CHECK(run({"change", scenario("cellar-rail-union"), "--set", "P3.length=34..38", "--built", "0"}).code == 0);
}

TEST_CASE("several designs stand side by side with all that a choice depends on") {
  const Ran ran = run({"change", "--all", scenario("pot-rail"), scenario("cellar-rail-ring"), "--json"});
  CHECK(ran.code == 1);
  const json designs = json_of(ran)["designs"];
  REQUIRE(designs.size() == 2);
  const json order = json_of(run({"order", scenario("pot-rail"), "--json"}));
  CHECK(designs[0]["verdict"] == "buildable");
  CHECK(designs[0]["steps"] == order["steps"].size());
  CHECK(designs[0]["effort"]["value"] == order["effort"]["value"]);
  CHECK(designs[0]["effort"]["proven"] == order["effort"]["proven"]);
  CHECK(designs[0]["open_closures"] == 0);
  CHECK(designs[1]["verdict"] == "locked");
  CHECK(designs[1]["steps"].is_null());
  CHECK(designs[1]["effort"].is_null());
  CHECK(designs[1]["worst_trap_price_moves"].is_null());
  const Ran text = run({"change", "--all", scenario("pot-rail"), scenario("work-table")});
  CHECK(text.code == 0);
  for (const char* line : {"Can be built", "Places that don't line up", "Steps", "Effort score", "Worst trap", "People",
                           "Weight", "Pieces to buy"}) {
    CHECK_MESSAGE(text.out.find(line) != std::string::npos, line);
  }
  check_refused(run({"change", "--all", scenario("pot-rail"), "--set", "R1.length=3"}), "takes frames alone");
}

TEST_CASE("the chart says what the answer says, and is written whole or not at all") {
  const ScratchFolder folder;
  const std::string rack = folder.file("rack.yaml", kRack);
  const std::string chart = folder.path("chart.svg");
  const Ran ran = run({"change", rack, "--set", "P4.length=24", "-o", chart});
  CHECK(ran.code == 1);
  const std::string svg = slurp(chart);
  CHECK(svg.find("<svg") != std::string::npos);
  CHECK(run({"change", rack, "--set", "P4.length=24", "-o", folder.path("again.svg")}).code == 1);
  CHECK(slurp(folder.path("again.svg")) == svg);
  for (const char* name : {"chart.pdf", "chart.png"}) {
    CHECK(run({"change", rack, "--set", "P4.length=24", "-o", folder.path(name)}).code == 1);
    CHECK(slurp(folder.path(name)).size() > 1000);  // bytes; a floor set by hand
  }
  const auto before = folder.entries();
  check_refused(run({"change", rack, "--set", "P4.length=24", "-o", folder.path("chart.txt")}), ".svg");
  check_refused(run({"change", rack, "--set", "P4.length=24", "-o", folder.path("none/chart.svg")}), "none/chart.svg");
  check_refused(run({"change", rack, rack, "--set", "P4.length=24"}), "not both");
  check_refused(run({"change", rack}), "a second frame or --set is needed");
  CHECK(folder.entries() == before);
}

TEST_CASE("the same change gives the same bytes") {
  for (const char* by : {"moves", "effort"}) {
    const std::vector<std::string> call = {"change", scenario("pot-rail"), "--set", "R1.length=18", "--by", by,
                                           "--json"};
    CHECK(run(call).out == run(call).out);
  }
}

// The table stands on four flanges that stay joined through the frame: its top is laid on all of them at once.
TEST_CASE("what stays from the old frame is known to the steps that build the new one") {
  const std::string text = run({"change", scenario("work-table"), "--set", "S3.length=36"}).out;
  CHECK(text.find("Lay TOP on flanges F1, F2, F3 and F4, then screw flange F1 to TOP.") != std::string::npos);
  CHECK(text.find("4. Screw flange F2 to TOP.") != std::string::npos);
  CHECK(text.find("Take the screws of F4 out of TOP.") != std::string::npos);
  // Half a ladder still hangs on its other unions.
  const std::string ladder =
      run({"change", scenario("towel-ladder"), "--set", "A1.length=12", "--set", "A2.length=12", "--set",
           "A3.length=12", "--set", "A4.length=12", "--set", "A5.length=12", "--set", "A6.length=12"})
          .out;
  CHECK(ladder.find("Close union U1") != std::string::npos);
  CHECK(ladder.find("Bring the two halves") == std::string::npos);
}

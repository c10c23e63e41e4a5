/// The schemas of the answers. That every document printed in any test is valid is checked where tests call the
/// program (tests/support/program/program.cpp); here the schemas have to be complete and free of what nothing prints.
#include <doctest/doctest.h>

#include <algorithm>
#include <map>
#include <set>
#include <sstream>

#include "cli/json/schemas.hpp"
#include "cli/program/command_table.hpp"
#include "tests/support/frames/linked_frames.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using nlohmann::json;

namespace {

/// Two elbows in the same place.
constexpr const char* kOverlapping =
    "dryfit: 1\npipe: {standard: npt, size: 1/2}\nruns:\n"
    "  a: {go: up, at: [0, 0, 0], parts: [A: {pipe: 6}, E: {elbow: right}]}\n"
    "  b: {go: up, at: [0, 0, 1], parts: [B: {pipe: 6}, F: {elbow: left}]}\n";
/// Two posts with a rung, one of them two inches too high.
constexpr const char* kOpen =
    "dryfit: 1\npipe: {standard: npt, size: 1/2}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n"
    "  left: {from: floor, at: [0, 0], parts: [FL: flange, A: {pipe: 12}, T: {tee: right}, A2: {pipe: 6},\n"
    "    E: {elbow: right}, B: {pipe: 12}, F: {elbow: down}, C: {pipe: 4}, V: {tee: left}, C2: {pipe: 4}, K: cap]}\n"
    "  rung: {from: T.right, parts: [D: {pipe: 12}], to: V.left}\n";
/// A shelf whose carriers do not stand equally high: pieces and couplings differ.
constexpr const char* kUneven =
    "dryfit: 1\npipe: {standard: npt, size: 1/2}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n"
    "  left: {from: floor, at: [0, 0], parts: [FL: flange, A: {pipe: 12}, C1: coupling, A2: {pipe: 6}, K1: cap]}\n"
    "  right: {from: floor, at: [24, 0], parts: [FR: flange, B1: {pipe: 6}, C3: coupling, B2: {pipe: 5},\n"
    "    C2: coupling, B3: {pipe: 6}, K2: cap]}\n"
    "boards:\n  S: {through: [A2, B3], rests-on: [C1, C2], size: {x: 30, y: 8, z: 3/4}, reach: {left: 3, front: 4}}\n";
/// A board that stands upright on a pipe out of the wall.
constexpr const char* kUpright =
    "dryfit: 1\npipe: {standard: npt, size: 1/2}\nsurfaces: {wall: {normal: front, at: 0}}\nruns:\n"
    "  a: {from: wall, at: [0, 0], parts: [FL: flange, A: {pipe: 12}, C: coupling, B: {pipe: 6}, K: cap]}\n"
    "boards:\n  S: {facing: front, through: [B], rests-on: [C], size: {x: 30, y: 3/4, z: 8}, reach: {left: 3, up: 4}}\n";

/// A shelf that sticks on its post until the hole is wider.
constexpr const char* kTight =
    "dryfit: 1\npipe: {standard: npt, size: 1/2}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n"
    "  post: {from: floor, at: [0, 0], parts: [FL: flange, A: {pipe: 12}, C: coupling, B: {pipe: 6}, K: cap]}\n"
    "boards:\n  S: {through: [B], rests-on: [C], size: {x: 12, y: 8, z: 3/4}, reach: {left: 6, front: 4},\n"
    "    hole: 21.5 mm}\n";

/// A shelf that drops over the bands of its tees until it lies on their arms.
constexpr const char* kDrops =
    "dryfit: 1\npipe: {standard: npt, size: 3/4}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n"
    "  l: {from: floor, at: [0, 0], parts: [FA: flange, P1: {pipe: 12}, T1: {tee: right}, P2: {pipe: 12}, K1: cap]}\n"
    "  x: {from: T1.right, parts: [R: {pipe: 24}], to: T2.left}\n"
    "  r: {from: floor, parts: [FB: flange, P4: {pipe: 12}, T2: {tee: left}, P5: {pipe: 12}, K2: cap]}\n"
    "boards:\n  S: {through: [P2, P5], rests-on: [T1, T2], size: {x: 34, y: 12, z: 3/4}, reach: {left: 4, front: 6},\n"
    "    hole: 1-1/2}\n";

/// A pole with wide plates, as high as the room that stands behind it.
std::string wedged_pole(double ceiling) {
  return "dryfit: 1\npipe: {standard: npt, size: 1}\nsurfaces:\n  floor: {normal: up, at: 0}\n"
         "  ceiling: {normal: down, at: " +
         std::to_string(ceiling) +
         " mm}\nruns:\n"
         "  pole: {from: floor, at: [0, 0], parts: [FB: {flange: , measured: {plate: 8}}, P: {pipe: 20},\n"
         "    FT: {flange: , measured: {plate: 8}}], to: ceiling}\n";
}

/// A ladder that a slotted board would free.
constexpr const char* kCaught =
    "dryfit: 1\n"
    "name: Ladder with a board\n"
    "units: mm\n"
    "pipe: {standard: iso7, size: 1-1/4}\n"
    "runs:\n"
    "  front upright: {at: [0, 0, 200], go: up, parts: [T2: {tee: back}, P3: {pipe: 140}, T4: {elbow: back}]}\n"
    "  back upright: {go: up, parts: [T6: {tee: front}, P7: {pipe: 140}, T8: {elbow: front}]}\n"
    "  low rung: {from: T2.back, parts: [P12: {pipe: 74.4}, U10: union, P11: {pipe: 66}], to: T6.front}\n"
    "  high rung: {from: T4.back, parts: [P14: {pipe: 180}], to: T8.front}\n"
    "boards:\n"
    "  S15: {through: [P3, P7], rests-on: [T2, T6], size: {x: 170, y: 514.6, z: 25}, reach: {front: 140, right: 80}}\n";
/// A ring that a flange on the wall behind it would open.
constexpr const char* kBehind =
    "dryfit: 1\n"
    "name: Square before a wall\n"
    "pipe: {standard: npt, size: 3/4}\n"
    "surfaces: {wall: {normal: front, at: 6}}\n"
    "runs:\n"
    "  square:\n"
    "    go: right\n"
    "    at: [0, 0, 0]\n"
    "    parts: [E1: {elbow: up}, A: {pipe: 12}, E2: {elbow: left}, B: {pipe: 12}, E3: {elbow: down}, C: {pipe: 12}, E4: {elbow: right}, D: {pipe: 12}]\n"
    "    to: E1.left\n";

/// Closes by a turn that would lift the elbows into the ceiling: the right post, made up with a wrench, is 3 turns too
/// long and gives 2 (see fit_room_test.cpp).
constexpr const char* kUnderCeiling =
    "dryfit: 1\n"
    "name: Bar under a ceiling\n"
    "pipe: {standard: npt, size: 1}\n"
    "surfaces: {floor: {normal: up, at: 0}, ceiling: {normal: down, at: 14.4655}}\n"
    "runs:\n"
    "  bar:\n"
    "    from: floor\n"
    "    at: [0, 0]\n"
    "    parts:\n"
    "      - FL: flange\n"
    "      - A: {pipe: 12}\n"
    "      - EL: {elbow: right}\n"
    "      - BAR: {pipe: 30}\n"
    "      - ER: {elbow: down}\n"
    "      - B: {pipe: 12.78261, turns: {start: 7.6, end: 7.6}}\n"
    "      - FR: flange\n"
    "    to: floor\n";

/// A shelf that couplings hold down over both flanges of a hoop: a right-angle driver frees it.
constexpr const char* kNoReach =
    "dryfit: 1\n"
    "name: Hoop with a shelf low over its flanges\n"
    "units: mm\n"
    "pipe: {standard: npt, size: 3/4}\n"
    "surfaces: {floor: {normal: up, at: 0}}\n"
    "runs:\n"
    "  hoop:\n"
    "    from: floor\n"
    "    at: [0, 0]\n"
    "    parts: [FL: flange, P1: {pipe: 80}, C1: coupling, P2: {pipe: 65}, C2: coupling, P3: {pipe: 300},\n"
    "      E1: {elbow: right}, P4: {pipe: 500}, E2: {elbow: down}, P5: {pipe: 300}, C3: coupling, P6: {pipe: 65},\n"
    "      C4: coupling, P7: {pipe: 80}, FR: flange]\n"
    "    to: floor\n"
    "boards:\n"
    "  S: {through: [P2, P6], rests-on: [C1, C4], size: {x: 700, y: 200, z: 18}, reach: {left: 80, front: 100}}\n";

struct Calls {
  ScratchFolder folder;
  std::vector<std::vector<std::string>> list;

  Calls() {
    const std::string overlapping = folder.file("overlapping.yaml", kOverlapping);
    const std::string open = folder.file("open.yaml", kOpen);
    const std::string locked = scenario("cellar-rail-ring");
    const std::string steps = folder.path("steps.json");
    for (const char* name : {"plant-rack", "pot-rail", "trellis-arm", "oar-rack", "boot-bench-metric", "window-pole",
                             "work-table", "potting-hoop-notched", "potting-hoop-drilled", "cellar-rail-union"}) {
      const std::string frame = scenario(name);
      for (const char* command : {"check", "order", "early", "fit", "buy", "drill"}) list.push_back({command, frame});
      list.push_back({"show", frame, "-o", folder.path("picture.svg")});
    }
    for (const std::string& frame :
         {locked, overlapping, folder.file("caught.yaml", kCaught), folder.file("behind.yaml", kBehind)}) {
      for (const char* command : {"check", "order", "early"}) list.push_back({command, frame});
      list.push_back({"cards", frame, "-o", folder.path("cards.html")});
      list.push_back({"show", frame, "--step", "1", "-o", folder.path("none.svg")});
      list.push_back({"graph", frame});
    }
    list.push_back({"graph", scenario("plant-rack")});
    list.push_back({"graph", scenario("plant-rack"), "--all"});
    const std::string rack = scenario("plant-rack");
    folder.file("steps.json", run({"order", rack, "--json"}).out);
    folder.file("backwards.json", [&] {
      json answer = json::parse(dryfit::tests::slurp(steps));
      std::reverse(answer["steps"].begin(), answer["steps"].end());
      return answer.dump();
    }());
    list.push_back({"check", open});
    list.push_back({"fit", open});
    folder.file("ceiling.yaml", kUnderCeiling);
    folder.file("misses.yaml", changed("at: 4-5/8}", "at: 5}"));            // a shelf that does not reach the wall
    folder.file("wrong.yaml", changed("P7: {pipe: 8}", "P7: {pipe: 18}"));  // a pipe of another length than was meant
    for (const char* frame : {"ceiling.yaml", "misses.yaml", "wrong.yaml"}) {
      for (const char* command : {"check", "fit"}) list.push_back({command, folder.path(frame)});
    }
    list.push_back({"fit", folder.file("uneven.yaml", kUneven)});
    list.push_back({"check", folder.path("uneven.yaml")});
    const std::string tight = folder.file("tight.yaml", kTight);
    for (const char* command : {"check", "order", "early"}) list.push_back({command, tight});
    list.push_back({"check", folder.file("drops.yaml", kDrops)});
    list.push_back({"order", DRYFIT_SOURCE_DIR "/tests/fitter/cube/five-unions.yaml", "--standing"});
    const json wedged = json::parse(run({"check", folder.file("wedged.yaml", wedged_pole(2000)), "--json"}).out);
    list.push_back({"check", folder.file("wedged.yaml", wedged_pole(wedged["over_all_mm"][2]))});
    list.push_back({"drill", folder.file("upright.yaml", kUpright)});
    list.push_back({"order", rack, "--explain", "--stats"});
    list.push_back({"order", scenario("hall-rack"), "--explain"});
    for (const char* part : {"P1", "S1"}) {
      list.push_back({"order", rack, "--replace", part});
      list.push_back({"order", rack, "--without", part});
    }
    list.push_back({"order", rack, "--built", folder.file("no-shelf.json", order_without_a_shelf())});
    list.push_back({"order", rack, "--stops", "2"});
    list.push_back({"order", rack, "--carry", "20x30"});
    list.push_back({"order", rack, "--carry", "1x2x3"});
    list.push_back({"order", rack, "--down", "--carry", "20x30"});
    list.push_back({"early", rack, "--built", "20"});
    list.push_back({"early", rack, "--built", "20", "--order", folder.file("forgotten.json", order_without_a_shelf())});
    list.push_back({"replay", rack, steps});
    list.push_back({"replay", rack, folder.path("backwards.json")});
    for (const char* command : {"check", "order", "early"}) {
      list.push_back({command, folder.file("no-reach.yaml", kNoReach)});
    }
    int number = 0;
    for (const auto& frame : dryfit::test::linked_frames()) {
      const std::string name = std::to_string(++number);
      const std::string linked = folder.file(name + ".yaml", frame.text);
      list.push_back({"order", linked});
      if (number == 1) {
        list.push_back({"replay", linked, folder.file(name + ".json", run({"order", linked, "--json"}).out)});
      }
    }
    list.push_back({"change", rack, "--set", "P1.length=8"});
    list.push_back({"change", rack, "--set", "P1.length=4..9"});
    list.push_back({"change", rack, scenario("pot-rail")});
    list.push_back({"change", rack, locked, "--all"});
    list.push_back({"change", rack, "--set", "P1.length=4", "--set", "P5.length=6"});
    list.push_back({"change", scenario("cellar-rail-union"), locked});
    for (const std::string& old :
         {locked, overlapping, folder.path("no-reach.yaml"), folder.path("caught.yaml"), folder.path("behind.yaml")}) {
      list.push_back({"change", old, rack});
      list.push_back({"change", old, rack, "-o", folder.path("none.svg")});
    }
    list.push_back({"drill", scenario("pot-rail"), "-o", folder.path("none.pdf")});
    list.push_back({"drill", scenario("plant-rack"), "--measured", "P3-P8=32"});
    list.push_back({"change", rack, folder.file("renamed.yaml", renamed(rack))});
    list.push_back({"change", rack, "--set", "R1.length=24", "-o", folder.path("price.svg")});
    list.push_back({"change", rack, "--set", "R1.length=24", "--by", "effort", "--budget", "5"});
    list.push_back({"change", rack, "--set", "R1.length=24", "--budget", "5"});
    list.push_back({"change", rack, "--set", "R1.length=29..30", "--by", "effort", "--budget", "5"});
    list.push_back({"change", rack, "--set", "P1.length=12", "--set", "P6.length=12"});
    list.push_back({"span", "47-3/4", "--between", "elbow,tee"});
    list.push_back({"buy", rack, "--spares"});
    list.push_back({"buy", rack, "-o", folder.path("buy.svg")});
    list.push_back({"edit", rack, "--set", "P3.length=12"});
    const std::string ends =
        folder.file("ends.yaml",
                    "dryfit: 1\nname: Ends\nunits: in\npipe: {standard: npt, size: 3/4}\nsurfaces:\n"
                    "  floor: {normal: up, at: 0}\nruns:\n"
                    "  left: {from: floor, at: [0, 0], parts: [F: flange, P: {pipe: 6}, T: {tee: right}]}\n"
                    "  right: {from: floor, at: [26, 0], parts: [G: flange, Q: {pipe: 6}, U: {tee: left}]}\n"
                    "  post: {from: floor, at: [0, 20], parts: [H: flange, R: {pipe: 6}]}\n"
                    "  low: {from: floor, at: [10, 10], parts: [I: flange]}\n");
    for (const char* end : {"T.right", "R.end", "I.up", "P", "T", "H"}) list.push_back({"edit", ends, "--offers", end});
    const std::string toward =
        folder.file("toward.yaml",
                    "dryfit: 1\nname: Toward\nunits: in\npipe: {standard: npt, size: 3/4}\nsurfaces:\n"
                    "  floor: {normal: up, at: 0}\nruns:\n"
                    "  left: {from: floor, at: [0, 0], parts: [F: flange, P: {pipe: 6}, T: {tee: right}]}\n"
                    "  right: {from: floor, at: [26, 0], parts: [G: flange, Q: {pipe: 6}, U: {tee: left}]}\n"
                    "  rail: {from: T.right, parts: [R: {pipe: 12}]}\n");
    list.push_back({"edit", toward, "--offers", "R"});
    // 10 mm too long for its room: the threads take it up.
    const std::string pole =
        "dryfit: 1\nname: Bean pole\nunits: mm\npipe: {standard: npt, size: 3/4}\n"
        "surfaces:\n  floor: {normal: up, at: 0}\n  ceiling: {normal: down, at: 1500}\n"
        "runs:\n  pole: {from: floor, at: [0, 0], parts: [F1: flange, A: {pipe: 300}, C1: coupling, B: {pipe: 310},\n"
        "    C2: coupling, C: {pipe: 300}, U: union, D: {pipe: 501.6}, F2: flange], to: ceiling}\n";
    list.push_back({"change", folder.file("pole.yaml", pole), "--set", "A.length=299"});
    list.push_back({"show", rack, "--step", "3", "-o", folder.path("step.svg")});
    list.push_back({"cards", rack, "-o", folder.path("cards.html")});
    list.push_back({"cards", rack, "-o", folder.path("cards.pdf")});
  }

  /// The order of the plant rack with its lowest shelf forgotten.
  static std::string order_without_a_shelf() {
    const json answer = json::parse(run({"order", scenario("plant-rack"), "--json"}).out);
    json rest = json::array();
    for (const json& step : answer["steps"]) {
      if (step["contacts"].dump().find("\"S1/") == std::string::npos) rest.push_back(step);
    }
    return rest.dump();
  }

  /// The plant rack with one text for another, once.
  static std::string changed(const std::string& from, const std::string& to) {
    std::string text = dryfit::tests::slurp(scenario("plant-rack"));
    return text.replace(text.find(from), from.size(), to);
  }

  static std::string renamed(const std::string& frame) {
    std::string text = dryfit::tests::slurp(frame);
    for (std::size_t at = text.find("P10"); at != std::string::npos; at = text.find("P10", at))
      text.replace(at, 3, "PX");
    return text;
  }
};

std::string joined(const std::set<std::string>& words) {
  std::string text;
  for (const std::string& word : words) text += (text.empty() ? "" : ", ") + word;
  return text;
}

}  // namespace

TEST_CASE("every field that a command prints is in its schema") {
  std::map<std::string, std::set<std::string>> missing, seen;
  const Calls calls;
  for (std::vector<std::string> call : calls.list) {
    CAPTURE(call[0]);
    CAPTURE(call[1]);
    call.emplace_back("--json");
    const Ran ran = run(call);
    CHECK(ran.err == "");
    if (ran.out.empty()) continue;
    const json document = json::parse(ran.out);
    const auto unknown = dryfit::tests::undescribed_keys(call[0], document, seen[call[0]]);
    missing[call[0]].insert(unknown.begin(), unknown.end());
  }
  for (const auto& [command, keys] : missing) {
    const std::string tell =
        "add to cli/schemas/" + command + ".json (or to the definition it uses in shared.json): " + joined(keys);
    CHECK_MESSAGE(keys.empty(), tell);
  }
  // What is written into files.
  for (const char* frame : {"plant-rack", "pot-rail", "hall-rack"}) {
    const std::string file = calls.folder.path("data.json");
    for (const auto& [schema, call] : std::map<std::string, std::vector<std::string>>{
             {"deck", {"cards", scenario(frame), "-o", file}}, {"numbers", {"show", scenario(frame), "-o", file}}}) {
      CHECK(run(call).code == 0);
      const json document = json::parse(dryfit::tests::slurp(file));
      CHECK(dryfit::tests::faults_by_schema(schema, document) == std::vector<std::string>{});
      const auto unknown = dryfit::tests::undescribed_keys(schema, document, seen[schema]);
      CHECK(unknown == std::set<std::string>{});
    }
  }
  {
    // A post whose end is open has a free end.
    const std::string file = calls.folder.path("data.json");
    std::string text = dryfit::tests::slurp(scenario("plant-rack"));
    text.erase(text.find("      - K1: cap\n"), std::string("      - K1: cap\n").size());
    CHECK(run({"show", calls.folder.file("open-end.yaml", text), "-o", file}).code == 0);
    const json document = json::parse(dryfit::tests::slurp(file));
    CHECK(dryfit::tests::undescribed_keys("numbers", document, seen["numbers"]) == std::set<std::string>{});
    CHECK(dryfit::tests::undescribed_keys("deck", {{"numbers", document}}, seen["deck"]) == std::set<std::string>{});
    CHECK(dryfit::tests::faults_by_schema("numbers", document) == std::vector<std::string>{});
  }
  // What stands in steps because an order has it, and a change has not.
  const std::map<std::string, std::set<std::string>> only_in_orders{
      {"change",
       {"then[].piece", "then[].pose", "then[].propped", "then[].level_first", "then[].why", "undo[].piece",
        "undo[].pose", "undo[].propped", "undo[].level_first", "undo[].why", "then[].must_come_before",
        "undo[].must_come_before", "then[].on_loose", "undo[].on_loose", "then[].room_below_mm",
        "undo[].room_below_mm"}},
      // What comes off of a half-built frame.
      {"order",
       {"undo[].piece", "undo[].pose", "undo[].propped", "undo[].level_first", "undo[].why", "undo[].must_come_before",
        "undo[].on_loose", "undo[].room_below_mm", "tight_steps[].step", "tight_steps[].legal", "tight_steps[].why"}},
      // Of frames within a hair (tight_steps_test.cpp).
      {"check", {"margin.else", "margin.tight", "margin.tight[].contact", "margin.tight[].why", "margin.within_mm"}},
      {"replay", {"tight_steps[].step", "tight_steps[].legal", "tight_steps[].why"}},
      // The same (hair_test.cpp).
      {"early",
       {"tight_steps[].step", "tight_steps[].legal", "tight_steps[].why", "parts[].within_hair.within_mm",
        "parts[].within_hair.less_room", "parts[].within_hair.less_room.last_call_step",
        "parts[].within_hair.less_room.closed_out_by", "parts[].within_hair.less_room.trap",
        "parts[].within_hair.less_room.why", "parts[].within_hair.more_room",
        "parts[].within_hair.more_room.last_call_step", "parts[].within_hair.more_room.closed_out_by",
        "parts[].within_hair.more_room.trap", "parts[].within_hair.more_room.why"}},
      // After Ctrl-C alone, which takes a process (working_test.cpp).
      {"cards", {"ended_by"}},
      // With --watch alone, which is run as a process (show_watch_test.cpp).
      {"show", {"time", "text", "changed", "faults", "drawn"}}};
  for (const std::string& command : dryfit::cli::schema_names()) {
    if (command == "frame") continue;
    std::set<std::string> unseen = dryfit::tests::described_keys(command);
    for (const std::string& key : seen[command]) unseen.erase(key);
    // A row of a sweep names the parts alone.
    unseen.erase("sweep[].overlaps[].depth_mm");
    unseen.erase("sweep[].overlaps[].too_far");
    const auto elsewhere = only_in_orders.find(command);
    if (elsewhere != only_in_orders.end()) {
      for (const std::string& key : elsewhere->second) unseen.erase(key);
      std::erase_if(unseen, [](const std::string& key) {
        if (!key.starts_with("undo[]") && !key.starts_with("then[]")) return false;
        return key.find("[].last_calls") != std::string::npos || key.find("[].chores") != std::string::npos ||
               key.find("[].text_in_pose") != std::string::npos || key.find("[].in_rings") != std::string::npos;
      });
    }
    const std::string tell = "no call in this test prints this of cli/schemas/" + command +
                             ".json; add a call that does, or take it out: " + joined(unseen);
    CHECK_MESSAGE(unseen.empty(), tell);
  }
}

TEST_CASE("what check takes, every command with --json answers with a document") {
  const ScratchFolder folder;
  const std::vector<std::string> frames = {scenario("cellar-rail-ring"),
                                           scenario("pot-rail"),
                                           folder.file("overlapping.yaml", kOverlapping),
                                           folder.file("open.yaml", kOpen),
                                           folder.file("uneven.yaml", kUneven),
                                           folder.file("caught.yaml", kCaught),
                                           folder.file("reach.yaml", kNoReach)};
  const std::string rack = scenario("plant-rack"), none = folder.file("none.json", "[]");
  for (const std::string& frame : frames) {
    for (std::vector<std::string> call : {std::vector<std::string>{"check", frame},
                                          {"order", frame},
                                          {"order", frame, "--built", "0"},
                                          {"order", frame, "--explain", "--stats"},
                                          {"early", frame},
                                          {"early", frame, "--built", "0"},
                                          {"replay", frame, none},
                                          {"graph", frame},
                                          {"graph", frame, "--all"},
                                          {"fit", frame},
                                          {"buy", frame},
                                          {"drill", frame},
                                          {"drill", frame, "-o", folder.path("a.pdf")},
                                          {"show", frame, "-o", folder.path("a.svg")},
                                          {"show", frame, "--step", "1", "-o", folder.path("b.svg")},
                                          {"cards", frame, "-o", folder.path("a.html")},
                                          {"change", frame, frame},
                                          {"change", frame, rack},
                                          {"change", rack, frame},
                                          {"change", frame, rack, "--built", "0"},
                                          {"change", frame, rack, "--built", none},
                                          {"change", frame, rack, "-o", folder.path("c.svg")},
                                          {"change", "--all", frame, rack}}) {
      std::string said;
      for (const std::string& word : call) said += word + " ";
      CAPTURE(said);
      call.emplace_back("--json");
      const Ran ran = run(call);
      CHECK(ran.code != 2);
      CHECK(ran.err == "");
      CHECK(json::accept(ran.out));
    }
  }
}

TEST_CASE("every command that takes --json has a schema") {
  std::set<std::string> with_json{"frame", "deck", "numbers"};  // the last two are written into files
  for (const dryfit::cli::Command& command : dryfit::cli::command_table()) {
    const std::string help = run({command.name, "--help"}).out;
    if (help.find("--json ") != std::string::npos) with_json.insert(command.name);
  }
  const auto& names = dryfit::cli::schema_names();
  CHECK(with_json == std::set<std::string>(names.begin(), names.end()));
}

TEST_CASE("dryfit schema prints a schema that stands alone") {
  for (const std::string& name : dryfit::cli::schema_names()) {
    CAPTURE(name);
    const Ran ran = run({"schema", name});
    CHECK(ran.code == 0);
    CHECK(ran.err == "");
    const json schema = json::parse(ran.out);
    CHECK(schema["$schema"] == "http://json-schema.org/draft-07/schema#");
    std::size_t at = 0;
    while ((at = ran.out.find("\"$ref\": \"", at)) != std::string::npos) {
      at += 9;
      const std::string target = ran.out.substr(at, ran.out.find('"', at) - at);
      REQUIRE(target.starts_with("#/"));
      CHECK(schema.contains(json::json_pointer(target.substr(1))));
    }
  }
  CHECK(run({"schema"}).out == run({"schema", "frame"}).out);
  const Ran wrong = run({"schema", "ordr"});
  CHECK(wrong.code == 2);
  CHECK(wrong.out == "");
  CHECK(wrong.err.find("did you mean 'order'?") != std::string::npos);
}

TEST_CASE("an answer that lacks a field, or has it of another kind, is refused by its schema") {
  const json good = json::parse(run({"fit", scenario("plant-rack"), "--json"}).out);
  CHECK(dryfit::tests::faults_by_schema("fit", good).empty());
  json less = good;
  less.erase("holes");
  CHECK_FALSE(dryfit::tests::faults_by_schema("fit", less).empty());
  json other = good;
  other["holes"][0]["hole_mm"] = "wide";
  CHECK_FALSE(dryfit::tests::faults_by_schema("fit", other).empty());
  json word = good;
  word["verdict"] = "perhaps";
  CHECK_FALSE(dryfit::tests::faults_by_schema("fit", word).empty());
}

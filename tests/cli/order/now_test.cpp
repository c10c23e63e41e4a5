/// `dryfit order` from what stands half built: --built, --replace and --without as calls.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <set>

#include "tests/support/program/order_calls.hpp"

namespace {

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::ScratchFolder;
using nlohmann::json;

/// Two posts on flanges, a rail between their tees, and a board over the tees that the caps lock in.
const char* const kTrestle =
    "dryfit: 1\nname: Trestle\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\nruns:\n"
    "  left post:\n    from: floor\n    at: [0, 0]\n"
    "    parts: [F1: flange, A1: {pipe: 8}, T1: {tee: right}, B1: {pipe: 8}, K1: cap]\n"
    "  rail:\n    from: T1.right\n    parts:\n      - R: {pipe: 24}\n    to: T2.left\n"
    "  right post:\n    from: floor\n"
    "    parts: [F2: flange, A2: {pipe: 8}, T2: {tee: left}, B2: {pipe: 8}, K2: cap]\n"
    "boards:\n  S:\n    through: [B1, B2]\n    rests-on: [T1, T2]\n    size: {x: 30, y: 9-1/4, z: 3/4}\n"
    "    reach: {left: 3, front: 4-5/8}\n";

/// Everything but the board.
const char* const kForgotten =
    "A1 in F1, A1 in T1, B1 in T1, K1 on, R in T1, R into T2, A2/T2.down, A2 in F2, B2 in T2, K2 on B2, F1 on floor, "
    "F2 on floor";

std::set<std::string> ids(const json& steps) {
  std::set<std::string> all;
  for (const json& step : steps) {
    for (const json& id : step["contacts"]) all.insert(id.get<std::string>());
  }
  return all;
}

struct Calls : dryfit::tests::OrderCalls {
  Calls() : OrderCalls(kTrestle) {}
};

}  // namespace

TEST_CASE("a forgotten board is named by nobody, and both caps come off for it") {
  const Calls calls;
  const json answer = calls.answer({"--built", kForgotten}, 1);
  CHECK(answer["verdict"] == "buildable");
  CHECK(answer["built"].size() == 12);
  CHECK(answer["undo_moves"] == 2);
  CHECK(answer["undo_moves_at_least"] == 2);
  CHECK(answer["undo_proven"] == true);
  CHECK(ids(answer["undo"]) == std::set<std::string>{"B1/K1.down", "B2/K2.down"});
  CHECK(answer["stays"].size() == 10);
  CHECK(answer["steps"].size() == 3);
  CHECK(answer["steps"][0]["action"] == "slide");
  // Told on the ground of what stands there: the board finds its carriers.
  CHECK(answer["steps"][0]["text"].get<std::string>().find("until it lies on T1 and T2") != std::string::npos);
  CHECK(answer["effort"]["proven"] == true);
}

TEST_CASE("what is made can be said in steps, as a file, or by name, and the same comes out") {
  const Calls calls;
  const json whole = calls.answer({}, 0);
  json first = json::array();
  std::string names;
  for (std::size_t k = 0; k < 5; ++k) {
    first.push_back(whole["steps"][k]);
    for (const json& id : whole["steps"][k]["contacts"]) names += id.get<std::string>() + ", ";
  }
  const std::string steps = calls.folder.file("done.json", json({{"steps", first}}).dump());
  const Ran by_count = calls.order({"--built", "5"});
  CHECK(by_count.code == 0);
  CHECK(by_count.out.find("Trestle: nothing has to come off.") == 0);
  CHECK(calls.order({"--built", steps}).out == by_count.out);
  CHECK(calls.order({"--built", names}).out == by_count.out);
  CHECK(calls.answer({"--built", "5"}, 0)["steps"].size() == whole["steps"].size() - 5);
  const Ran all = calls.order({"--built", std::to_string(whole["steps"].size())});
  CHECK(all.code == 0);
  CHECK(all.out.find("it is finished.") != std::string::npos);
}

TEST_CASE("'S on' means the carriers that are joined to something") {
  const Calls calls;
  // The board has to come off again in both: a tee turned onto the rail would swing into it.
  const json one = calls.answer({"--built", "B1 in T1, S on"}, 1);
  CHECK(one["built"] == json({"B1/T1.up", "S/B1"}));
  const json both = calls.answer({"--built", "S on, B1 in T1, B2 in T2"}, 1);
  CHECK(both["built"].size() == 4);
}

TEST_CASE("a bad part comes out and a new one goes in, and that is no teardown") {
  const Calls calls;
  const json cap = calls.answer({"--replace", "K1"}, 0);
  CHECK(cap["replaced"] == json({"K1"}));
  CHECK(cap["undo_moves"] == 1);
  CHECK(cap["steps"].size() == 1);
  const Ran told = calls.order({"--replace", "K1,K2"});
  CHECK(told.code == 0);
  CHECK(told.out.find("getting K1 and K2 out takes 2 steps, and no way takes fewer.") != std::string::npos);
  CHECK(told.out.find("The way back, with the new part:") != std::string::npos);
}

TEST_CASE("without its board the trestle is made but for the caps, and the board is needed then") {
  const Calls calls;
  const json answer = calls.answer({"--without", "S"}, 0);
  CHECK(answer["without"]["parts"] == json({"S"}));
  CHECK(answer["without"]["moves_left"] == 3);
  CHECK(answer["without"]["proven"] == true);
  const auto needed = answer["without"]["needed_at_step"].get<std::size_t>();
  CHECK(needed + 2 == answer["steps"].size());
  CHECK(ids(json({answer["steps"][needed - 1]})).contains("S/B1"));
  const Ran told = calls.order({"--without", "S"});
  CHECK(told.out.find("can be done without S.") != std::string::npos);
  CHECK(told.out.find("From here on you need S:") != std::string::npos);
  // From a state that locks the board out already the caps come off first.
  const json late = calls.answer({"--built", kForgotten, "--without", "S"}, 1);
  CHECK(late["undo_moves"] == 2);
  CHECK(late["without"]["needed_at_step"] == 1);
}

TEST_CASE("what cannot be is refused by name") {
  const Calls calls;
  calls.refused({"--built", "99"}, "--built 99: the order has");
  calls.refused({"--built", "S on"}, "'S on': B1 and B2 are joined to nothing yet");
  calls.refused({"--built", "S on B1"}, "B1 is in nothing");
  calls.refused({"--built", "B9 in T1"}, "there is no part 'B9' in Trestle");
  calls.refused({"--built", "B1 in T2"}, "B1 and T2 are not joined in Trestle");
  calls.refused({"--built", "T1 on"}, "'T1 on' leaves open which of its joints are made");
  calls.refused({"--built", "B1"}, "'B1': say what it is in");
  calls.refused({"--built", "B1 near T1 maybe"}, "is not understood");
  calls.refused({"--built", "B1/T9"}, "there is no contact 'B1/T9'");
  calls.refused({"--without", "K3"}, "--without: there is no part 'K3' in Trestle; did you mean");
  calls.refused({"--replace", "K3"}, "--replace: there is no part 'K3'");
  calls.refused({"--built", "B1 in T1", "--replace", "K2"}, "--replace: K2 is not on yet");
  calls.refused({"--built", "K2 on", "--without", "K2"}, "--without: K2 is on already");
}

TEST_CASE("a name that the frame has not is refused before an order is looked for, so of a locked frame too") {
  const std::string ring = dryfit::tests::scenario("cellar-rail-ring");
  CHECK(dryfit::tests::run({"order", ring}).code == 1);
  for (const std::vector<std::string>& asked : std::vector<std::vector<std::string>>{
           {"--without", "NOPE"}, {"--replace", "NOPE"}, {"--built", "NOPE on"}, {"--carry", "0x0x0"}}) {
    CAPTURE(asked[0]);
    std::vector<std::string> call{"order", ring};
    call.insert(call.end(), asked.begin(), asked.end());
    const dryfit::tests::Ran ran = dryfit::tests::run(call);
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err.find(asked[0] == "--carry" ? "0x0x0" : "NOPE") != std::string::npos);
  }
}

TEST_CASE("a ring that no hand can have closed is refused with its joints") {
  const ScratchFolder folder;
  const std::string square = folder.file(
      "square.yaml",
      "dryfit: 1\nname: Square\npipe: {standard: npt, size: 3/4}\nruns:\n  square:\n    go: right\n    at: [0, 0, 0]\n"
      "    parts: [E1: {elbow: up}, A: {pipe: 12}, E2: {elbow: left}, B: {pipe: 12}, E3: {elbow: down},\n"
      "      C1: {pipe: 5}, U: union, C2: {pipe: 5.98}, E4: {elbow: right}, D: {pipe: 12}]\n    to: E1.left\n");
  const Ran ran = run({"order", square, "--built",
                       "A in E1, A in E2, B in E2, B in E3, C1 in E3, C1 in U, C2 in U, C2 in E4, D in E4, D in E1"});
  // With the union's nut open all of this can be, and the nut is all that is left.
  CHECK(ran.code == 0);
  const Ran ring = run({"order", dryfit::tests::scenario("cellar-rail-ring"), "--built", "3"});
  CHECK(ring.code == 1);  // a locked frame has its own answer
  CHECK(ring.out.find("LOCKED") != std::string::npos);
}

TEST_CASE("what now is told in German too") {
  const Calls calls;
  const Ran ran = calls.order({"--built", kForgotten, "--language", "de"});
  CHECK(ran.code == 1);
  CHECK(ran.out.find("Zuerst lösen: 2 Schritte, und mit weniger geht es nicht.") != std::string::npos);
}

/// `dryfit order` through a door, down again, and with places to stop at, as calls.
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "tests/support/program/order_calls.hpp"

namespace {

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::ScratchFolder;
using nlohmann::json;

/// A post of two pipes on the floor.
const char* const kPost =
    "dryfit: 1\nname: Post\npipe: {standard: npt, size: 3/4}\nsurfaces:\n  floor: {normal: up, at: 0}\nruns:\n"
    "  post:\n    from: floor\n    at: [0, 0]\n"
    "    parts: [F: flange, A: {pipe: 24}, C: coupling, B: {pipe: 24}, K: cap]\n";

struct DoorCalls : dryfit::tests::OrderCalls {
  DoorCalls() : OrderCalls(kPost) {}
};

}  // namespace

TEST_CASE("through a lift a post goes in two pieces and is joined on the spot") {
  const DoorCalls calls;
  const json answer = calls.answer({"--carry", "20x20x40"}, 0);
  CHECK(answer["verdict"] == "buildable");
  CHECK(answer["carry"]["fits"] == true);
  CHECK(answer["carry"]["opening_mm"].size() == 3);
  CHECK(answer["carry"]["spot_moves"] == 2);
  CHECK(answer["carry"]["proven"] == true);
  CHECK(answer["carry"]["pieces"].size() == 2);
  CHECK(answer["steps"].size() == answer["carry"]["steps_before"].get<std::size_t>() + 2);
  CHECK(answer["steps"].back()["action"] == "fasten");
  const Ran told = calls.order({"--carry", "20x20x40"});
  CHECK(told.code == 0);
  CHECK(told.out.find("2 steps on the spot.") != std::string::npos);
  CHECK(told.out.find("No order leaves less to do on the spot.") != std::string::npos);
  // A door is as deep as it wants.
  const json door = calls.answer({"--carry", "30 x 78"}, 0);
  CHECK(door["carry"]["opening_mm"].size() == 2);
  CHECK(door["carry"]["spot_moves"] == 1);
  CHECK(calls.answer({"--carry", "762mm x 1981.2 mm"}, 0)["carry"] == door["carry"]);
}

TEST_CASE("what fits in no order is named, with how much is lacking, and that is a no") {
  const DoorCalls calls;
  const json answer = calls.answer({"--carry", "2x5x20"}, 1);
  CHECK(answer["carry"]["fits"] == false);
  CHECK(answer["carry"]["too_large"].size() == 2);
  CHECK(answer["carry"]["too_large"][0]["too_large_by_mm"].get<double>() == doctest::Approx(4 * 25.4));
  CHECK_FALSE(answer.contains("steps"));
  const Ran told = calls.order({"--carry", "2x5x20"});
  CHECK(told.code == 1);
  CHECK(told.out.find("no order gets it through 2 in x 5 in x 20 in.") != std::string::npos);
  CHECK(told.out.find("A doesn't fit by itself") != std::string::npos);
  CHECK(told.out.find("opening is 4 in") != std::string::npos);
  CHECK(calls.order({"--carry", "2x5x20", "--language", "de"}).out.find("Öffnung ist 4") !=
        std::string::npos);
}

TEST_CASE("moving house takes off no more than the door asks for") {
  const DoorCalls calls;
  const json apart = calls.answer({"--down"}, 0);
  CHECK(apart["undo"].size() == 5);
  CHECK(apart["carry"]["opening_mm"].empty());
  CHECK(apart["carry"]["pieces"].size() == 5);
  const json lift = calls.answer({"--down", "--carry", "20x20x40"}, 0);
  CHECK(lift["undo_moves"] == 2);
  CHECK(lift["undo_proven"] == true);
  const json half = calls.answer({"--down", "--carry", "20x20x40", "--built", "A in F, A in C"}, 0);
  CHECK(half["undo_moves"] == 0);
  CHECK(calls.order({"--down", "--carry", "20x20x40"}).out.find("it can tip.") != std::string::npos);
}

TEST_CASE("through a lift goes what stands already, once what is too large has come off") {
  const DoorCalls calls;
  const json whole = calls.answer({"--carry", "20x20x40", "--built", "5"}, 1);
  CHECK(whole["undo_moves"] == 2);
  CHECK(whole["undo_proven"] == true);
  CHECK(whole["stays"].size() == 3);
  CHECK(whole["carry"]["steps_before"] == 0);
  CHECK(whole["carry"]["spot_moves"] == 2);
  CHECK(whole["steps"].size() == 2);
  CHECK(whole["steps"][0]["number"] == 1);
  const Ran told = calls.order({"--carry", "20x20x40", "--built", "5"});
  CHECK(told.code == 1);
  CHECK(told.out.find("2 steps to undo, 0 steps before the door, 2 steps\non the spot.") != std::string::npos);
  CHECK(told.out.find("Undo first: 2 steps, and no way takes fewer.") != std::string::npos);
  CHECK(told.out.find("it can tip.") != std::string::npos);
  CHECK(told.out.find("No order leaves less to do on the spot.") != std::string::npos);
  const json half = calls.answer({"--carry", "20x20x40", "--built", "A in F"}, 0);
  CHECK(half["undo"].empty());
  CHECK(half["stays"] == half["built"]);
  CHECK(half["carry"]["spot_moves"] == 2);
  CHECK(half["steps"].size() == 4);
}

TEST_CASE("places to stop at stand between the steps and in the answer") {
  const DoorCalls calls;
  const json answer = calls.answer({"--stops", "2"}, 0);
  CHECK(answer["stops_wanted"] == 2);
  REQUIRE(answer["stops"].size() == 2);
  CHECK(answer["stops"][0]["after_step"].get<int>() < answer["stops"][1]["after_step"].get<int>());
  for (const json& stop : answer["stops"]) CHECK_FALSE(stop["pieces"].empty());
  const Ran told = calls.order({"--stops", "2"});
  CHECK(told.out.find("Stop 1 of 2: you can leave it like this.") != std::string::npos);
  CHECK(told.out.find("Stop 2 of 2") != std::string::npos);
  // Five steps have four places between them.
  const Ran many = calls.order({"--stops", "9"});
  CHECK(many.code == 1);
  CHECK(many.out.find("You asked for 9 stops.") != std::string::npos);
  CHECK_FALSE(calls.answer({}, 0).contains("stops"));
}

TEST_CASE("a door that is none, and what cannot be asked together, is refused by name") {
  const DoorCalls calls;
  calls.refused({"--carry", "0x80"}, "'0' in '0x80': an opening needs sides longer than 0");
  calls.refused({"--carry", "-30x80"}, "an opening needs sides longer than 0");
  calls.refused({"--carry", "30"}, "'30' is no opening");
  calls.refused({"--carry", "30x80x20x10"}, "is no opening");
  calls.refused({"--carry", "30xwide"}, "'wide' in '30xwide'");
  calls.refused({"--carry", "30x"}, "'' in '30x'");
  calls.refused({"--carry", "30x80", "--built", "9"}, "the order has 5 steps");
  calls.refused({"--carry", "30x80", "--built", "B in A"}, "B and A are not joined");
  calls.refused({"--carry", "30x80", "--without", "K"}, "--without");
  calls.refused({"--down", "--replace", "K"}, "--replace");
  calls.refused({"--stops", "1", "--built", "2"}, "--built");
  calls.refused({"--stops", "1", "--down"}, "--down");
  calls.refused({"--stops", "0"}, "--stops");
  calls.refused({"--down", "--built", "K on, B in A"}, "B and A are not joined");
}

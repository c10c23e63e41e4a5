/// A frame that can be built only as it stands after the turns of its fit: a pole between floor and ceiling that is
/// drawn 10 mm too long ends behind the ceiling. Every command goes by the same frame.
#include <doctest/doctest.h>

#include <cmath>
#include <nlohmann/json.hpp>
#include <string>

#include "tests/support/program/program.hpp"

namespace {

using dryfit::tests::run;
using dryfit::tests::ScratchFolder;
using nlohmann::json;

/// B of 300 mm is exact: 300 + 300 + 300 + 501.6 mm of pipe, 2 x 21.4 in couplings, 34.8 in the union, 2 x 10.4 in
/// flanges are 1500 mm.
std::string pole(const std::string& length) {
  return "dryfit: 1\nname: Bean pole\nunits: mm\npipe: {standard: npt, size: 3/4}\n"
         "surfaces:\n  floor: {normal: up, at: 0}\n  ceiling: {normal: down, at: 1500}\n"
         "runs:\n  pole: {from: floor, at: [0, 0], parts: [F1: flange, A: {pipe: 300}, C1: coupling, B: {pipe: " +
         length +
         "}, C2: coupling, C: {pipe: 300}, U: union, D: {pipe: 501.6}, F2: flange], to: ceiling}\n"
         "boards:\n  S: {through: [B], rests-on: [C1], size: {x: 300, y: 300, z: 19}, reach: {left: 150, front: 150}}\n";
}

TEST_CASE("the order of a pole that its turns shorten passes replay, and its steps count threads as made up") {
  const ScratchFolder folder;
  const std::string frame = folder.file("pole.yaml", pole("310"));
  const auto ordered = run({"order", frame, "--json"});
  REQUIRE(ordered.code == 0);
  const std::string steps = folder.file("steps.json", ordered.out);
  CHECK(run({"replay", frame, steps}).code == 0);
  CHECK(run({"early", frame, "--order", steps}).code == 0);
  CHECK(run({"order", frame, "--built", "11"}).code == 0);
  int threads = 0;
  const json order = json::parse(ordered.out);
  for (const auto& step : order.at("steps")) {
    if (step.at("action") != "screw") continue;
    ++threads;
    // 0.339 in at 14 threads an inch (ASME B1.20.1); the fit's turns are a sentence of their own.
    CHECK(std::abs(step.at("turns").get<double>() - 0.339 * 14) < 0.01);
  }
  CHECK(threads == 8);
}

TEST_CASE("a change to such a pole, and one from it, is priced as any other") {
  const ScratchFolder folder;
  const std::string exact = folder.file("exact.yaml", pole("300")), turned = folder.file("turned.yaml", pole("310"));
  const json there = json::parse(run({"change", exact, turned, "--json"}).out);
  const json back = json::parse(run({"change", turned, exact, "--json"}).out);
  // B comes out of two joints and the board, once one flange and the union are open.
  for (const json* change : {&there, &back}) {
    CHECK(change->at("verdict") == "teardown");
    CHECK(change->at("undo_moves") == 5);
  }
  CHECK(there.at("turns").size() == 8);
  CHECK(back.at("turns").empty());
  CHECK(run({"change", exact, turned}).out.find("To make the whole frame line up, turn") != std::string::npos);
  const json swept = json::parse(run({"change", exact, "--set", "B.length=300..310", "--json"}).out);
  for (const auto& tried : swept.at("sweep")) CHECK(tried.at("verdict") != "locked");
}

}  // namespace

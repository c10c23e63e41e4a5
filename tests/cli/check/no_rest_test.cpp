// A hole that its carrier passes carries nothing: the board has no rest, and that is no good verdict.
#include "planner/state/no_rest.hpp"

#include <doctest/doctest.h>

#include "model/placing/reader.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/program/program.hpp"

namespace {

using namespace dryfit;

/// Two posts a foot apart with a shelf over both, on their couplings. 3/4 pipe is 1.050 in, its coupling 1.458.
std::string shelf(const std::string& more) {
  return test::two_posts("12",
                         "  S1:\n"
                         "    through: [P3, P7]\n"
                         "    rests-on: [C1, C2]\n"
                         "    size: {x: 32, y: 9-1/4, z: 3/4}\n"
                         "    reach: {left: 2, front: 4-5/8}\n" +
                             more,
                         "  wall: {normal: front, at: 4-5/8}\n");
}

std::size_t lacking(const std::string& more) {
  return planner::without_rest(model::read_frame(shelf(more), "f.yaml")).size();
}

TEST_CASE("a board whose holes are wider than the couplings under it has no rest") {
  CHECK(lacking("") == 0);
  CHECK(lacking("    hole: 1-7/16\n") == 0);  // 1.4375: a hair narrower than the coupling, which stops it
  CHECK(lacking("    hole: 1-1/2\n") == 1);
  // On one of two couplings alone it tips.
  CHECK(lacking("    hole: {P7: 1-1/2}\n") == 1);
  // Screwed to the wall it needs no rest.
  CHECK(lacking("    hole: 1-1/2\n    fix: [wall]\n") == 0);
}

TEST_CASE("the verdict and the step say that a board has no rest") {
  const tests::ScratchFolder folder;
  const std::string path = folder.file("wide.yaml", shelf("    hole: 1-1/2\n"));
  const tests::Ran check = tests::run({"check", path});
  CHECK(check.code == 1);
  CHECK(check.out.find("S1 HAS NOTHING TO REST ON") != std::string::npos);
  const tests::Ran order = tests::run({"order", path});
  CHECK(order.out.find("until it lies on") == std::string::npos);
  CHECK(order.out.find("doesn't stop at C1") != std::string::npos);
  const tests::Ran good = tests::run({"check", folder.file("good.yaml", shelf(""))});
  CHECK(good.code == 0);
  CHECK(good.out.find("NOTHING TO REST ON") == std::string::npos);
}

// 1-15/32 in is 0.011 in wider than the coupling: by the rules it neither carries the board nor lets it through.
TEST_CASE("a hole that is wider than the coupling by a hair is said to be so: nobody can trust it either way") {
  const tests::ScratchFolder folder;
  const tests::Ran near = tests::run({"check", folder.file("near.yaml", shelf("    hole: 1-15/32\n"))});
  CHECK(near.code == 1);
  CHECK(near.out.find("S1 can't be trusted to rest on C1 and C2: the hole is under 1/64 in wider") !=
        std::string::npos);
  CHECK(near.out.find("may stick in the hole or slip through") != std::string::npos);
  const tests::Ran wide = tests::run({"check", folder.file("wide.yaml", shelf("    hole: 1-1/2\n"))});
  CHECK(wide.out.find("it slips over C1 and C2") != std::string::npos);
  CHECK(wide.out.find("trusted") == std::string::npos);
}

/// Two posts with a rail between their tees, and a shelf on the tees.
std::string on_tees(const std::string& hole) {
  return "dryfit: 1\nname: Rack\nunits: in\npipe: {standard: npt, size: 3/4}\nsurfaces: {floor: {normal: up, at: 0}}\nruns:\n"
         "  l: {from: floor, at: [0, 0], parts: [FA: flange, P1: {pipe: 12}, T1: {tee: right}, P2: {pipe: 12}, K1: cap]}\n"
         "  x: {from: T1.right, parts: [R: {pipe: 24}], to: T2.left}\n"
         "  r: {from: floor, parts: [FB: flange, P4: {pipe: 12}, T2: {tee: left}, P5: {pipe: 12}, K2: cap]}\n"
         "boards:\n  S: {through: [P2, P5], rests-on: [T1, T2], size: {x: 34, y: 12, z: 3/4}, reach: {left: 4, front: 6}" +
         hole + "}\n";
}

TEST_CASE("a board that drops over its tees is no good verdict") {
  // The band of a 3/4 tee is 1.458 in across (ASME B16.3): it goes into a hole of 1-1/2, its arm does not.
  const tests::ScratchFolder folder;
  const auto check = [&](const std::string& hole, bool json) {
    const std::string file = folder.file("rack.yaml", on_tees(hole));
    return json ? tests::run({"check", file, "--json"}).out : tests::run({"check", file}).out;
  };
  CHECK(check(", hole: 1-1/2", false).find("Rack: it can be built, but S DOESN'T LIE as drawn.") == 0);
  CHECK(check(", hole: 1-1/2", true).find("\"drops\":[\"S\"]") != std::string::npos);
  CHECK(check(", hole: {P2: 1-1/2}", false).find("DOESN'T LIE") != std::string::npos);  // skew, then
  CHECK(check("", false).find("everything lines up") != std::string::npos);
  CHECK(check("", true).find("\"drops\"") == std::string::npos);
}

// A 3/4 coupling is 1.458 in across and one of 1/2 1.197 in (ASME B16.3). A reducing one is both, half its length each.
TEST_CASE("a board whose hole goes over the narrow end of a reducing coupling lies on the wide one") {
  const tests::ScratchFolder folder;
  const auto check = [&](const std::string& hole) {
    const std::string frame =
        "dryfit: 1\nname: Pole\nunits: in\npipe: {standard: npt, size: 3/4}\nsurfaces: {floor: {normal: up, at: 0}}\n"
        "runs:\n  p: {from: floor, at: [0, 0], parts: [F: flange, P1: {pipe: 10}, C: {coupling: , to-size: 1/2}, "
        "P2: {pipe: 6, size: 1/2}, K: {cap: , size: 1/2}]}\n"
        "boards:\n  S: {through: [P2], rests-on: [C], size: {x: 14, y: 8, z: 3/4}, reach: {left: 7, front: 4}, hole: " +
        hole + "}\n";
    return tests::run({"check", folder.file("pole.yaml", frame)});
  };
  const tests::Ran drops = check("1-3/8");
  CHECK(drops.out.find("S DOESN'T LIE as drawn") != std::string::npos);
  CHECK(drops.out.find("the narrow end of C goes into the hole: the board drops by") != std::string::npos);
  CHECK(drops.out.find("carries nothing") == std::string::npos);
  CHECK(check("1").code == 0);
  CHECK(check("1-1/2").out.find("S HAS NOTHING TO REST ON") != std::string::npos);
}

}  // namespace

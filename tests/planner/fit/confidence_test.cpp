// Which numbers rest on rows from memory. All fittings' dimensions do until the owner measures them
// (model/data/SOURCES.md).
#include "planner/fit/confidence.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <string>

#include "model/placing/reader.hpp"
#include "planner/fit/fit.hpp"
#include "planner/shop/drill.hpp"

using namespace dryfit;
using namespace dryfit::planner;

namespace {

/// A post of two pipes with a fitting between them, entered below.
model::Frame post(const std::string& fitting, const std::string& make_up = "hand", const std::string& pipe = "npt") {
  return model::read_frame(
      fmt::format("dryfit: 1\nname: Post\npipe: {{standard: {}, size: 3/4}}\nmake-up: {}\n"
                  "runs:\n  post:\n    go: up\n    parts:\n      - P1: {{pipe: 10 in}}\n      - {}\n"
                  "      - P2: {{pipe: 10 in}}\n",
                  pipe, make_up, fitting),
      "post.yaml");
}

bool reach(const std::string& fitting, const std::string& id = "X") {
  const model::Frame frame = post(fitting);
  return reach_from_memory(frame, frame.find(id));
}

}  // namespace

TEST_CASE("a fitting's reach rests on memory until that very dimension is measured") {
  CHECK(reach("X: coupling"));
  CHECK_FALSE(reach("X: {coupling: , measured: {length: 1-1/2}}"));
  // What was measured is the band; the length is still the table's.
  CHECK(reach("X: {coupling: , measured: {band: 1-1/2}}"));
  CHECK(reach("X: {tee: right}"));
  CHECK(reach("X: {tee: right, measured: {band: 1-1/2}}"));
  CHECK_FALSE(reach("X: {tee: right, measured: {centre-to-end: 1-3/8}}"));
  CHECK(reach("X: {elbow: right}"));
  CHECK(reach("X: {elbow45: up-right}"));
  CHECK_FALSE(reach("X: {elbow45: up-right, measured: {centre-to-end: 1}}"));
  CHECK(reach("X: {union: }", "X~a"));
  CHECK_FALSE(reach("X: {union: , measured: {length: 2-1/8}}", "X~b"));
  CHECK(reach("X: {tee: right, branch-size: 1/2}"));
  CHECK_FALSE(reach("X: coupling", "P1"));
}

TEST_CASE("a street elbow's reach rests on memory until both its dimensions are measured, a bushing's until any is") {
  const auto street = [](const std::string& measured) {
    return reach("X: {street-elbow: right" + measured + "}\n      - NEXT: coupling");
  };
  CHECK(street(""));
  CHECK(street(", measured: {centre-to-end: 1.2}"));
  CHECK(street(", measured: {length: 1.7}"));
  CHECK_FALSE(street(", measured: {centre-to-end: 1.2, length: 1.7}"));
  const auto bushing = [](const std::string& measured) {
    return reach("T: {tee: right}\n      - X: {bushing: 1/2" + measured + "}\n      - THIN: {pipe: 5 in, size: 1/2}\n" +
                 "      - NEXT: {coupling: , size: 1/2, to-size: 3/4}");
  };
  CHECK(bushing(""));
  CHECK_FALSE(bushing(", measured: {length: 1}"));     // over all
  CHECK_FALSE(bushing(", measured: {length: 0.85}"));  // the table's own 0.63 and 0.22
  CHECK_FALSE(bushing(", measured: {length: 1, height: 1/4}"));
}

// The rows of model/data/fittings.csv for 3/4 npt, and of feet_and_casters.csv.
TEST_CASE("what was measured is sure, also where it is the table's own number to the last digit") {
  CHECK_FALSE(reach("X: {tee: right, measured: {centre-to-end: 1.31}}"));
  CHECK_FALSE(reach("X: {coupling: , measured: {length: 1.52}}"));
  const model::Frame frame = post("X: {coupling: , measured: {band: 1.458}}");
  CHECK_FALSE(band_from_memory(frame, frame.find("X")));
  CHECK_FALSE(frame.part(frame.find("X")).own.length);
  const auto foot = [](const std::string& what) {
    return model::read_frame(
        "dryfit: 1\npipe: {standard: npt, size: 3/4}\nruns: {a: {go: up, parts: [X: " + what + ", P: {pipe: 6}]}}\n",
        "f.yaml");
  };
  CHECK(reach_from_memory(foot("foot"), 0));
  CHECK_FALSE(reach_from_memory(foot("{foot: , measured: {height: 38 mm}}"), 0));
  CHECK(reach_from_memory(foot("caster"), 0));
  CHECK_FALSE(reach_from_memory(foot("{caster: , measured: {height: 100 mm}}"), 0));
}

TEST_CASE("bands rest on memory until they are measured, pipe of schedule 40 does not") {
  const model::Frame coupling = post("X: coupling");
  CHECK(band_from_memory(coupling, coupling.find("X")));
  CHECK_FALSE(band_from_memory(coupling, coupling.find("P1")));
  const model::Frame measured = post("X: {coupling: , measured: {band: 1-1/2}}");
  CHECK_FALSE(band_from_memory(measured, measured.find("X")));
  // EN 10255 diameters are from memory.
  const model::Frame metric = post("X: coupling", "hand", "iso7");
  CHECK(band_from_memory(metric, metric.find("P1")));
}

TEST_CASE("engagement rests on memory only where the wrenching allowance of ISO 7-1 is used") {
  CHECK_FALSE(engagement_from_memory(post("X: coupling"), 0));
  CHECK_FALSE(engagement_from_memory(post("X: coupling", "wrench"), 0));
  CHECK_FALSE(engagement_from_memory(post("X: coupling", "hand", "iso7"), 0));
  CHECK(engagement_from_memory(post("X: coupling", "wrench", "iso7"), 0));
}

TEST_CASE("what is worth measuring is named by size, kind and dimension, each once") {
  const auto worth = worth_measuring(post("X: coupling"));
  REQUIRE(worth.size() == 1);
  CHECK(worth[0].size == "3/4");
  CHECK(worth[0].kind == model::PartKind::coupling);
  CHECK(std::string(worth[0].what) == "length");
  CHECK(worth_measuring(post("X: {coupling: , measured: {length: 1-1/2}}")).empty());
}

namespace {

/// Two posts under a bar; every fitting is `tail` after its kind.
model::Frame bar(const std::string& elbow, const std::string& flange) {
  return model::read_frame(
      fmt::format(
          "dryfit: 1\nname: Bar\npipe: {{standard: npt, size: 1}}\nsurfaces: {{floor: {{normal: up, at: 0}}}}\n"
          "runs:\n  bar:\n    from: floor\n    at: [0, 0]\n    parts:\n      - FL: {}\n      - A: {{pipe: 12}}\n"
          "      - EL: {{elbow: right{}}}\n      - B: {{pipe: 24}}\n      - ER: {{elbow: down{}}}\n"
          "      - C: {{pipe: 12}}\n      - FR: {}\n    to: floor\n",
          flange, elbow, elbow, flange),
      "bar.yaml");
}

}  // namespace

TEST_CASE("a fit asks for the fittings between what has to meet, and for no others") {
  CHECK(worth_measuring_for_fit(post("X: coupling")).empty());
  const auto worth = worth_measuring_for_fit(bar("", "flange"));
  REQUIRE(worth.size() == 2);
  CHECK(worth[0].kind == model::PartKind::elbow);
  CHECK(worth[1].kind == model::PartKind::flange);
}

TEST_CASE("a closure of measured fittings rests on nothing from memory") {
  const Fit tables = find_fit(bar("", "flange"));
  CHECK(tables.from_memory);
  CHECK(tables.closures[0].from_memory);
  const Fit measured = find_fit(bar(", measured: {centre-to-end: 1.47}", "{flange: , measured: {height: 1-1/16}}"));
  CHECK_FALSE(measured.from_memory);
  CHECK_FALSE(measured.closures[0].from_memory);
}

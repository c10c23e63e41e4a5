#include "model/measure/verify.hpp"

#include <doctest/doctest.h>

#include <functional>
#include <limits>

#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/placed.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

const Frame& sound() {
  static const Frame frame = read_frame(kHead + R"(runs:
  a: {from: floor, at: [0, 0], parts: [F1: flange, P1: {pipe: 10}, U: union, P2: {pipe: 5}, T: {tee: right}]}
  bar: {from: T.right, parts: [P4: {pipe: 20}]}
boards:
  S: {size: {x: 6, y: 6, z: 1}, through: [P2], rests-on: [U], reach: {left: 3, front: 3}}
)",
                                        "f.yaml");
  return frame;
}

TEST_CASE("a frame as read is sound") { CHECK(verify(sound()).empty()); }

TEST_CASE("whatever is broken in a frame is found") {
  const auto nan = std::numeric_limits<double>::quiet_NaN();
  const std::vector<std::pair<const char*, std::function<void(Frame&)>>> breaks{
      {"a joint names a part beyond the last", [](Frame& f) { f.joints[0].male = 99; }},
      {"a joint names a port beyond the last", [](Frame& f) { f.joints[0].female_port = 7; }},
      {"a joint's ends are swapped", [](Frame& f) { std::swap(f.joints[0].male, f.joints[0].female); }},
      {"a port forgets its joint", [](Frame& f) { f.parts[1].ports[0].joint = kNone; }},
      {"a free end claims a joint", [](Frame& f) { f.parts.back().ports.push_back(f.parts[1].ports[0]); }},
      {"two joints share an end", [](Frame& f) { f.joints[1] = f.joints[0]; }},
      {"a joint has no engagement", [](Frame& f) { f.joints[0].engaged = 0.0; }},
      {"a joint stands open though it placed", [&](Frame& f) { f.joints[0].engaged += 1.0; }},
      {"a joint is bent", [](Frame& f) { f.parts[1].ports[0].facing = kRight; }},
      {"a size does not fit", [](Frame& f) { f.parts[1].ports[0].size = 7; }},
      {"a coordinate is not finite", [&](Frame& f) { f.parts[1].centre.y = nan; }},
      {"a port is not finite", [&](Frame& f) { f.parts[1].ports[0].at.z = nan; }},
      {"a body is not finite", [&](Frame& f) { f.parts[1].solids[0].radius = nan; }},
      {"a part has no body", [](Frame& f) { f.parts[1].solids.clear(); }},
      {"a union half has no mate", [](Frame& f) { f.parts[2].union_mate = kNone; }},
      {"a union mate does not point back", [](Frame& f) { f.parts[2].union_mate = 1; }},
      {"a fastening names no part", [](Frame& f) { f.fastenings[0].part = -7; }},
      {"a fastening names no surface", [](Frame& f) { f.fastenings[0].surface = 4; }},
      {"a hole names no pipe", [](Frame& f) { f.boards[0].holes[0].pipe = 0; }},
      {"a hole has no diameter", [](Frame& f) { f.boards[0].holes[0].diameter = 0; }},
      {"a board lies on itself", [](Frame& f) { f.boards[0].carriers[0] = f.boards[0].part; }},
      {"a board has no part", [](Frame& f) { f.boards[0].part = 0; }},
      {"a board is inside out", [](Frame& f) { std::swap(f.boards[0].lo, f.boards[0].hi); }},
      {"a part is missing from the index", [](Frame& f) { f.index.erase("T"); }},
      {"the index is wrong", [](Frame& f) { f.index["T"] = 0; }},
      {"a run claims a foreign part", [](Frame& f) { f.runs[1].parts.push_back(0); }},
      {"a part stands in no run", [](Frame& f) { f.parts[0].run = 5; }},
      {"placing goes round in a ring", [](Frame& f) { f.placed_by[0].parent = 1; }},
      {"placing has too few entries", [](Frame& f) { f.placed_by.pop_back(); }},
  };
  for (const auto& [what, destroy] : breaks) {
    CAPTURE(what);
    Frame frame = sound();
    destroy(frame);
    CHECK_FALSE(verify(frame).empty());
  }
}

}  // namespace

// Where a frame does not meet, what goes where is no matter of left and right: its images are placed alike.
#include "model/placing/first_ways.hpp"

#include <doctest/doctest.h>
#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <random>

#include "model/placing/place.hpp"
#include "model/placing/reader.hpp"
#include "tests/support/frames/frame_text.hpp"
#include "tests/support/frames/placed.hpp"
#include "tests/support/frames/random_frames.hpp"

namespace {

using namespace dryfit::model;
using namespace dryfit::test;

/// All images of a frame that stands on a floor.
std::vector<Axes> images() {
  std::vector<Axes> all{{}, kMirror};
  for (int quarter = 0; quarter < 3; ++quarter) {
    for (std::size_t i = all.size() - 2, end = all.size(); i < end; ++i) {
      all.push_back({kQuarterTurn.of(all[i].x), kQuarterTurn.of(all[i].y), all[i].z});
    }
  }
  return all;
}

/// What is where, without names, in an order of its own; through `axes`. Rounded to 0.001 mm.
std::vector<std::string> places(const Frame& frame, const Axes& axes) {
  const auto place = [&](Vec3 p) {
    const Vec3 q = axes.of(p);
    return fmt::format("{:.3f} {:.3f} {:.3f}", q.x + 1e-9, q.y + 1e-9, q.z + 1e-9);
  };
  std::vector<std::string> out;
  for (const Part& part : frame.parts) out.push_back(fmt::format("{} {}", word_for(part.kind), place(part.centre)));
  for (const Closure& closure : frame.closures) {
    out.push_back(fmt::format("closure {:.3f}", norm(closure.gap)));
  }
  std::sort(out.begin(), out.end());
  return out;
}

std::optional<Frame> read(const std::string& text) {
  try {
    return read_frame(text, "f.yaml");
  } catch (const InputError&) {
    return std::nullopt;
  }
}

TEST_CASE("a frame that does not meet is placed alike in the mirror and turned") {
  std::mt19937 rng(818);
  int apart = 0;
  for (std::uint32_t seed = 1; seed <= 400; ++seed) {
    FrameSpec spec = random_frame(seed, {3, 24}).spec;
    std::vector<PartSpec*> pipes;
    for (RunSpec& run : spec.runs) {
      for (PartSpec& p : run.parts) {
        if (p.length) pipes.push_back(&p);
      }
    }
    PartSpec& pipe = *pipes[dryfit::at(below(rng, static_cast<int>(pipes.size())))];
    *pipe.length += 13.0 * (1 + below(rng, 9));
    const std::string text = yaml_of(spec);
    CAPTURE(text);
    const std::optional<Frame> frame = read(text);
    if (frame && !all_ways_agree(*frame)) ++apart;
    for (const Axes& axes : images()) {
      const std::string image = yaml_of(turned(spec, axes));
      CAPTURE(image);
      const std::optional<Frame> seen = read(image);
      REQUIRE(seen.has_value() == frame.has_value());
      if (frame) CHECK(places(*seen, {}) == places(*frame, axes));
    }
  }
  CHECK(apart >= 100);
}

TEST_CASE("of two legs under one top the same one carries it, on whichever side it stands") {
  // The legs differ by 8 in: the top lies on one of them, and the other ends in the air or goes through it.
  const auto lies_at = [](const char* left, const char* right) {
    const Frame frame = read_frame(kHead + fmt::format(R"(runs:
  a: {{from: floor, at: [0, 0], parts: [FA: flange, A: {{pipe: {}}}, TA: flange], to: TOP.down}}
  b: {{from: floor, at: [20, 0], parts: [FB: flange, B: {{pipe: {}}}, TB: flange], to: TOP.down}}
boards:
  TOP: {{size: {{x: 30, y: 9, z: 3/4}}, at: [-5, -4-1/2]}}
)",
                                                       left, right),
                                   "f.yaml");
    return frame.boards.front().lo.z;
  };
  CHECK(lies_at("24", "16") == doctest::Approx(lies_at("16", "24")));
}

}  // namespace

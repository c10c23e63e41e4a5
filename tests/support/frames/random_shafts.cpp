#include "tests/support/frames/random_shafts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <random>

#include "model/placing/reader.hpp"
#include "planner/state/contacts.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::test {
namespace {

/// Drawn with a remainder, so that every standard library draws the same.
int pick(std::mt19937& rng, int from, int to) {
  return from + static_cast<int>(rng() % static_cast<std::uint32_t>(to - from + 1));
}

/// One try; it may overlap or be no frame.
RandomShaft drawn(std::mt19937& rng) {
  // mm: of 3/4 in pipe 26.7 outside; couplings and caps are about 37 across, the plate of a flange about 90.
  constexpr int kHoles[] = {28, 28, 45, 100};
  constexpr const char* kTops[] = {"K: cap", "D: coupling, E: {pipe: 160}, K: cap", "T: {tee: right}, K: plug",
                                   "G: flange"};
  RandomShaft out;
  const int low = pick(rng, 150, 260), high = pick(rng, 150, 260), top = pick(rng, 0, 3);
  std::string parts =
      fmt::format("F: flange, A: {{pipe: {}}}, C: coupling, B: {{pipe: {}}}, {}", low, high, kTops[top]);
  std::string boards;
  const int count = pick(rng, 1, 2);
  for (int b = 0; b < count; ++b) {
    const bool upper = pick(rng, 0, 2) > 0;
    const int hole = kHoles[pick(rng, 0, 3)];
    const bool fixed = !upper || pick(rng, 0, 1) == 0;
    const int from = upper ? low + 70 : 50, to = upper ? low + high - 50 : low - 30;
    const std::string place =
        fixed ? fmt::format("height: {}, fix: [wall], reach: {{left: 100, back: 150}}", pick(rng, from, to))
              : std::string("rests-on: [C], reach: {left: 100, back: 100}");
    boards += fmt::format("  S{}: {{through: [{}], hole: {}, size: {{x: 200, y: 220, z: 18}}, {}}}\n", b,
                          upper ? "B" : "A", hole, place);
    out.fixed = out.fixed || fixed;
    out.passes = out.passes || (hole > 40 && upper && top == 3);
  }
  out.text = fmt::format(
      "dryfit: 1\nname: Shaft\nunits: mm\npipe: {{standard: npt, size: 3/4}}\n"
      "surfaces:\n  floor: {{normal: up, at: 0}}\n  wall: {{normal: front, at: 150}}\n"
      "runs:\n  shaft: {{from: floor, at: [0, 0], parts: [{}]}}\nboards:\n{}",
      parts, boards);
  return out;
}

}  // namespace

RandomShaft random_shaft(std::uint32_t seed) {
  std::mt19937 rng(seed);
  while (true) {
    RandomShaft out = drawn(rng);
    try {
      out.frame = model::read_frame(out.text, "shaft.yaml");
    } catch (const model::InputError&) {
      continue;  // a hole where there is no room for one
    }
    if (planner::overlaps_of(out.frame, planner::contacts_of(out.frame)).empty()) return out;
  }
}

}  // namespace dryfit::test

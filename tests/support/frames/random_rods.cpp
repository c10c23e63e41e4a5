#include "tests/support/frames/random_rods.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <random>

#include "model/geometry/convex.hpp"
#include "model/placing/reader.hpp"
#include "planner/state/contacts.hpp"
#include "planner/state/overlap.hpp"

namespace dryfit::test {
namespace {

class RodDraft {
 public:
  explicit RodDraft(std::mt19937& rng) : rng_(rng) {}

  /// One try; it may overlap or be no frame.
  RandomRod draw() {
    RandomRod rod;
    rod.standing = one_in(2);
    size_ = one_of({"1/2", "3/4", "3/4", "1"});
    parts_ = fmt::format("K: flange, P0: {{pipe: {}}}", between(100, 200));
    pipes_ = 1;
    if (one_in(3)) arm(between(60, 200), false);
    halves();
    if (one_in(3)) halves();
    end();
    boards(rod.standing);
    // Where the rod ends is known once it is placed.
    const model::Frame bare = model::read_frame(text(rod.standing, ""), "rod.yaml");
    double far = 0.0;
    for (const model::Part& part : bare.parts) {
      for (const model::Solid& solid : part.solids) {
        if (part.board == model::kNone) far = std::max(far, reach_along(solid, {0, 0, rod.standing ? 1.0 : -1.0}));
      }
    }
    const double gap = one_of({0.0, 2.0, 5.0, 7.0, 12.0, 40.0});
    rod.near = gap < 8.0;
    const double at = rod.standing ? far + gap : -far - gap;
    rod.text = text(rod.standing, fmt::format("  {}: {{normal: {}, at: {:.3f}}}\n", rod.standing ? "ceiling" : "floor",
                                              rod.standing ? "down" : "up", at));
    rod.frame = model::read_frame(rod.text, "rod.yaml");
    return rod;
  }

 private:
  int between(int from, int to) {  // with a remainder, so that every standard library draws the same
    return from + static_cast<int>(rng_() % static_cast<std::uint32_t>(to - from + 1));
  }
  bool one_in(int n) { return between(1, n) == 1; }
  template <typename T>
  T one_of(std::initializer_list<T> list) {
    return *(list.begin() + between(0, static_cast<int>(list.size()) - 1));
  }

  void pipe() {
    parts_ += fmt::format(", P{}: {{pipe: {}}}", pipes_, between(90, 220));
    ++pipes_;
  }
  /// A tee with an arm, which may point on along the rod or back.
  void arm(int length, bool hooked) {
    const int n = ++tees_;
    parts_ += fmt::format(", T{}: {{tee: right}}", n);
    pipe();
    const std::string hook =
        hooked ? fmt::format(", E{0}: {{elbow: {1}}}, R{0}: {{pipe: {2}}}", n, one_of({"up", "down"}), between(40, 300))
               : std::string();
    arms_ +=
        fmt::format("  arm {0}: {{from: T{0}.right, parts: [A{0}: {{pipe: {1}}}{2}, Q{0}: cap]}}\n", n, length, hook);
  }
  void halves() {
    parts_ += fmt::format(", U{}: union", ++unions_);
    pipe();
    if (one_in(3)) arm(between(60, 200), one_in(2));
    if (one_in(4)) {
      parts_ += fmt::format(", C{}: coupling", unions_);
      pipe();
    }
  }
  void end() { parts_ += one_of({", Z: cap", ", Z: cap", ", Z: flange", ", Z: coupling"}); }
  void boards(bool standing) {
    const int count = between(1, 2);
    for (int b = 0; b < count; ++b) {
      const int low = between(220, 700);
      boards_ += fmt::format(
          "  S{}: {{through: [P{}], height: {}, size: {{x: 120, y: 460, z: 18}}, reach: {{left: 60, front: 60}}, "
          "fix: [wall]}}\n",
          b, between(1, pipes_ - 1), standing ? low : -low - 18);
    }
  }
  [[nodiscard]] std::string text(bool standing, const std::string& far_surface) const {
    return fmt::format(
        "dryfit: 1\nname: Rod\nunits: mm\npipe: {{standard: npt, size: {}}}\nsurfaces:\n  {}: {{normal: {}, at: 0}}\n"
        "  wall: {{normal: front, at: 400}}\n{}runs:\n  rod: {{from: {}, at: [0, 0], parts: [{}]}}\n{}boards:\n{}",
        size_, standing ? "floor" : "ceiling", standing ? "up" : "down", far_surface, standing ? "floor" : "ceiling",
        parts_, arms_, boards_);
  }

  std::mt19937& rng_;
  std::string size_, parts_, arms_, boards_;
  int pipes_ = 0, tees_ = 0, unions_ = 0;
};

/// No fitting stands in a board by ever so little: what less than a millimetre of that does is another question.
bool boards_are_clear(const model::Frame& frame) {
  for (const model::Board& board : frame.boards) {
    const model::Solid plank = model::box(board.lo, board.hi);
    for (const model::Part& part : frame.parts) {
      if (part.board != model::kNone || part.kind == model::PartKind::pipe) continue;
      for (const model::Solid& solid : part.solids) {
        if (model::hits(plank, solid, model::Vec3{}, 0.0)) return false;
      }
    }
  }
  return true;
}

}  // namespace

RandomRod random_rod(std::uint32_t seed) {
  std::mt19937 rng(seed);
  while (true) {
    try {
      RandomRod rod = RodDraft(rng).draw();
      const bool apart = planner::overlaps_of(rod.frame, planner::contacts_of(rod.frame)).empty();
      if (apart && boards_are_clear(rod.frame)) return rod;
    } catch (const model::InputError&) {
      continue;  // a board beside its pipe, say
    }
  }
}

}  // namespace dryfit::test

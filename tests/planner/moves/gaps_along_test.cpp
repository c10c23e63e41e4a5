/// Gaps that are kept are those that are found anew, and a wider look finds what the narrower one did.
#include "planner/moves/gaps_along.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <vector>

#include "tests/support/frames/random_frames.hpp"

namespace dryfit::test {

using planner::GapsAlong;

namespace {

bool same(const std::vector<GapsAlong::Gap>& a, const std::vector<GapsAlong::Gap>& b) {
  return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](const GapsAlong::Gap& x, const GapsAlong::Gap& y) {
    return x.body == y.body && x.free == y.free;
  });
}

}  // namespace

TEST_CASE("a gap is the same asked again, and is found by who looks farther") {
  constexpr double kNear = 9.0, kFar = 60.0;  // mm: about the engagement of 3/4 in, and beyond
  int found = 0, empty = 0;
  for (std::uint32_t seed = 1; seed <= 25; ++seed) {
    CAPTURE(seed);
    const model::Frame frame = random_frame(seed).frame;
    const planner::ContactList list = planner::contacts_of(frame);
    const planner::BodyIndex index(frame, list);
    GapsAlong kept(frame, list, index);
    for (const planner::Contact& contact : list.contacts) {
      if (!contact.axis.valid()) continue;
      for (int body = 0; body < static_cast<int>(index.bodies().size()); ++body) {
        const std::vector<GapsAlong::Gap> near = kept.of(body, contact.axis, kNear);
        CHECK(same(near, kept.of(body, contact.axis, kNear)));
        CHECK(same(near, GapsAlong(frame, list, index).of(body, contact.axis, kNear)));
        const std::vector<GapsAlong::Gap>& far = kept.of(body, contact.axis, kFar);
        for (const GapsAlong::Gap& gap : near) {
          const bool again = std::any_of(far.begin(), far.end(), [&](const GapsAlong::Gap& other) {
            return other.body == gap.body && std::abs(other.free - gap.free) < 0.06;
          });
          CHECK(again);
          CHECK(gap.free < kNear);
        }
        ++(near.empty() ? empty : found);
      }
    }
  }
  CHECK(found > 200);
  CHECK(empty > 200);
}

}  // namespace dryfit::test

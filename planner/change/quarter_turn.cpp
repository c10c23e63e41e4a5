#include "planner/change/quarter_turn.hpp"

#include <algorithm>

namespace dryfit::planner {

const std::vector<QuarterTurn>& quarter_turns() {
  static const std::vector<QuarterTurn> turns = [] {
    std::vector<QuarterTurn> all;
    std::array<int, 3> to{0, 1, 2};
    do {
      for (int bits = 0; bits < 8; ++bits) {
        const QuarterTurn t{to, {(bits & 1) != 0 ? -1 : 1, (bits & 2) != 0 ? -1 : 1, (bits & 4) != 0 ? -1 : 1}};
        const model::Vec3 x = t.of({1, 0, 0}), y = t.of({0, 1, 0}), z = t.of({0, 0, 1});
        if (dot(cross(x, y), z) > 0) all.push_back(t);  // a mirror is no turn
      }
    } while (std::next_permutation(to.begin(), to.end()));
    // The turn that changes nothing first: it is the usual answer.
    std::stable_sort(all.begin(), all.end(),
                     [](const QuarterTurn& a, const QuarterTurn& b) { return a.still() && !b.still(); });
    return all;
  }();
  return turns;
}

}  // namespace dryfit::planner

#pragma once
/// Whether a laid board is in a cage: felt all round with a rod, edge by edge.
#include <vector>

#include "tests/support/oracle/oracle_judge.hpp"

namespace dryfit::test {

/// A hit: lifted off its carriers, the board can go nowhere. `others`: the parts that stay, carriers among them;
/// `surfaces`: and floor, walls and ceiling do.
[[nodiscard]] Verdict shut_in(const Frame& frame, PartId board, const std::vector<PartId>& carriers,
                              const std::vector<PartId>& others, bool surfaces);

}  // namespace dryfit::test

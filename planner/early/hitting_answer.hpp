#pragma once
/// What is known of the smallest set of elements that meets each of some sets.
#include <vector>

namespace dryfit::planner {

struct HittingSet {
  std::vector<int> elements;  ///< ascending; the smallest set when `proven`, else the best found
  int at_least = 0;           ///< no hitting set is smaller
  bool possible = true;       ///< false: there is none
  bool proven = false;        ///< what is said is final; else the budget ended first
};

}  // namespace dryfit::planner

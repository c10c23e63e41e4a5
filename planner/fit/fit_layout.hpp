#pragma once
/// The columns and rows of one solve of a component.
#include <vector>

#include "planner/fit/fit_components.hpp"
#include "planner/fit/fit_solver.hpp"

namespace dryfit::planner {

/// What may be done about rows that are off.
enum class GiveUp {
  nothing,  ///< every row not given up must hold
  counted,  ///< a switch per row, to find the fewest
  measured  ///< slack per row in mm, to find the least: for programs too large to count
};

struct Layout {
  MixedProgram program;
  std::vector<int> quarters;  ///< per group: column of its quarters in all, whole
  struct Level {
    int column;
    int group;
    int depth;    ///< 1: the first quarter of every member, 2: the second, ...
    bool beyond;  ///< past one turn
    bool back;    ///< back out, not farther in
  };
  std::vector<Level> levels;
  std::vector<int> shift;  ///< per shift
  std::vector<int> open;   ///< per row: column of its switch or slack, -1 where there is none
};

struct LayoutWish {
  bool wide = false;    ///< to the thread's limits, not one turn only
  bool merged = false;  ///< one level for all quarters within a turn and one beyond: the spread does not show
  GiveUp give_up = GiveUp::nothing;
};

[[nodiscard]] Layout lay_out(const TurnProgram& program, const Component& part, const std::vector<bool>& given_up,
                             const LayoutWish& wish);

/// Costs per column, all whole numbers. Quarters, those beyond a turn dearer than many within.
[[nodiscard]] std::vector<double> fewest_cost(const Component& part, const Layout& layout);
/// Quarters backed out: a joint that is backed off stays loose.
[[nodiscard]] std::vector<double> back_cost(const Layout& layout);
/// Sum of squares of each member's quarters; needs levels that are not merged.
[[nodiscard]] std::vector<double> spread_cost(const Layout& layout);
[[nodiscard]] std::vector<double> rank_cost(const Component& part, const Layout& layout);

}  // namespace dryfit::planner

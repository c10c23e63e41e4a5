#pragma once
/// The least turning that closes everything at once, as data: a small integer program over quarter turns.
/// Notation: q_j = extra quarter turns at unknown j, positive is deeper; a row is gap + sum(mm_j q_j), wanted within
/// its tolerance of zero; a whole set is a list of unknowns whose quarters add up to a multiple of four.
#include <cmath>
#include <utility>
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/fit/fit_equations.hpp"

namespace dryfit::planner {

/// Quarter turns in a turn.
inline constexpr int kQuarters = 4;

struct TurnUnknown {
  int low = -kQuarters;  ///< fewest and most quarters that the thread allows at all
  int high = kQuarters;
  int soft_low = -kQuarters;  ///< quarters within one turn; beyond them costs more than any number inside
  int soft_high = kQuarters;
  int rank = 0;  ///< among equals the lower rank is turned first; mirror twins share a rank
};

struct TurnRow {
  std::vector<std::pair<int, double>> terms;  ///< (unknown, mm per quarter), unknowns ascending, no zeros
  double gap = 0.0;                           ///< mm
  double tolerance = 0.5;                     ///< mm
  bool may_open = true;                       ///< false: must hold whatever happens
  bool above_only = false;                    ///< may be as far below zero as it likes
};

/// The row does not hold as made up.
[[nodiscard]] inline bool is_off(const TurnRow& row) {
  return (row.above_only ? row.gap : std::abs(row.gap)) > row.tolerance + kHair;
}

struct TurnProgram {
  std::vector<TurnUnknown> unknowns;
  int free_unknowns = 0;  ///< shifts without a thread, numbered on from the unknowns; free, cost nothing
  std::vector<TurnRow> rows;
  std::vector<std::vector<int>> whole;
  long long node_limit = 20000;  ///< branch-and-bound nodes per solve; the budget counts work, not seconds
  Foreman* foreman = nullptr;    ///< asked now and then; once he ends the work, what is left stays as it is
};

struct TurnAnswer {
  std::vector<int> quarters;   ///< per unknown
  std::vector<double> shifts;  ///< per free unknown, mm
  std::vector<bool> open;      ///< per row: given up, since no turning within the thread's limits closes it
  bool proven = true;          ///< false: a node limit was hit, there may be a lesser turning
  bool decided = true;         ///< false: rows are open, and it is not known that any has to be
  long long nodes = 0;
};

}  // namespace dryfit::planner

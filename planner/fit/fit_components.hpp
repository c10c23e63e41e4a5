#pragma once
/// A turn program cut into parts that share nothing, with interchangeable unknowns counted as one.
#include <utility>
#include <vector>

#include "planner/fit/turn_program.hpp"

namespace dryfit::planner {

/// Unknowns that stand in the same rows and whole sets with the same limits.
struct Group {
  std::vector<int> members;  ///< by rank, then number
  TurnUnknown limits;
  [[nodiscard]] int count() const { return static_cast<int>(members.size()); }
};

/// What the turns in a row may add up to, mm.
struct Window {
  double low = 0.0;
  double high = 0.0;
  [[nodiscard]] bool empty() const { return low > high; }
};

/// What is left of a row of one pitch once its whole sets are taken out: the row is this and whole turns.
struct LooseSum {
  std::vector<std::pair<int, int>> terms;  ///< (group, 1 or -1); the first is 1
};

/// Where a row of one pitch has whole sets and a loose sum besides.
struct MixedRow {
  int loose = -1;      ///< place in Component::loose; -1: the row is not of this kind
  int sense = 1;       ///< the row has the loose sum, or its negative
  double pitch = 0.0;  ///< mm per quarter
};

/// One part of the program that shares nothing with the rest.
struct Component {
  std::vector<Group> groups;
  std::vector<int> shifts;  ///< free unknowns, numbered from 0
  std::vector<int> rows;
  std::vector<std::vector<std::pair<int, double>>> row_groups;  ///< per row: (group, mm per quarter)
  std::vector<std::vector<std::pair<int, double>>> row_shifts;  ///< per row: (place in shifts, mm)
  /// Rows of neighbours are long and nearly alike (both follow the same way to the root): each is kept as what it
  /// adds to the most similar row before it, `base`, or to nothing (-1).
  std::vector<int> base;
  std::vector<std::vector<std::pair<int, double>>> added;  ///< per row: (group, mm per quarter)
  std::vector<std::vector<int>> whole;                     ///< groups
  /// Per row. Where all of its threads have one pitch along it, the ends are whole quarters, or whole turns where
  /// nothing else can come out: the same answers, and a program whose fractions say nearly as much as its integers.
  std::vector<Window> windows;
  std::vector<LooseSum> loose;
  std::vector<MixedRow> mixed;  ///< per row
};

/// Only components with a row that is off are returned, in order of their first row. O(n log n).
[[nodiscard]] std::vector<Component> components_of(const TurnProgram& program);

}  // namespace dryfit::planner

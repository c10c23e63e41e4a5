#pragma once
/// Pieces of work that are made up apart and then joined on whole: named A, B, C in the order in which they are joined.
#include <string>
#include <vector>

#include "planner/order/order.hpp"

namespace dryfit::planner {

struct Subassembly {
  std::string name;           ///< "A" ... "Z", "AA", ...
  std::vector<PartId> parts;  ///< ascending
  int first_step = 0;         ///< number of the step that begins it
  int joined_in = 0;          ///< number of the step that joins it to the rest
};

struct Grouping {
  std::vector<Subassembly> pieces;  ///< in the order of joined_in
  std::vector<int> of_step;         ///< per step: index of the innermost piece that it makes up, or -1: the main work
  /// Where nothing but the room ever joins parts of the frame: the parts of each such work of two parts or more,
  /// ascending, in the order in which they are begun. Empty where it is one work.
  std::vector<std::vector<PartId>> works;
};

/// A step that joins two pieces of two parts or more brings the moving one as a sub-assembly. O(steps * parts moved +
/// parts log parts).
[[nodiscard]] Grouping subassemblies_of(const model::Frame& frame, const ContactList& list,
                                        const std::vector<Step>& steps);

/// "A", "B", ..., "Z", "AA", "AB", ...; from 0.
[[nodiscard]] std::string piece_name(int number);

}  // namespace dryfit::planner

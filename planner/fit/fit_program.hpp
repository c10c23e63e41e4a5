#pragma once
/// Solves a turn program; see turn_program.hpp for what it is.
#include "planner/fit/turn_memory.hpp"
#include "planner/fit/turn_program.hpp"

namespace dryfit::planner {

/// Rows that can hold together hold; as few as possible are given up. Then, in this order: fewest quarters beyond
/// one turn, fewest quarters in all, fewest of them back out, evenest spread (sum of squares), lowest ranks. Solved by
/// Cbc, component by component, single-threaded, so the same program gives the same answer. Unknowns that stand in the
/// same rows and whole sets are solved as one and shared out evenly afterwards.
[[nodiscard]] TurnAnswer least_turning(const TurnProgram& program);
/// The same, for several programs that share components. Nodes count only what was solved anew.
[[nodiscard]] TurnAnswer least_turning(const TurnProgram& program, TurnMemory& memory);

}  // namespace dryfit::planner

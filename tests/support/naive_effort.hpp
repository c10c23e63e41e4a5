#pragma once
/// The effort of a move worked out from the words of model/data/effort.csv and planner/effort.hpp, slowly and without
/// the planner's code; and the least effort by trying every order.
#include <string>
#include <vector>

#include "planner/moves.hpp"

namespace dryfit::test {

/// What the move costs beyond the base when it is made while the contacts in `made` are, seconds.
[[nodiscard]] double naive_extra(const model::Frame& frame, const planner::ContactList& list,
                                 const std::vector<char>& made, const planner::Move& move, int people);

/// One legal way from a state to another.
struct Passage {
  int from = 0;
  int to = 0;
  double extra = 0.0;
};

/// Every state that undoing can reach, 0 the finished frame; `bare` the one with nothing made, -1 when none is.
struct StateGraph {
  int states = 0;
  int bare = -1;
  std::vector<Passage> passages;
};
[[nodiscard]] StateGraph state_graph(const model::Frame& frame, const planner::ContactList& list, int people);

/// Least sum of extras from the finished frame to the bare parts, over all orders. Needs a graph with `bare`.
[[nodiscard]] double least_extra(const StateGraph& graph);

/// The same as a program for an answer-set solver: costs in thousandths of a second, rounded.
[[nodiscard]] std::string answer_set_program(const StateGraph& graph);

}  // namespace dryfit::test

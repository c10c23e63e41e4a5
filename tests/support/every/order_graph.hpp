#pragma once
/// The least effort by trying every order and every pose.
#include <limits>
#include <string>
#include <vector>

#include "planner/state/contacts.hpp"

namespace dryfit::test {

/// What an order costs that does not exist.
inline constexpr double kNoOrder = std::numeric_limits<double>::infinity();

/// One legal way from a state to another.
struct Passage {
  int from = 0;
  int to = 0;
  double cost = 0.0;  ///< beyond the base, with what weighs against laying boards on what is loose
};

/// Every state that undoing and turning can reach: what is made, and the pose of every piece of work. 0 is the finished
/// frame before anything is said about its pose; `bare` the state with nothing made, -1 when none is.
struct StateGraph {
  int states = 0;
  int bare = -1;
  bool whole = true;  ///< false: there are more states than were wanted
  std::vector<Passage> passages;
};
[[nodiscard]] StateGraph state_graph(const model::Frame& frame, const planner::ContactList& list, int people,
                                     int most_states = std::numeric_limits<int>::max());

/// Least sum of costs from the finished frame to the bare parts, over all orders. Needs a graph with `bare`.
[[nodiscard]] double least_cost(const StateGraph& graph);

/// The same, piece of work by piece of work, for frames whose graph is too large: pieces that no longer hang together
/// are taken apart each by itself, with every move in every pose. Infinite when the frame does not come apart.
[[nodiscard]] double least_cost_by_pieces(const model::Frame& frame, const planner::ContactList& list, int people);

/// The graph as a program for an answer-set solver: costs in thousandths of a second, rounded.
[[nodiscard]] std::string answer_set_program(const StateGraph& graph);

}  // namespace dryfit::test

#pragma once
/// The best order with all that is said about it besides the steps: effort and proof, pieces made up apart, how the
/// work is turned, chores before and after, and why each step stands where it stands.
#include <vector>

#include "cli/io/working.hpp"
#include "cli/words/search_end.hpp"
#include "model/geometry/attitude.hpp"
#include "planner/best/best_answer.hpp"
#include "planner/best/standing.hpp"
#include "planner/best/why_now.hpp"
#include "planner/order/attitude_of_pose.hpp"
#include "planner/order/preparation.hpp"
#include "planner/order/subassembly.hpp"

namespace dryfit::cli {

struct OrderOptions {
  int people = 2;
  double seconds = 0.0;  ///< 0: one round with the usual budget, so that the same input gives the same bytes
  planner::PosePreference pose = planner::PosePreference::free;
  bool explain = false;
  int stops = 0;               ///< the order is to have so many good places to stop at; 0: nobody asked
  Working* working = nullptr;  ///< shows how far it is, and may end the search
};

/// The best order with everything that is said about it. For frames too large to search only `best` (the greedy order)
/// and the chores are filled.
struct OrderPlan {
  planner::BestOrder best;
  SearchEnd end = SearchEnd::size;  ///< what ended the search
  double seconds = 0.0;             ///< as asked for
  long long moves = 0;              ///< budget of the last round
  bool priced = true;               ///< false: the frame is so large that its order was not even priced
  planner::Grouping grouping;
  planner::StandingPlan standing;
  planner::Attitudes lies;
  planner::Preparation chores;
  int people = 2;
  planner::PosePreference pose = planner::PosePreference::free;  ///< as asked for
  std::vector<int> level_before;     ///< numbers of the steps before which the work is levelled: first screws, straps
  std::vector<planner::WhyNow> why;  ///< with explain
  double more_for_stops = 0.0;       ///< effort beyond the order that the search found, for the sake of the stops
};

/// Whether the main work stands upright at that step (from 0); a piece made up apart, or a frame too large to plan,
/// does not.
[[nodiscard]] bool stands_at(const OrderPlan& plan, std::size_t step);

/// What the step (from 0) leaves needs neither a hand nor a prop; true for a frame too large to plan.
[[nodiscard]] bool stands_alone(const OrderPlan& plan, std::size_t step);

/// How the work lies at each step; empty for a frame too large to plan.
[[nodiscard]] std::vector<model::Attitude> lies_at_steps(const OrderPlan& plan);

}  // namespace dryfit::cli

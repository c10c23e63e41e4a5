#pragma once
/// Places to stop at, in words and as JSON.
#include <string>
#include <vector>

#include "cli/input/frame_file.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/order/order_plan.hpp"
#include "planner/now/stops.hpp"

namespace dryfit::cli {

/// The stops of an order.
struct StopPlan {
  int wanted = 0;                    ///< 0: nobody asked
  std::vector<planner::Stop> stops;  ///< as many as are wanted, or, where the order has fewer places, all of those
  [[nodiscard]] bool enough() const { return static_cast<int>(stops.size()) >= wanted; }
};

[[nodiscard]] StopPlan planned_stops(const model::Frame& frame, const planner::ContactList& list,
                                     const OrderPlan& plan, int wanted);

/// What is said at a stop, a sentence each: what is left there, and how.
[[nodiscard]] std::vector<std::string> stop_sentences(const model::Frame& frame, const planner::Stop& stop);
/// Lines behind step `number`; "" where no stop is.
[[nodiscard]] std::string stop_lines(const model::Frame& frame, const StopPlan& plan, int number);
/// That there are fewer places than were asked for; "" where there are enough.
[[nodiscard]] std::string too_few_stops_text(const StopPlan& plan);
[[nodiscard]] Json stops_json(const model::Frame& frame, const StopPlan& plan);

}  // namespace dryfit::cli

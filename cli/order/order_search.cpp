#include "cli/order/order_search.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>

#include "cli/io/log.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

/// Efforts that differ by less are one, seconds.
constexpr double kEqualWeight = 1e-9;

/// Ends a search when the time is up, and else does as its own foreman says.
class TimeLimit : public planner::Foreman {
 public:
  using Clock = std::chrono::steady_clock;
  TimeLimit(Clock::time_point until, planner::Foreman* above) : until_(until), above_(above) {}
  [[nodiscard]] bool up() const { return Clock::now() >= until_; }
  [[nodiscard]] bool go_on(long long done, long long most) override {
    return !up() && planner::may_go_on(above_, done, most);
  }

 private:
  Clock::time_point until_;
  planner::Foreman* above_;
};

/// For those who look on with --verbose.
void log_round(long long budget, const planner::EffortReport& effort) {
  log_detail(fmt::format(
      "orders: {} of at most {} moves tried, {} states, {} met again; {:.1f} s of effort found, at least {:.1f} s{}",
      effort.moves_tried, budget, effort.states, effort.cache_hits, effort.value, effort.lower_bound,
      effort.proven ? ", proven" : ""));
}

}  // namespace

void search_best(OrderPlan& plan, const model::Frame& frame, const planner::ContactList& list,
                 const OrderOptions& options) {
  const auto begin = TimeLimit::Clock::now();
  const LongWork work(options.working, marked("comparing orders"), marked("moves tried"), true);
  planner::BestOptions search;
  search.people = options.people;
  search.pose = options.pose;
  search.foreman = options.working;
  plan.best = planner::find_best_order(frame, list, search);
  log_round(search.budget, plan.best.effort);
  const std::chrono::duration<double> given(options.seconds);
  TimeLimit limit(begin + std::chrono::duration_cast<TimeLimit::Clock::duration>(given), options.working);
  search.foreman = &limit;
  bool stopped = plan.best.effort.stopped;
  while (!plan.best.effort.proven && !plan.best.greedy && !stopped && !limit.up()) {
    search.budget *= 2;
    planner::BestOrder next = planner::find_best_order(frame, list, search);
    stopped = next.effort.stopped;
    log_round(search.budget, next.effort);
    // What a person does not want weighs as if it cost something.
    const auto weight = [](const planner::EffortReport& effort) { return effort.value + effort.unwanted; };
    const auto bound_of = [](const planner::EffortReport& effort) { return effort.lower_bound + effort.unwanted; };
    const double bound = std::max(bound_of(next.effort), bound_of(plan.best.effort));
    if (weight(next.effort) <= weight(plan.best.effort)) plan.best = std::move(next);
    planner::EffortReport& best = plan.best.effort;
    best.lower_bound = bound - best.unwanted;
    best.proven = best.proven || weight(best) <= bound + kEqualWeight;
  }
  plan.moves = search.budget;
  plan.seconds = options.seconds;
  plan.end = plan.best.greedy                                               ? SearchEnd::size
             : plan.best.effort.proven                                      ? SearchEnd::proof
             : options.working != nullptr && options.working->interrupted() ? SearchEnd::interrupted
             : options.seconds > 0.0                                        ? SearchEnd::seconds
                                                                            : SearchEnd::moves;
}

}  // namespace dryfit::cli

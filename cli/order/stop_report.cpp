#include "cli/order/stop_report.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

constexpr std::size_t kFewNames = 5;

std::string left_text(const model::Frame& frame, const planner::LeftPiece& left, bool alone) {
  const std::string who =
      alone ? say("The assembly") : listed_briefly(labels_of(frame, left.piece.parts), kFewNames);
  switch (left.as) {
    case planner::LeftAs::screwed:
      return say("{}: screwed on, it stays where it is.", who);
    case planner::LeftAs::stands:
      return say("{}: it stands by itself.", who);
    case planner::LeftAs::lies:
      return say("{}: leave it lying.", who);
    case planner::LeftAs::laid_down:
      return say("{}: lay it down, or it tips over.", who);
    default:
      return say("{}: prop it, or it tips over.", who);
  }
}

}  // namespace

StopPlan planned_stops(const model::Frame& frame, const planner::ContactList& list, const OrderPlan& plan,
                       int wanted) {
  StopPlan stops;
  stops.wanted = wanted;
  if (wanted == 0) return stops;
  planner::Undoer undoer(frame, list);
  planner::Stops places(undoer, plan.best.order.steps, plan.standing.pose_of_step, plan.people);
  if (auto best = places.best(wanted)) {
    stops.stops = *std::move(best);
  } else {
    stops.stops = places.places();
  }
  return stops;
}

std::vector<std::string> stop_sentences(const model::Frame& frame, const planner::Stop& stop) {
  std::vector<std::string> text;
  for (const planner::LeftPiece& left : stop.pieces) {
    text.push_back(left_text(frame, left, stop.pieces.size() == 1));
    if (left.piece.slack.empty()) continue;
    text.push_back(say("Don't move or turn it: nothing holds {} yet.", listed(labels_of(frame, left.piece.slack))));
  }
  return text;
}

std::string stop_lines(const model::Frame& frame, const StopPlan& plan, int number) {
  std::string text;
  for (std::size_t i = 0; i < plan.stops.size(); ++i) {
    const planner::Stop& stop = plan.stops[i];
    if (stop.after_step != number) continue;
    text += fmt::format("  = {}\n", wrapped(say("Stop {0} of {1}: you can leave it like this.", i + 1,
                                                plan.stops.size()),
                                            4));
    for (const std::string& sentence : stop_sentences(frame, stop)) text += fmt::format("    {}\n", wrapped(sentence, 4));
  }
  return text;
}

std::string too_few_stops_text(const StopPlan& plan) {
  if (plan.enough()) return "";
  return say_n(static_cast<long long>(plan.stops.size()),
               "You asked for {1} stops. This order has {0} place where nothing has to be propped or held.",
               "You asked for {1} stops. This order has {0} places where nothing has to be propped or held.",
               plan.wanted);
}

Json stops_json(const model::Frame& frame, const StopPlan& plan) {
  Json all = Json::array();
  for (const planner::Stop& stop : plan.stops) {
    Json pieces = Json::array();
    for (const planner::LeftPiece& left : stop.pieces) {
      pieces.push_back({{"parts", part_ids(frame, left.piece.parts)},
                        {"left", planner::word_for(left.as)},
                        {"mass_kg", rounded(left.piece.lift.mass)},
                        {"hands", left.piece.lift.people},
                        {"loose_boards", part_ids(frame, left.piece.slack)}});
    }
    all.push_back({{"after_step", stop.after_step},
                   {"work_before", rounded(stop.work_before)},
                   {"pieces", std::move(pieces)},
                   {"text", stop_sentences(frame, stop)}});
  }
  return all;
}

}  // namespace dryfit::cli

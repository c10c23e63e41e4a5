#include "cli/order/plan_json.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/order/plan_text.hpp"
#include "cli/order/ring_words.hpp"
#include "cli/words/told.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

Json turning_json(const model::Frame& frame, const OrderPlan& plan, const planner::Turning& turning) {
  Json json = {{"before_step", turning.before_step},  {"from", planner::word_for(turning.from)},
               {"to", planner::word_for(turning.to)}, {"mass_kg", rounded(turning.lift.mass)},
               {"hands", turning.lift.people},        {"diagonal_mm", rounded(turning.tilt.diagonal)}};
  json["room_height_mm"] = turning.tilt.room_height ? Json(rounded(*turning.tilt.room_height)) : Json(nullptr);
  json["fits"] = turning.tilt.fits;
  json["text"] = turning_text(frame, plan, turning);
  return json;
}

Json way_in_json(const model::Frame& frame, const OrderPlan& plan, const planner::WayIn& way) {
  Json flanges = Json::array();
  for (const std::vector<planner::Give>& end : way.ends) {
    for (const planner::Give& give : end) {
      flanges.push_back({{"flange", name_of(frame, give.flange)},
                         {"turns", rounded(give.turns)},
                         {"shorter_mm", rounded(give.gives)}});
    }
  }
  return {{"between", way.surfaces},
          {"flange", flanges.empty() ? Json(nullptr) : flanges.front()["flange"]},
          {"turns", flanges.empty() ? Json(0.0) : flanges.front()["turns"]},
          {"flanges", flanges},
          {"shorter_mm", rounded(way.gives())},
          {"headroom_missing_mm", rounded(way.upright ? std::max(0.0, plan.standing.headroom_missing) : 0.0)},
          {"text", way_in_text(frame, plan, way)}};
}

}  // namespace

void add_plan(Json& document, const model::Frame& frame, const planner::ContactList& list, const OrderPlan& plan) {
  const planner::EffortReport& effort = plan.best.effort;
  document["effort"] = {{"value", plan.priced ? Json(rounded(effort.value)) : Json(nullptr)},
                        {"lower_bound", rounded(effort.lower_bound)},
                        {"proven", effort.proven},
                        {"ended_by", word_for(plan.end)},
                        {"states", effort.states},
                        {"handling", plan.priced ? Json(rounded(plan.best.effort.handling)) : Json(nullptr)}};
  const auto chores = [&](const std::vector<planner::ChoreLine>& lines) {
    Json all = Json::array();
    for (const planner::ChoreLine& line : lines) {
      all.push_back({{"chore", planner::word_for(line.chore)},
                     {"parts", part_ids(frame, line.parts)},
                     {"text", told(line.text, frame.units)},
                     {"cautions", told(line.cautions, frame.units)}});
    }
    return all;
  };
  document["before"] = chores(plan.chores.before);
  document["after"] = chores(plan.chores.after);
  for (const auto& [number, line] : plan.chores.at_step) document["steps"][at(number) - 1]["chores"] = chores({line});
  if (!plan.priced) return;
  Json pieces = Json::array();
  for (const planner::Subassembly& piece : plan.grouping.pieces) {
    pieces.push_back({{"piece", piece.name},
                      {"parts", part_ids(frame, piece.parts)},
                      {"first_step", piece.first_step},
                      {"joined_in_step", piece.joined_in}});
  }
  document["pieces"] = std::move(pieces);
  Json turnings = Json::array();
  for (const planner::Turning& turning : plan.standing.turnings) turnings.push_back(turning_json(frame, plan, turning));
  document["turnings"] = std::move(turnings);
  Json ways = Json::array();
  for (const planner::WayIn& way : plan.standing.ways_in) ways.push_back(way_in_json(frame, plan, way));
  document["ways_in"] = std::move(ways);
  for (std::size_t i = 0; i < plan.best.order.steps.size(); ++i) {
    Json& step = document["steps"][i];
    const int piece = plan.grouping.of_step[i];
    step["piece"] = piece < 0 ? Json(nullptr) : Json(plan.grouping.pieces[at(piece)].name);
    step["pose"] = planner::word_for(plan.standing.pose_of_step[i]);
    step["propped"] =
        std::binary_search(plan.standing.propped.begin(), plan.standing.propped.end(), plan.best.order.steps[i].number);
    const std::vector<int>& on_loose = plan.standing.on_loose;
    step["on_loose"] = std::binary_search(on_loose.begin(), on_loose.end(), plan.best.order.steps[i].number);
    const std::vector<planner::Dip>& dips = plan.standing.dips;
    const auto dip = std::find_if(dips.begin(), dips.end(),
                                  [&](const planner::Dip& one) { return one.step == plan.best.order.steps[i].number; });
    if (dip != dips.end()) step["room_below_mm"] = rounded(dip->by);
    step["in_rings"] = in_rings_json(frame, plan.standing.in_rings, plan.best.order.steps[i].number);
    step["level_first"] = std::find(plan.level_before.begin(), plan.level_before.end(),
                                    plan.best.order.steps[i].number) != plan.level_before.end();
    if (!plan.why.empty()) step["why"] = why_sentences(frame, list, plan, i);
  }
}

}  // namespace dryfit::cli

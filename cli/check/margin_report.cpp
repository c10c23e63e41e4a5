#include "cli/check/margin_report.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/sentences/refusal_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

/// On frames of more contacts than this the verdict is not asked for again: that takes as long as the first time.
constexpr std::size_t kMostAskedAgain = 3000;

/// Why, of the first few contacts that it is about, each sentence once.
std::string reasons_text(const planner::Margin& margin, const model::Frame& frame, const planner::ContactList& list) {
  constexpr std::size_t kFew = 3;
  std::vector<std::string> told;
  for (const planner::Margin::Tight& tight : margin.tight) {
    std::string why = refusal_text(frame, list, tight.why);
    if (std::find(told.begin(), told.end(), why) == told.end() && told.size() < kFew) told.push_back(std::move(why));
  }
  return fmt::format("{}", fmt::join(told, "; "));
}

}  // namespace

void look_for_margin(Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  if (finding.verdict == Verdict::overlapping || list.contacts.size() > kMostAskedAgain) return;
  const Placed* turned = finding.turned.get();
  finding.margin = planner::margin_of(turned != nullptr ? turned->frame : frame,
                                      turned != nullptr ? turned->contacts : list, finding.order.buildable);
}

void add_margin(Json& document, const Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  document["margin"] = nullptr;
  if (!finding.margin.other_verdict) return;
  Json tight = Json::array();
  for (const planner::Margin::Tight& one : finding.margin.tight) {
    tight.push_back({{"contact", list.contact(one.contact).id}, {"why", refusal_text(frame, list, one.why)}});
  }
  document["margin"] = {{"within_mm", rounded(planner::kHairOfRoom)},
                        {"else", finding.order.buildable ? "locked" : "buildable"},
                        {"tight", std::move(tight)}};
}

std::string margin_text(const Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  if (!finding.margin.other_verdict) return "";
  const std::string hair = hair_text(frame.units), why = reasons_text(finding.margin, frame, list);
  if (finding.order.buildable) {
    return why.empty()
               ? say("It goes together by less than {} of room. Measure first.", hair)
               : say("It goes together by less than {0} of room. Measure first; with so much less, {1}.", hair, why);
  }
  return why.empty() ? say("It lacks less than {} of room. Measure before you give it up.", hair)
                     : say("It lacks less than {0} of room. Measure before you give it up: {1}.", hair, why);
}

Json tight_steps_json(const std::vector<planner::TightStep>& steps) {
  Json out = Json::array();
  for (const planner::TightStep& step : steps) {
    out.push_back({{"step", step.number}, {"legal", step.legal}, {"why", said(step.told)}});
  }
  return out;
}

std::string tight_step_text(const planner::TightStep& step, model::Units units) {
  return step.legal ? say("Step {0} goes by less than {1} of room. Measure first; with so much less, {2}.", step.number,
                          hair_text(units), said(step.told))
                    : say("Step {0} lacks less than {1} of room: measure before you give it up.", step.number,
                          hair_text(units));
}

}  // namespace dryfit::cli

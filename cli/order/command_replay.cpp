#include "cli/order/command_replay.hpp"

#include <fmt/ostream.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <string>
#include <vector>

#include "cli/call/declare.hpp"
#include "cli/check/as_built.hpp"
#include "cli/check/margin_report.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/input/given_steps.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/order/ring_words.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

struct ReplayCall {
  std::string frame;
  std::string steps;
  bool json = false;
};

/// What goes through rings that the order closes; nothing for an order that cannot be built.
std::vector<planner::InRing> rings_told(const LoadedFrame& loaded, const std::vector<planner::GivenStep>& steps,
                                        const planner::ReplayResult& result) {
  if (!result.legal) return {};
  std::vector<std::vector<planner::ContactId>> made;
  for (const planner::GivenStep& step : steps) made.push_back(step.contacts);
  return planner::rings_in_order(loaded.frame, loaded.contacts, made);
}

/// Why not, with the number of the step where it is the reason for one; empty for an order that works.
std::string why_not(const planner::ReplayResult& result, const model::Message& reason, std::size_t steps) {
  const bool of_a_step = !result.legal && at(result.first_bad_step) <= steps;
  return of_a_step ? say("step {}: {}", result.first_bad_step, said(reason)) : said(reason);
}

model::Frame in_units_asked(model::Frame frame) {
  if (lengths_asked() == "in") frame.units = model::Units::in;
  if (lengths_asked() == "mm") frame.units = model::Units::mm;
  return frame;
}

int replay_order(const ReplayCall& options, const Streams& streams) {
  if (options.frame == "-" && options.steps == "-") {
    throw UsageError(say("standard input can be read only once"));
  }
  LoadedFrame loaded = load_frame(options.frame, streams);
  const auto steps =
      read_steps(read_text(options.steps, streams.in), plain_name(options.steps), loaded.frame, loaded.contacts);
  model::Frame shown = in_units_asked(loaded.frame);
  model::Message reason;
  planner::ReplayResult result = planner::replay(shown, loaded.contacts, steps, lengths_asked() == "both", &reason);
  if (!result.legal) {
    loaded = as_built(loaded);
    shown = in_units_asked(loaded.frame);
    result = planner::replay(shown, loaded.contacts, steps, lengths_asked() == "both", &reason);
  }
  const std::vector<planner::InRing> rings = rings_told(loaded, steps, result);
  const std::vector<planner::TightStep> tight = planner::tight_steps(shown, loaded.contacts, steps);
  if (options.json) {
    Json document = envelope("replay", loaded.frame, result.legal ? "legal" : "illegal");
    document["first_bad_step"] =
        result.legal || result.first_bad_step == 0 ? Json(nullptr) : Json(result.first_bad_step);
    document["why"] = why_not(result, reason, steps.size());
    Json told = Json::array();
    for (const planner::InRing& ring : rings) {
      told.push_back(in_ring_json(loaded.frame, ring));
      told.back()["step"] = ring.step;
    }
    document["in_rings"] = told;
    document["tight_steps"] = tight_steps_json(tight);
    print(streams.out, document);
  } else if (result.legal) {
    fmt::print(streams.out, "{}\n",
               say_n(static_cast<long long>(steps.size()), "{1}: this order works ({0} step).",
                     "{1}: this order works ({0} steps).", loaded.frame.name));
    for (const planner::InRing& ring : rings) {
      fmt::print(streams.out, "{}\n", say("Step {0}: {1}", ring.step, in_ring_text(loaded.frame, ring)));
    }
  } else {
    std::string why = said(reason);
    if (at(result.first_bad_step) <= steps.size()) why = say("Step {0}: {1}", result.first_bad_step, why);
    fmt::print(streams.out, "{}\n{}\n", say("{}: this order doesn't work.", loaded.frame.name), why);
  }
  if (!options.json) {
    for (const planner::TightStep& step : tight) {
      fmt::print(streams.out, "{}\n", tight_step_text(step, loaded.frame.units));
    }
  }
  return result.legal ? kYes : kNo;
}

}  // namespace

Job set_up_replay(OptionList& list) {
  const auto options = std::make_shared<ReplayCall>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  list.value("STEPS", options->steps, "the order as JSON, as `dryfit order --json` prints it; - for standard input")
      .required();
  add_units_option(list);
  list.flag("--json", options->json, "one JSON document instead of text");
  return [options](const Streams& streams) { return replay_order(*options, streams); };
}

}  // namespace dryfit::cli

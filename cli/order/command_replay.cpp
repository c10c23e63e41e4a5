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
#include "cli/sentences/closed_out_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"
#include "planner/moves/moves.hpp"

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

/// The judge speaks English; in another language the search says why it refuses the same step, as far as it does.
std::string why_not(const LoadedFrame& loaded, const std::vector<planner::GivenStep>& steps,
                    const planner::ReplayResult& result) {
  if (language_spoken() == "en" || result.first_bad_step < 1 ||
      result.first_bad_step > static_cast<int>(steps.size())) {
    return result.why;
  }
  std::vector<char> made(loaded.contacts.contacts.size(), 0);
  for (int i = 0; i < result.first_bad_step; ++i) {
    for (const planner::ContactId c : steps[at(i)].contacts) made[at(c)] = 1;
  }
  const std::vector<planner::ContactId>& wanted = steps[at(result.first_bad_step - 1)].contacts;
  if (wanted.empty()) return result.why;
  planner::Undoer undoer(loaded.frame, loaded.contacts);
  const planner::Attempt attempt = undoer.try_undo(planner::State(loaded.contacts, made), wanted.front());
  if (attempt.legal) return result.why;
  const std::string told = closed_out_text(loaded.frame, loaded.contacts, wanted.front(), attempt.refusals);
  return told.empty() ? result.why : fmt::format("step {}: {}", result.first_bad_step, told + ".");
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
  planner::ReplayResult result = planner::replay(shown, loaded.contacts, steps, lengths_asked() == "both");
  if (!result.legal) {
    loaded = as_built(loaded);
    shown = in_units_asked(loaded.frame);
    result = planner::replay(shown, loaded.contacts, steps, lengths_asked() == "both");
  }
  const std::vector<planner::InRing> rings = rings_told(loaded, steps, result);
  const std::vector<planner::TightStep> tight = planner::tight_steps(shown, loaded.contacts, steps);
  if (options.json) {
    Json document = envelope("replay", loaded.frame, result.legal ? "legal" : "illegal");
    document["first_bad_step"] =
        result.legal || result.first_bad_step == 0 ? Json(nullptr) : Json(result.first_bad_step);
    document["why"] = result.why;
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
    std::string why = why_not(loaded, steps, result);
    if (const std::string number = fmt::format("step {}: ", result.first_bad_step); why.starts_with(number)) {
      why = say("Step {0}: {1}", result.first_bad_step, why.substr(number.size()));
    }
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

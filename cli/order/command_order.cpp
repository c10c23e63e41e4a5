#include "cli/order/command_order.hpp"

#include <fmt/ostream.h>
#include <fmt/ranges.h>

#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>
#include <set>

#include "cli/call/declare.hpp"
#include "cli/check/cure_report.hpp"
#include "cli/check/evidence.hpp"
#include "cli/check/finding.hpp"
#include "cli/check/fit_report.hpp"
#include "cli/check/margin_report.hpp"
#include "cli/early/early_in_order.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/input/given_steps.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/order/door_report.hpp"
#include "cli/order/given_state.hpp"
#include "cli/order/now_report.hpp"
#include "cli/order/opening.hpp"
#include "cli/order/plan_json.hpp"
#include "cli/order/plan_text.hpp"
#include "cli/order/planned_order.hpp"
#include "cli/order/step_json.hpp"
#include "cli/order/stop_report.hpp"
#include "cli/sentences/alike_steps.hpp"
#include "cli/sentences/safety_text.hpp"
#include "cli/sentences/step_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

struct OrderCall {
  std::string frame;
  bool json = false;
  bool stats = false;
  bool no_prices = false;
  bool laid = false;
  bool standing = false;
  OrderOptions plan;
  NowAsked now;
  DoorAsked door;
};

/// Steps that go by less than a hair of room; of large frames nobody asks, for that takes the judging twice more.
std::vector<planner::TightStep> tight_steps_of(const LoadedFrame& loaded, const Finding& finding) {
  constexpr std::size_t kMostJudgedAgain = 1000;
  if (loaded.contacts.contacts.size() > kMostJudgedAgain) return {};
  const Placed* turned = finding.turned.get();
  return planner::tight_steps(turned != nullptr ? turned->frame : loaded.frame,
                              turned != nullptr ? turned->contacts : loaded.contacts, as_given(finding.order.steps));
}

void print_json(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan, const EarlyInOrder& early,
                const StopPlan& stops, const OrderCall& options, std::ostream& out) {
  Json document = envelope("order", loaded.frame, word_for(finding.verdict));
  Json steps = Json::array();
  const auto words = words_with_turns(loaded.frame, loaded.contacts, finding.fit, finding.order.steps);
  const auto in_pose = words_for(loaded.frame, loaded.contacts, finding.order.steps, lies_at_steps(plan));
  for (std::size_t i = 0; i < words.size(); ++i) {
    steps.push_back(step_json(loaded.frame, loaded.contacts, finding.order.steps[i], words[i]));
    if (plan.priced) steps.back()["text_in_pose"] = in_pose[i].text;
    add_early(steps.back(), loaded.contacts, early, i);
  }
  if (finding.verdict == Verdict::buildable) {
    document["steps"] = std::move(steps);
    add_plan(document, loaded.frame, loaded.contacts, plan);
    if (stops.wanted > 0) {
      document["stops_wanted"] = stops.wanted;
      document["stops_effort_more"] = rounded(plan.more_for_stops);
      document["stops"] = stops_json(loaded.frame, stops);
    }
  }
  if (finding.verdict == Verdict::buildable) {
    document["tight_steps"] = tight_steps_json(tight_steps_of(loaded, finding));
  }
  add_evidence(document, finding, loaded.frame, loaded.contacts);
  if (options.stats) {
    const planner::Order::Stats& stats = finding.order.stats;
    document["stats"] = {{"moves_tried", stats.moves_tried},
                         {"clearance_tests", stats.clearance_tests},
                         {"parts_visited", stats.parts_visited},
                         {"states", plan.best.effort.states},
                         {"cache_hits", plan.best.effort.cache_hits}};
  }
  print(out, with_inches(document, lengths_asked()));
}

/// What is made again with other parts: the next leg, the next rung.
std::vector<AlikeSteps> alike_in(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan,
                                 const EarlyInOrder& early, const StopPlan& stops,
                                 const std::vector<planner::Step>& steps, const std::vector<StepWords>& words) {
  std::vector<ToldStep> told;
  for (std::size_t i = 0; i < words.size(); ++i) {
    std::vector<std::string> said = words[i].cautions;
    for (std::string& line : under_step(loaded.frame, finding.as_made(loaded.frame), loaded.contacts, plan, i))
      said.push_back(std::move(line));
    for (std::string& line : early_lines(loaded.frame, loaded.contacts, early, i)) said.push_back(std::move(line));
    said.push_back(stop_lines(loaded.frame, stops, steps[i].number));
    told.push_back({before_step_text(loaded.frame, loaded.contacts, plan, i),
                    fmt::format("{}\n{}", words[i].text, fmt::join(said, "\n"))});
  }
  return alike_steps(loaded.frame, told);
}

void print_steps(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan, const EarlyInOrder& early,
                 const StopPlan& stops, bool explained, std::ostream& out) {
  const auto& steps = finding.order.steps;
  const auto words = words_with_turns(loaded.frame, loaded.contacts, finding.fit, steps, lies_at_steps(plan));
  const std::size_t digits = std::to_string(steps.size()).size();
  const std::size_t indent = digits + 4;
  fmt::print(out, "{}: {}\n\n", loaded.frame.name, say_n(static_cast<long long>(steps.size()), "{} step", "{} steps"));
  std::set<std::string> cautioned;
  out << chores_text(say("Before"), plan.chores.before, loaded.frame.units);
  const std::vector<AlikeSteps> alike =
      explained ? std::vector<AlikeSteps>() : alike_in(loaded, finding, plan, early, stops, steps, words);
  auto run = alike.begin();
  for (std::size_t i = 0; i < steps.size(); ++i) {
    if (run != alike.end() && run->first == i) {
      i += run->count - 1;
      fmt::print(out, "{}\n", alike_line(*run, steps.front().number, digits));
      ++run;
      continue;
    }
    out << before_step_text(loaded.frame, loaded.contacts, plan, i);
    fmt::print(out, "  {:>{}}. {}\n", steps[i].number, digits, wrapped(words[i].text, indent));
    for (const std::string& caution : words[i].cautions) {
      if (!cautioned.insert(caution).second) continue;  // once is enough
      fmt::print(out, "{:{}}! {}\n", "", indent, wrapped(caution, indent + 2));
    }
    for (const std::string& line : under_step(loaded.frame, finding.as_made(loaded.frame), loaded.contacts, plan, i)) {
      fmt::print(out, "{:{}}- {}\n", "", indent, wrapped(line, indent + 2));
    }
    for (const std::string& line : early_lines(loaded.frame, loaded.contacts, early, i)) {
      fmt::print(out, "{:{}}- {}\n", "", indent, wrapped(line, indent + 2));
    }
    out << stop_lines(loaded.frame, stops, steps[i].number);
  }
  out << after_steps_text(loaded.frame, plan);
  if (const std::string few = too_few_stops_text(stops); !few.empty()) fmt::print(out, "\n{}\n", wrapped(few, 0));
  if (explained) {
    fmt::print(out, "\n{}\n", wrapped(effort_text(plan), 0));
  } else if (const std::string unproven = unproven_text(plan); !unproven.empty()) {
    fmt::print(out, "\n{}\n", wrapped(unproven, 0));
  }
  const std::string after = chores_text("\n" + say("After"), plan.chores.after, loaded.frame.units);
  out << after.substr(0, after.empty() ? 0 : after.size() - 1);
  fmt::print(out, "\n{}\n{}\n", wrapped(wear_text() + " " + climb_text(loaded.frame), 0), wrapped(codes_text(), 0));
}

void print_text(const LoadedFrame& loaded, const Finding& finding, const OrderPlan& plan, const EarlyInOrder& early,
                const StopPlan& stops, const OrderCall& options, std::ostream& out) {
  const std::string& name = loaded.frame.name;
  if (finding.verdict == Verdict::buildable) {
    print_steps(loaded, finding, plan, early, stops, options.stats || options.plan.explain, out);
  } else if (finding.verdict == Verdict::locked) {
    out << say("{}: LOCKED. There is no order in which it can be put together.", name) << '\n';
  } else {
    out << say("{}: DOES NOT FIT, so there is no order to give.", name) << '\n';
  }
  out << evidence_text(finding, loaded.frame, loaded.contacts);
  if (finding.verdict == Verdict::buildable) {
    for (const planner::TightStep& step : tight_steps_of(loaded, finding)) {
      out << noted(tight_step_text(step, loaded.frame.units));
    }
  }
  for (const std::string& note : finding.notes) out << noted(note);
  if (options.stats) {
    const planner::Order::Stats& stats = finding.order.stats;
    fmt::print(out, "{}\n",
               say("Work: {0}, {1}, {2}.", say_n(stats.moves_tried, "{} move tried", "{} moves tried"),
                   say_n(stats.clearance_tests, "{} clearance test", "{} clearance tests"),
                   say_n(stats.parts_visited, "{} part visited", "{} parts visited")));
    if (finding.verdict == Verdict::buildable) {
      fmt::print(out, "{}\n",
                 say("Search: {0} looked at, {1} met again; effort score at least {2}, found {3}.",
                     say_n(plan.best.effort.states, "{} state", "{} states"), plan.best.effort.cache_hits,
                     decimal(plan.best.effort.lower_bound, 0), decimal(plan.best.effort.value, 0)));
    }
  }
}

/// From what stands there, instead of from the bare parts.
int give_now(const LoadedFrame& loaded, const Finding& finding, const OrderCall& options, const Streams& streams) {
  const NowAnswer answer = now_answer(loaded, finding, options.now, options.plan.people, streams);
  if (options.json) {
    Json document = envelope("order", loaded.frame, word_for(finding.verdict));
    add_now(document, loaded, finding, options.now, answer);
    add_evidence(document, finding, loaded.frame, loaded.contacts);
    print(streams.out, with_inches(document, lengths_asked()));
  } else {
    print_now(loaded, finding, options.now, answer, streams.out);
    for (const std::string& note : finding.notes) streams.out << noted(note);
  }
  // What has to come off is a "no", unless it was asked for.
  return answer.undo.empty() || !options.now.replace.empty() ? finding.code : kNo;
}

/// Through a door, or apart.
int give_door(const LoadedFrame& loaded, const Finding& finding, const OrderCall& options, const Streams& streams) {
  const DoorAnswer answer = door_answer(loaded, finding, options.door, options.now.built, options.plan.people, streams);
  if (options.json) {
    Json document = envelope("order", loaded.frame, word_for(finding.verdict));
    add_door(document, loaded, finding, answer);
    add_evidence(document, finding, loaded.frame, loaded.contacts);
    print(streams.out, with_inches(document, lengths_asked()));
  } else {
    print_door(loaded, finding, answer, streams.out);
    for (const std::string& note : finding.notes) streams.out << noted(note);
  }
  // What has to come off before it can be carried is a "no", unless it was asked for.
  const bool yes = answer.too_large().empty() && answer.carry.undo.empty();
  return yes ? finding.code : worse(finding.code, kNo);
}

/// What the frame has not is refused before anything is planned.
void check_asked(const LoadedFrame& loaded, const OrderCall& options, const Streams& streams) {
  static_cast<void>(parts_named(loaded, options.now.replace, "--replace"));
  static_cast<void>(parts_named(loaded, options.now.without, "--without"));
  if (!options.door.carry.empty()) static_cast<void>(opening_said(options.door.carry, loaded.frame.units));
  check_names(loaded, options.now.built, streams);
}

int give_order(const OrderCall& options, const Streams& streams) {
  const LoadedFrame loaded = load_frame(options.frame, streams);
  check_asked(loaded, options, streams);
  OrderOptions wanted = options.plan;
  wanted.working = streams.working;
  if (options.laid) wanted.pose = planner::PosePreference::laid;
  if (options.standing) wanted.pose = planner::PosePreference::standing;
  PlannedOrder planned = planned_order(loaded, wanted);
  Finding& finding = planned.finding;
  if (options.door.any() && finding.verdict == Verdict::buildable) return give_door(loaded, finding, options, streams);
  if (options.now.any() && finding.verdict == Verdict::buildable) return give_now(loaded, finding, options, streams);
  look_for_cures(finding, loaded, streams.working);
  EarlyInOrder early;
  if (finding.verdict == Verdict::buildable) {
    const LongWork work(streams.working, marked("checking what is easy to forget"), marked("parts"));
    early = early_in_order(loaded.frame, loaded.contacts, finding.order.steps, streams.working,
                           options.no_prices ? ForgettingPrices::left_out : ForgettingPrices::counted);
    if (streams.working->interrupted()) {
      finding.notes.insert(finding.notes.begin(),
                           say("Interrupted: not for every part the joints to undo were counted."));
    }
  }
  StopPlan stops;
  if (finding.verdict == Verdict::buildable) {
    stops = planned_stops(loaded.frame, loaded.contacts, planned.plan, options.plan.stops);
  }
  if (options.json) {
    print_json(loaded, finding, planned.plan, early, stops, options, streams.out);
  } else {
    print_text(loaded, finding, planned.plan, early, stops, options, streams.out);
  }
  return stops.enough() ? finding.code : worse(finding.code, kNo);
}

}  // namespace

Job set_up_order(OptionList& list) {
  const auto options = std::make_shared<OrderCall>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  const Option& json = list.flag("--json", options->json, "one JSON document instead of text");
  list.flag("--no-prices", options->no_prices,
            "with --json: do not count what forgetting a part costs, which takes longest")
      .needs(json);
  list.flag("--stats", options->stats, "also say how long the search was");
  list.value("--people", options->plan.people, "how many people build; with 1 nobody helps to lift")
      .range(1, 20)
      .show_default();
  list.value("--seconds", options->plan.seconds,
             "search on for about so many seconds when the first round proves nothing")
      .range(0.0, 86400.0);
  const Option& laid = list.flag("--laid", options->laid, "rather build it lying down");
  list.flag("--standing", options->standing, "rather build it standing up").excludes(laid);
  add_units_option(list);
  const Option& built =
      list.value("--built", options->now.built,
                 "go on from what is done: the first K steps, a steps file, or by name: \"P3 in C2, S1 on\"")
          .for_example("12");
  const Option& replace =
      list.value("--replace", options->now.replace, "what must come off to get these parts out, and the way back")
          .list()
          .for_example("P3");
  const Option& without =
      list.value("--without", options->now.without, "what can be done while these parts are missing")
          .list()
          .for_example("P3")
          .excludes(replace);
  const Option& carry =
      list.value(
              "--carry", options->door.carry,
              "what is carried through a door fits through it, the rest is done on the spot: WIDTHxHEIGHT, or three edges")
          .for_example("30x78")
          .excludes(replace)
          .excludes(without);
  const Option& down =
      list.flag("--down", options->door.down, "how to take it apart; with --carry until it fits through")
          .excludes(replace)
          .excludes(without);
  list.value("--stops", options->plan.stops, "so many good places to stop at for the night")
      .range(1, 20)
      .excludes(built)
      .excludes(replace)
      .excludes(without)
      .excludes(carry)
      .excludes(down);
  list.flag("--explain", options->plan.explain, "say for every step why it comes now");
  return [options](const Streams& streams) { return give_order(*options, streams); };
}

}  // namespace dryfit::cli

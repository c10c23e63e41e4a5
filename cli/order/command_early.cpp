#include "cli/order/command_early.hpp"

#include <fmt/ostream.h>

#include <algorithm>
#include <memory>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/call/declare.hpp"
#include "cli/check/as_built.hpp"
#include "cli/check/cure_report.hpp"
#include "cli/check/evidence.hpp"
#include "cli/check/margin_report.hpp"
#include "cli/early/early_report.hpp"
#include "cli/early/forgiving_report.hpp"
#include "cli/early/hair_report.hpp"
#include "cli/early/half_built_report.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/input/given_steps.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/io/working.hpp"
#include "cli/json/inch_fields.hpp"
#include "cli/json/json_answer.hpp"
#include "cli/order/planned_order.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "cli/words/search_end.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "model/text/nearest.hpp"
#include "planner/early/lockout.hpp"

namespace dryfit::cli {
namespace {

struct EarlyCall {
  std::string frame;
  std::string order;
  std::string part;
  int built = -1;
  bool all = false;
  bool json = false;
  long long budget = 40000;
  int builders = 0;
};

/// The steps that the answer is about: somebody's own, or those that `order` prints. `most`: only so many have to be
/// legal, and only so many are returned; -1: all, and then they have to make every contact.
std::vector<planner::GivenStep> steps_for(const LoadedFrame& loaded, const Finding& finding, const EarlyCall& options,
                                          const Streams& streams) {
  std::vector<planner::GivenStep> steps;
  if (options.order.empty()) {
    steps = as_given(finding.order.steps);
  } else {
    steps = read_steps(read_text(options.order, streams.in), options.order, loaded.frame, loaded.contacts);
  }
  if (options.built < 0) {
    if (options.order.empty()) return steps;
    model::Message reason;
    const auto judged = planner::replay(loaded.frame, loaded.contacts, steps, false, &reason);
    if (judged.legal) return steps;
    const bool of_a_step = at(judged.first_bad_step) <= steps.size();
    const std::string told = of_a_step ? say("step {}: {}", judged.first_bad_step, said(reason)) : said(reason);
    throw UsageError(say("{}: no legal order: {}; ask for what it makes until then with --built {}", options.order,
                         told, std::max(0, judged.first_bad_step - 1)));
  }
  if (at(options.built) > steps.size()) {
    throw UsageError(say("--built {}: the order has {} steps", options.built, steps.size()));
  }
  steps.resize(at(options.built));
  planner::MoveJudge judge(loaded.frame, loaded.contacts);
  std::vector<char> made(loaded.contacts.contacts.size(), 0);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    for (const planner::ContactId c : steps[i].contacts) made[at(c)] = 1;
    model::Message why;
    if (!judge.can_undo(made, steps[i], why)) {
      throw UsageError(say("{}: step {} cannot be made: {}", options.order, i + 1, said(why)));
    }
  }
  return steps;
}

Ended ended_by(const Streams& streams, bool proven) {
  if (streams.working->interrupted()) return Ended::interrupted;
  return proven ? Ended::proof : Ended::budget;
}

void print_end(Ended ended, const EarlyCall& options, std::ostream& out) {
  const std::string end = end_sentence(ended, options.budget, marked("undo steps a part"));
  if (!end.empty()) fmt::print(out, "{}\n", end);
}

int give_half_built(const LoadedFrame& loaded, const EarlyCall& options, const std::vector<planner::GivenStep>& steps,
                    const Streams& streams) {
  std::vector<char> made(loaded.contacts.contacts.size(), 0);
  for (const planner::GivenStep& step : steps) {
    for (const planner::ContactId c : step.contacts) made[at(c)] = 1;
  }
  planner::Undoer undoer(loaded.frame, loaded.contacts);
  std::vector<HalfBuiltPart> parts;
  {
    const LongWork work(streams.working, marked("checking what is locked out"), marked("parts"));
    parts = half_built_parts(undoer, made, options.budget, streams.working);
  }
  const bool fine = can_be_finished(parts);
  const Ended ended = ended_by(streams, std::all_of(parts.begin(), parts.end(), [](const HalfBuiltPart& part) {
                                 return !part.now.closed || part.price.proven();
                               }));
  if (options.json) {
    Json document = envelope("early", loaded.frame, fine ? "open" : "closed");
    document["built"] = options.built;
    document["ended_by"] = word_for(ended);
    document["parts"] = half_built_json(loaded.frame, loaded.contacts, parts);
    print(streams.out, with_inches(document, lengths_asked()));
  } else {
    print_half_built(loaded.frame, loaded.contacts, options.built, parts, streams.out);
    print_end(ended, options, streams.out);
  }
  return fine ? kYes : kNo;
}

/// The parts that the answer is about.
std::vector<planner::NamedPart> parts_for(const LoadedFrame& loaded, const EarlyCall& options) {
  std::vector<planner::NamedPart> parts = planner::named_parts(loaded.frame, loaded.contacts);
  if (options.part.empty()) return parts;
  std::vector<std::string> labels;
  for (planner::NamedPart& part : parts) {
    if (part.label == options.part) return {std::move(part)};
    labels.push_back(part.label);
  }
  const auto near = model::nearest_word(options.part, labels);
  throw UsageError(say("--part: there is no part '{}' in {}{}", options.part, loaded.frame.name,
                       near ? say("; did you mean '{}'?", *near) : std::string()));
}

/// With somebody's own order there is no need to look for the best one.
Finding verdict_on(const LoadedFrame& loaded, const EarlyCall& options, Working* working) {
  OrderOptions wanted;
  wanted.working = working;
  if (options.order.empty()) return planned_order(loaded, wanted).finding;
  return find_out(loaded.frame, loaded.contacts);
}

int refuse(const LoadedFrame& loaded, Finding& finding, const EarlyCall& options, const Streams& streams) {
  std::ostream& out = streams.out;
  look_for_cures(finding, loaded, streams.working);
  if (options.json) {
    Json document = envelope("early", loaded.frame, word_for(finding.verdict));
    add_evidence(document, finding, loaded.frame, loaded.contacts);
    print(out, with_inches(document, lengths_asked()));
  } else {
    fmt::print(out, "{}\n",
               finding.verdict == Verdict::locked
                   ? say("{}: LOCKED. There is no order in which it can be put together.", loaded.frame.name)
                   : say("{}: DOES NOT FIT, so there is no order to speak of.", loaded.frame.name));
    out << evidence_text(finding, loaded.frame, loaded.contacts);
  }
  return finding.code;
}

/// Cures for the worst traps, a few of each.
std::vector<planner::TrapCure> cures_of(const LoadedFrame& loaded, const EarlyReport& report, Working* working) {
  const LongWork work(working, marked("looking for cures"), marked("designs tried"), true);
  planner::CureLimits limits;
  limits.foreman = working;
  constexpr std::size_t kWorst = 3, kEach = 2;
  constexpr int kWorthIt = 2;
  std::vector<planner::TrapCure> cures;
  std::size_t boards = 0, others = 0;
  for (const std::size_t i : planner::traps_worst_first(report.parts)) {
    const planner::EarlyPart& early = report.parts[i];
    std::size_t& asked = early.part.board ? boards : others;  // the worst of either
    if (!early.last_call.unnoticed() || early.price.at_least() < kWorthIt || asked == kWorst) continue;
    ++asked;
    std::vector<planner::ContactId> near = early.part.contacts;
    near.insert(near.end(), early.price.comes_off.begin(), early.price.comes_off.end());
    auto found = planner::cures_for_trap(loaded.frame, loaded.contacts, loaded.text, early.part.label,
                                         early.price.at_least(), near, limits);
    if (found.size() > kEach) found.resize(kEach);
    cures.insert(cures.end(), found.begin(), found.end());
  }
  return cures;
}

/// Once it is interrupted, what is left gets bounds found without a search.
void price_parts(EarlyReport& report, planner::Undoer& undoer, const std::vector<planner::NamedPart>& parts,
                 const planner::StepContacts& made_by, planner::EarlyBudget budget, Working* working) {
  const LongWork work(working, marked("checking what is easy to forget"), marked("parts"));
  budget.most_lockouts = 0;  // asked for afterwards, if at all
  for (const planner::NamedPart& part : parts) {
    const auto done = static_cast<long long>(report.parts.size());
    if (!planner::may_go_on(working, done, static_cast<long long>(parts.size()))) budget.price = 1;
    report.parts.push_back(planner::early_facts(undoer, part, made_by, budget));
  }
}

/// The sets that lock a part out. They come after the prices, which of equal ways tell the one that the undoer comes
/// upon first: so prices are told alike by who asks for these and who does not.
void look_for_lockouts(EarlyReport& report, planner::Undoer& undoer, const planner::EarlyBudget& budget,
                       Working* working) {
  const LongWork work(working, marked("checking what is easy to forget"), marked("parts"));
  long long done = 0;
  for (planner::EarlyPart& early : report.parts) {
    if (!planner::may_go_on(working, done++, static_cast<long long>(report.parts.size()))) return;
    early.lockouts = planner::lockouts_of(undoer, early.part.contacts, budget.most_lockouts, budget.widest_lockout,
                                          budget.lockouts, budget.known);
  }
}

/// Steps that a hair decides about; and to each part the last calls with a hair less and more room.
std::vector<planner::TightStep> look_for_hairs(EarlyReport& report, const std::vector<planner::GivenStep>& steps,
                                               const planner::StepContacts& made_by, Working* working) {
  if (report.list.contacts.size() > kMostAskedOfHairs) return {};
  std::vector<planner::TightStep> tight = planner::tight_steps(report.frame, report.list, steps);
  const LongWork work(working, marked("looking for close calls"), marked("parts"));
  planner::HairCalls again(report.frame, report.list, made_by, tight.empty());
  long long done = 0;
  for (planner::EarlyPart& early : report.parts) {
    if (!planner::may_go_on(working, done++, static_cast<long long>(report.parts.size()))) break;
    if (!early.part.contacts.empty()) early.hair = again.of(early.part.contacts, early.last_call);
  }
  return tight;
}

int give_early(const EarlyCall& options, const Streams& streams) {
  const LoadedFrame drawn = load_frame(options.frame, streams);
  Finding finding = verdict_on(drawn, options, streams.working);
  if (finding.verdict != Verdict::buildable) return refuse(drawn, finding, options, streams);
  const LoadedFrame loaded = as_built(drawn, finding);
  const std::vector<planner::GivenStep> steps = steps_for(loaded, finding, options, streams);
  if (options.built >= 0) return give_half_built(loaded, options, steps, streams);

  planner::StepContacts made_by;
  for (const planner::GivenStep& step : steps) made_by.push_back(step.contacts);
  planner::Undoer undoer(loaded.frame, loaded.contacts);
  EarlyReport report{loaded.frame, loaded.contacts, {}, planner::precedence_of(undoer)};
  planner::EarlyBudget budget;
  budget.price = options.budget;
  budget.lockouts = options.budget / 4;
  const planner::RefusalMemory known = planner::refusals_when_whole(undoer);
  budget.known = &known;
  budget.knots = std::make_shared<planner::Knots>(loaded.contacts.contacts.size());
  price_parts(report, undoer, parts_for(loaded, options), made_by, budget, streams.working);
  // Told in the story of one part and in the document; the list of all parts tells last calls.
  if (options.json || !options.part.empty()) look_for_lockouts(report, undoer, budget, streams.working);
  const std::vector<planner::TightStep> tight = look_for_hairs(report, steps, made_by, streams.working);
  const std::vector<planner::TrapCure> cures = cures_of(loaded, report, streams.working);
  const bool whole = options.part.empty();
  Forgiving forgiving;
  // How many orders there are, and who gets stuck, helps nobody to build: only who asks is told.
  const bool counted = whole && (options.json || options.all || options.builders > 0);
  if (counted) {
    const LongWork work(streams.working, marked("counting orders"), marked("tried"), true);
    forgiving = how_forgiving(undoer, options.builders, streams.working);
  }
  const Ended ended =
      ended_by(streams, std::all_of(report.parts.begin(), report.parts.end(), [](const planner::EarlyPart& early) {
                 return early.depth.proven() && early.price.proven();
               }));
  if (options.json) {
    Json document = envelope("early", loaded.frame, word_for(finding.verdict));
    Json parts = Json::array(), traps = Json::array();
    for (const planner::EarlyPart& early : report.parts) parts.push_back(early_part_json(report, early));
    for (const std::size_t i : planner::traps_worst_first(report.parts)) traps.push_back(report.parts[i].part.label);
    document["ended_by"] = word_for(ended);
    document["parts"] = std::move(parts);
    document["traps"] = std::move(traps);
    document["tight_steps"] = tight_steps_json(tight);
    document["trap_cures"] = trap_cures_json(loaded.frame, cures);
    add_relation(document, report.precedence, loaded.contacts);
    if (whole) add_forgiving(document, loaded.contacts, forgiving);
    print(streams.out, with_inches(document, lengths_asked()));
  } else if (!whole) {
    print_story(report, report.parts.front(), streams.out);
    streams.out << trap_cures_text(loaded.frame, cures);
    print_end(ended, options, streams.out);
  } else {
    print_early(report, options.all, streams.out);
    for (const planner::TightStep& step : tight) {
      fmt::print(streams.out, "{}\n", wrapped(tight_step_text(step, loaded.frame.units), 0));
    }
    streams.out << trap_cures_text(loaded.frame, cures);
    if (options.all) print_links(report, streams.out);
    if (counted) print_forgiving(loaded.frame, loaded.contacts, forgiving, streams.out);
    print_end(ended, options, streams.out);
  }
  return kYes;
}

}  // namespace

Job set_up_early(OptionList& list) {
  const auto options = std::make_shared<EarlyCall>();
  list.value("FRAME", options->frame, "the frame file; - for standard input").required();
  list.value("--part", options->part, "all about this one part");
  list.value("--order", options->order, "your own order, as `dryfit order --json` prints it, instead of the program's");
  list.value("--built", options->built, "only the first K steps are done: what is left, what is locked out?")
      .not_negative();
  list.flag("--all", options->all, "every trap, with all that locks it out");
  list.value("--budget", options->budget, "moves to try, per part, before the cost is told as at least and at most")
      .positive();
  list.value("--builders", options->builders, "how many builders who never plan ahead to try it with")
      .range(1, 1'000'000);
  add_units_option(list);
  list.flag("--json", options->json, "one JSON document instead of text");
  return [options](const Streams& streams) { return give_early(*options, streams); };
}

}  // namespace dryfit::cli

#include "cli/change/change_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <stdexcept>

#include "cli/check/as_built.hpp"
#include "cli/check/headline.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/io/log.hpp"
#include "cli/io/text_file.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/io/working.hpp"
#include "cli/sentences/undo_text.hpp"
#include "cli/words/said.hpp"
#include "cli/words/say.hpp"
#include "model/editing/edit.hpp"
#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "planner/judge/replay.hpp"

namespace dryfit::cli {
namespace {

using planner::ChangePlan;

std::map<std::string, std::string> given_pairs(const std::vector<std::string>& pairs) {
  std::map<std::string, std::string> map;
  for (const std::string& p : pairs) {
    const auto equals = p.find('=');
    if (equals == std::string::npos || equals == 0 || equals + 1 == p.size()) {
      throw UsageError(say("--map {}: expected OLD=NEW", p));
    }
    if (!map.emplace(p.substr(0, equals), p.substr(equals + 1)).second) {
      throw UsageError(say("--map {}: '{}' is given twice", p, p.substr(0, equals)));
    }
  }
  return map;
}

void confirm(const ChangeAnswer& answer) {
  planner::MoveJudge old_judge(answer.old_stands.frame, answer.old_stands.contacts);
  std::vector<char> made = answer.built.made;
  std::string why;
  for (const planner::Move& move : answer.plan.undo) {
    const planner::Step step = undo_step(answer.old_design.frame, move, 0);
    if (!old_judge.can_undo(made, {step.action, step.contacts, {}}, &why)) {
      throw std::logic_error("an undo move that was found did not pass the check: " + why);
    }
    for (const planner::ContactId c : move.contacts) made[at(c)] = 0;
  }
  if (answer.plan.verdict == ChangePlan::Verdict::locked) return;
  planner::MoveJudge new_judge(answer.new_stands.frame, answer.new_stands.contacts);
  std::vector<char> now(answer.new_design.contacts.contacts.size(), 0);
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] != 0) now[at(answer.matching.kept_as[c])] = 1;
  }
  for (const planner::Step& step : answer.plan.then) {
    for (const planner::ContactId c : step.contacts) now[at(c)] = 1;
    if (!new_judge.can_undo(now, {step.action, step.contacts, step.moving}, &why)) {
      throw std::logic_error("a step that was found did not pass the check: " + why);
    }
  }
}

void check_call(const ChangeRequest& request) {
  if (request.frames.size() == 2 && !request.set.empty())
    throw UsageError(say("either a second frame or --set, not both"));
  if (request.frames.size() == 1 && request.set.empty()) throw UsageError(say("a second frame or --set is needed"));
  if (request.frames.size() > 2)
    throw UsageError(say("expected two frames, got {}; several go with --all", request.frames.size()));
  auto piped = std::count(request.frames.begin(), request.frames.end(), "-");
  piped += (request.built == "-" ? 1 : 0) + (request.order == "-" ? 1 : 0);
  if (piped > 1) throw UsageError(say("standard input can be read only once"));
}

}  // namespace

std::unique_ptr<ChangeAnswer> answer_change(const ChangeRequest& request, const Streams& streams) {
  check_call(request);
  auto answer = std::make_unique<ChangeAnswer>();
  answer->old_design = load_frame(request.frames[0], streams);
  answer->new_design =
      request.set.empty()
          ? load_frame(request.frames[1], streams)
          : loaded_from(with_settings(answer->old_design.text, request.set),
                        fmt::format("{} with {}", plain_name(request.frames[0]), fmt::join(request.set, ", ")));
  const LoadedFrame& from = answer->old_design;
  const LoadedFrame& to = answer->new_design;
  answer->found = find_out(to.frame, to.contacts);
  answer->fits = fits(answer->found);
  answer->old_stands = as_built(from);
  answer->new_stands = as_built(to, answer->found);
  answer->by_effort = request.by_effort;
  answer->set = request.set;
  answer->budget = request.budget;
  try {
    answer->matching =
        planner::match_designs(from.frame, from.contacts, to.frame, to.contacts, given_pairs(request.map));
  } catch (const std::invalid_argument& e) {
    throw UsageError(std::string("--map: ") + e.what());
  }
  const bool curve = request.built.empty() || request.curve;
  answer->built = built_state(from, request.built, request.order, curve, streams);
  answer->pieces = planner::compare_pieces(from.frame, to.frame, answer->matching);
  if (never_stood(answer->built)) return answer;
  const LoadedFrame& old_stands = answer->old_stands;
  const LoadedFrame& new_stands = answer->new_stands;
  planner::Changer changer(
      old_stands.frame, old_stands.contacts, new_stands.frame, new_stands.contacts, answer->matching,
      request.by_effort ? planner::ChangePrice::effort : planner::ChangePrice::moves, request.people);
  const long long budget = search_budget(request);
  {
    const LongWork work(streams.working, marked("working out the change"), marked("states"), true);
    answer->plan = changer.plan(answer->built.made, budget, streams.working);
    log_detail(fmt::format("change: {} of at most {} states searched", answer->plan.states, budget));
  }
  // Nobody builds what does not fit.
  if (!answer->fits) answer->plan.then.clear();
  confirm(*answer);
  count_as_made_up(to.frame, to.contacts, answer->plan.then);
  if (answer->plan.verdict == ChangePlan::Verdict::locked) return answer;
  planner::let_turn(from.contacts, answer->plan.kept, answer->matching);
  answer->pieces = planner::compare_pieces(from.frame, to.frame, answer->matching);
  answer->moved = planner::moved_pieces(from.frame, from.contacts, to.frame, answer->matching, answer->plan.kept);
  if (curve && answer->built.never_stood == nullptr) {
    const LongWork work(streams.working, marked("working out the change"), marked("steps"));
    answer->curve = planner::price_by_step(changer, from.contacts, answer->built.order, std::max(budget / 10, 1LL),
                                           streams.working);
  }
  if (streams.working->interrupted()) {
    answer->ended = Ended::interrupted;
  } else if (!answer->plan.price.proven() ||
             std::any_of(answer->curve.begin(), answer->curve.end(), [](const auto& p) { return !p.price.proven(); })) {
    answer->ended = Ended::budget;
  }
  return answer;
}

bool never_stood(const Built& built) { return built.never_stood != nullptr && built.made.empty(); }

bool fits(const Finding& finding) {
  const Verdict verdict = verdict_of(finding);
  return verdict != Verdict::open && verdict != Verdict::overlapping;
}

long long search_budget(const ChangeRequest& request) {
  // By effort every way of every move is priced, which takes several times as long.
  return std::max(request.budget / (request.by_effort ? 5 : 1), 1LL);
}

int exit_code_of(const ChangeAnswer& answer) {
  if (!answer.fits || never_stood(answer.built)) return kNo;
  switch (answer.plan.verdict) {
    case ChangePlan::Verdict::free: return kYes;
    case ChangePlan::Verdict::undecided: return kUndecided;
    default: return kNo;
  }
}

const char* verdict_word(const ChangePlan& plan) {
  switch (plan.verdict) {
    case ChangePlan::Verdict::free: return "free";
    case ChangePlan::Verdict::teardown: return "teardown";
    case ChangePlan::Verdict::locked: return "locked";
    case ChangePlan::Verdict::undecided: return "undecided";
  }
  return "";
}

std::pair<std::string, std::string> setting_of(const std::string& text) {
  const auto equals = text.find('=');
  if (equals == std::string::npos || equals == 0 || equals + 1 == text.size()) {
    throw UsageError(say("--set {}: expected PART.length=VALUE, for example P9.length=24", text));
  }
  return {text.substr(0, equals), text.substr(equals + 1)};
}

std::string with_settings(std::string text, const std::vector<std::string>& settings) {
  for (const std::string& s : settings) {
    const auto [target, value] = setting_of(s);
    try {
      text = model::with_values(text, target, value);
    } catch (const std::invalid_argument& e) {
      throw UsageError(fmt::format("--set {}: {}", s, said(e)));
    }
  }
  return text;
}

int last_free_step(const std::vector<planner::PriceAt>& curve) {
  int last = -1;
  for (const planner::PriceAt& p : curve) {
    if (p.moves > 0) break;
    last = p.built;
  }
  return last;
}

}  // namespace dryfit::cli

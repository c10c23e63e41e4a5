#include "cli/command_change.hpp"

#include <fmt/ostream.h>

#include <CLI/App.hpp>
#include <algorithm>
#include <charconv>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <optional>
#include <ostream>

#include "cli/change_compare.hpp"
#include "cli/exit_code.hpp"
#include "cli/finding.hpp"
#include "cli/frame_file.hpp"
#include "cli/given_steps.hpp"
#include "cli/text_file.hpp"
#include "cli/undo_text.hpp"
#include "cli/usage_error.hpp"
#include "cli/words.hpp"
#include "model/edit.hpp"
#include "model/reader.hpp"
#include "planner/change.hpp"

namespace dryfit::cli {
namespace {

using planner::ChangePlan;

struct Options {
  std::vector<std::string> frames;
  std::vector<std::string> set;
  std::vector<std::string> map;
  std::string built;
  std::string order;
  std::string by = "moves";
  bool all = false;
  bool json = false;
  long long budget = 20000;
};

/// Everything about one pair of designs that the outputs need.
struct Answer {
  const LoadedFrame& old_design;
  const LoadedFrame& new_design;
  planner::Matching matching;
  ChangePlan plan;
  planner::Pieces pieces;
  std::vector<planner::PriceAt> curve;  ///< empty when --built names one state
  std::string misfit;                   ///< why the new frame does not fit; empty when it does
};

std::string verdict_word(const ChangePlan& plan) {
  switch (plan.verdict) {
    case ChangePlan::Verdict::free: return "free";
    case ChangePlan::Verdict::teardown: return "teardown";
    case ChangePlan::Verdict::locked: return "locked";
    case ChangePlan::Verdict::undecided: return "undecided";
  }
  return "";
}

/// What keeps the new frame from standing at all, for people; empty when nothing does.
std::string misfit(const Finding& finding, const LoadedFrame& design) {
  if (!finding.overlaps.empty()) return evidence_text(finding, design.frame, design.contacts);
  if (finding.fit.state == planner::FitState::open) return "  A closure of the new frame is open: see `dryfit fit`.\n";
  return "";
}

int code_of(const ChangePlan& plan) {
  switch (plan.verdict) {
    case ChangePlan::Verdict::free: return kYes;
    case ChangePlan::Verdict::undecided: return kUndecided;
    default: return kNo;
  }
}

LoadedFrame loaded_from(const std::string& text, const std::string& name) {
  LoadedFrame loaded;
  loaded.frame = model::read_frame(text, name);
  loaded.contacts = planner::contacts_of(loaded.frame);
  return loaded;
}

/// "P9.length=24" as target and value.
std::pair<std::string, std::string> setting(const std::string& text) {
  const auto equals = text.find('=');
  if (equals == std::string::npos || equals == 0 || equals + 1 == text.size()) {
    throw UsageError(fmt::format("--set {}: expected PART.length=VALUE, for example P9.length=24", text));
  }
  return {text.substr(0, equals), text.substr(equals + 1)};
}

std::string with_settings(std::string text, const std::vector<std::string>& settings) {
  for (const std::string& s : settings) {
    const auto [target, value] = setting(s);
    try {
      text = model::with_value(text, target, value);
    } catch (const std::invalid_argument& e) {
      throw UsageError(fmt::format("--set {}: {}", s, e.what()));
    }
  }
  return text;
}

std::map<std::string, std::string> given_pairs(const std::vector<std::string>& pairs) {
  std::map<std::string, std::string> map;
  for (const std::string& p : pairs) {
    const auto equals = p.find('=');
    if (equals == std::string::npos) throw UsageError(fmt::format("--map {}: expected OLD=NEW", p));
    map[p.substr(0, equals)] = p.substr(equals + 1);
  }
  return map;
}

/// The contacts of each step of the order that the old frame is built by.
std::vector<std::vector<planner::ContactId>> order_of(const LoadedFrame& design, const std::string& file,
                                                      const Streams& streams) {
  std::vector<planner::GivenStep> given;
  if (file.empty()) {
    const Finding finding = find_out(design.frame, design.contacts);
    given = as_given(finding.order.steps);
  } else {
    given = read_steps(read_text(file, streams.in), file, design.frame, design.contacts);
  }
  std::vector<std::vector<planner::ContactId>> steps;
  for (const planner::GivenStep& step : given) steps.push_back(step.contacts);
  return steps;
}

/// What is made: all, the first K steps, or the steps of a file, which must be legal as far as they go.
std::vector<char> built_state(const LoadedFrame& design, const Options& options, const Streams& streams) {
  std::vector<char> made(design.contacts.contacts.size(), 1);
  if (options.built.empty()) return made;
  std::fill(made.begin(), made.end(), 0);
  int count = 0;
  const char* end = options.built.data() + options.built.size();
  const auto [stop, error] = std::from_chars(options.built.data(), end, count);
  if (error == std::errc() && stop == end) {
    const auto steps = order_of(design, options.order, streams);
    if (count < 0 || static_cast<std::size_t>(count) > steps.size()) {
      throw UsageError(fmt::format("--built {}: the order has {} steps", count, steps.size()));
    }
    for (int k = 0; k < count; ++k) {
      for (const planner::ContactId c : steps[static_cast<std::size_t>(k)]) made[static_cast<std::size_t>(c)] = 1;
    }
    return made;
  }
  const auto given = read_steps(read_text(options.built, streams.in), options.built, design.frame, design.contacts);
  planner::MoveJudge judge(design.frame, design.contacts);
  for (std::size_t i = 0; i < given.size(); ++i) {
    for (const planner::ContactId c : given[i].contacts) made[static_cast<std::size_t>(c)] = 1;
    std::string why;
    if (!judge.can_undo(made, given[i], &why)) {
      throw UsageError(fmt::format("{}: step {} cannot be done: {}", options.built, i + 1, why));
    }
  }
  return made;
}

/// Both halves of the plan by the judge that had no part in finding it.
void confirm(const Answer& answer, const std::vector<char>& built) {
  planner::MoveJudge old_judge(answer.old_design.frame, answer.old_design.contacts);
  std::vector<char> made = built;
  std::string why;
  for (const planner::Move& move : answer.plan.undo) {
    const planner::Step step = undo_step(answer.old_design.frame, move, 0);
    if (!old_judge.can_undo(made, {step.action, step.contacts, {}}, &why)) {
      throw std::logic_error("an undo move that was found did not pass the check: " + why);
    }
    for (const planner::ContactId c : move.contacts) made[static_cast<std::size_t>(c)] = 0;
  }
  if (answer.plan.verdict == ChangePlan::Verdict::locked) return;
  planner::MoveJudge new_judge(answer.new_design.frame, answer.new_design.contacts);
  std::vector<char> now(answer.new_design.contacts.contacts.size(), 0);
  for (std::size_t c = 0; c < made.size(); ++c) {
    if (made[c] != 0) now[static_cast<std::size_t>(answer.matching.kept_as[c])] = 1;
  }
  for (const planner::Step& step : answer.plan.then) {
    for (const planner::ContactId c : step.contacts) now[static_cast<std::size_t>(c)] = 1;
    if (!new_judge.can_undo(now, {step.action, step.contacts, step.moving}, &why)) {
      throw std::logic_error("a step that was found did not pass the check: " + why);
    }
  }
}

Json pieces_json(const model::Frame& frame, const std::vector<model::PartId>& parts) { return part_ids(frame, parts); }

void print_json(const Answer& a, std::ostream& out) {
  const model::Frame& of = a.old_design.frame;
  const model::Frame& nf = a.new_design.frame;
  Json document = envelope("change", of, verdict_word(a.plan));
  document["to"] = nf.name;
  document["fits"] = a.misfit.empty();
  Json undo = Json::array(), then = Json::array();
  int number = 0;
  for (const planner::Move& move : a.plan.undo) {
    undo.push_back(step_json(of, a.old_design.contacts, undo_step(of, move, ++number),
                             undo_words(of, a.old_design.contacts, move)));
  }
  const auto words = words_for(nf, a.new_design.contacts, a.plan.then);
  for (std::size_t i = 0; i < words.size(); ++i) {
    then.push_back(step_json(nf, a.new_design.contacts, a.plan.then[i], words[i]));
  }
  document["undo_moves"] = a.plan.price.at_most;
  document["undo_moves_at_least"] = a.plan.price.at_least;
  document["proven"] = a.plan.price.proven();
  document["undo"] = std::move(undo);
  document["then"] = std::move(then);
  if (a.plan.verdict == ChangePlan::Verdict::locked) document["knot"] = contact_ids(a.new_design.contacts, a.plan.knot);
  document["stays"] = contact_ids(a.old_design.contacts, a.plan.kept);
  document["remake"] = contact_ids(a.old_design.contacts, a.plan.remake);
  document["redrill"] = pieces_json(of, a.pieces.redrill);
  document["scrap"] = pieces_json(of, a.pieces.scrap);
  document["spare"] = pieces_json(of, a.pieces.spare);
  document["buy"] = pieces_json(nf, a.pieces.buy);
  Json reused = Json::array();
  for (const auto& [from, to] : a.pieces.reused) {
    reused.push_back(
        {{"from", of.parts[static_cast<std::size_t>(from)].id}, {"as", nf.parts[static_cast<std::size_t>(to)].id}});
  }
  document["used_again"] = std::move(reused);
  Json renamed = Json::array();
  for (std::size_t p = 0; p < a.matching.new_of_old.size(); ++p) {
    const model::PartId q = a.matching.new_of_old[p];
    if (q == model::kNone || nf.parts[static_cast<std::size_t>(q)].id == of.parts[p].id) continue;
    renamed.push_back({{"old", of.parts[p].id}, {"new", nf.parts[static_cast<std::size_t>(q)].id}});
  }
  document["renamed"] = std::move(renamed);
  Json curve = Json::array();
  for (const planner::PriceAt& p : a.curve) {
    Json point = {{"built", p.built}, {"undo_moves", p.undo_moves.at_most}};
    if (!p.undo_moves.proven()) point["undo_moves_at_least"] = p.undo_moves.at_least;
    curve.push_back(std::move(point));
  }
  document["price_by_step"] = std::move(curve);
  print(out, document);
}

std::string pieces_text(const char* what, const model::Frame& frame, const std::vector<model::PartId>& parts) {
  if (parts.empty()) return "";
  return fmt::format("{}: {}.\n", what, listed(labels_of(frame, parts)));
}

/// "Free up to step 6 ... decide before step 7", and where the price jumps.
std::string curve_text(const std::vector<planner::PriceAt>& curve) {
  if (curve.size() < 2) return "";
  int last_free = -1;
  for (const planner::PriceAt& p : curve) {
    if (p.undo_moves.at_most > 0) break;
    last_free = p.built;
  }
  std::string text;
  if (last_free == curve.back().built) return "The change is free at every step of the build.\n";
  text += last_free > 0 ? fmt::format("Free until step {} is done: decide before step {}.\n", last_free, last_free + 1)
                        : std::string("Decide before step 1: the first step already costs.\n");
  std::vector<std::string> jumps;
  for (std::size_t k = 1; k < curve.size(); ++k) {
    const auto more = static_cast<long long>(curve[k].undo_moves.at_most - curve[k - 1].undo_moves.at_most);
    if (more >= 2)
      jumps.push_back(fmt::format("step {} (from {} to {})", curve[k].built, curve[k - 1].undo_moves.at_most,
                                  curve[k].undo_moves.at_most));
  }
  if (!jumps.empty()) text += fmt::format("The price jumps with {}.\n", wrapped(listed(jumps), 2));
  return text;
}

void print_text(const Answer& a, std::ostream& out) {
  const model::Frame& of = a.old_design.frame;
  const model::Frame& nf = a.new_design.frame;
  const std::string title = of.name == nf.name ? of.name : fmt::format("{} into {}", of.name, nf.name);
  if (a.plan.verdict == ChangePlan::Verdict::locked) {
    std::vector<std::string> ids;
    for (const planner::ContactId c : a.plan.knot)
      ids.push_back(a.new_design.contacts.contacts[static_cast<std::size_t>(c)].id);
    fmt::print(out, "{}: the new frame is LOCKED, no order builds it.\n  These hold one another: {}.\n", title,
               wrapped(listed_briefly(ids, 12), 4));
    return;
  }
  if (!a.misfit.empty()) fmt::print(out, "{}: the new frame DOES NOT FIT.\n{}", title, a.misfit);
  if (a.plan.undo.empty()) {
    fmt::print(out, "{}: FREE, nothing has to come off.\n", title);
  } else {
    const auto moves = static_cast<long long>(a.plan.undo.size());
    fmt::print(out, "{}: {} to undo{}.\n\n", title, counted(moves, "move"),
               a.plan.price.proven() ? "" : fmt::format(", at least {:g}", a.plan.price.at_least));
    int number = 0;
    for (const planner::Move& move : a.plan.undo) {
      const StepWords words = undo_words(of, a.old_design.contacts, move);
      fmt::print(out, "  {:>2}. {}\n", ++number, wrapped(words.text, 6));
      for (const std::string& caution : words.cautions) fmt::print(out, "      ! {}\n", wrapped(caution, 8));
    }
  }
  if (!a.plan.then.empty()) {
    fmt::print(out, "\nThen, to the new frame:\n\n");
    const auto words = words_for(nf, a.new_design.contacts, a.plan.then);
    for (std::size_t i = 0; i < words.size(); ++i) {
      fmt::print(out, "  {:>2}. {}\n", i + 1, wrapped(words[i].text, 6));
      for (const std::string& caution : words[i].cautions) fmt::print(out, "      ! {}\n", wrapped(caution, 8));
    }
  }
  out << "\n";
  out << pieces_text("Drill anew", of, a.pieces.redrill) << pieces_text("Buy", nf, a.pieces.buy);
  for (const auto& [from, to] : a.pieces.reused) {
    fmt::print(out, "{} serves again as {}.\n", of.parts[static_cast<std::size_t>(from)].id,
               nf.parts[static_cast<std::size_t>(to)].id);
  }
  out << pieces_text("Spare", of, a.pieces.spare) << pieces_text("Scrap", of, a.pieces.scrap);
  out << curve_text(a.curve);
}

int price_change(const Options& options, const Streams& streams) {
  if (options.frames.size() == 2 && !options.set.empty()) throw UsageError("either a second frame or --set, not both");
  if (options.frames.size() == 1 && options.set.empty()) throw UsageError("a second frame or --set is needed");
  if (options.frames.size() > 2) throw UsageError("two frames, or several with --all");
  const std::string text = read_text(options.frames[0], streams.in);
  const LoadedFrame old_design = loaded_from(text, options.frames[0]);
  const LoadedFrame new_design = options.set.empty() ? load_frame(options.frames[1], streams)
                                                     : loaded_from(with_settings(text, options.set), options.frames[0]);
  const Finding found = find_out(new_design.frame, new_design.contacts);
  Answer answer{old_design, new_design, {}, {}, {}, {}, misfit(found, new_design)};
  try {
    answer.matching = planner::match_designs(old_design.frame, old_design.contacts, new_design.frame,
                                             new_design.contacts, given_pairs(options.map));
  } catch (const std::invalid_argument& e) {
    throw UsageError(std::string("--map: ") + e.what());
  }
  planner::Changer changer(old_design.frame, old_design.contacts, new_design.frame, new_design.contacts,
                           answer.matching);
  const auto by = options.by == "effort" ? planner::ChangePrice::effort : planner::ChangePrice::moves;
  const std::vector<char> built = built_state(old_design, options, streams);
  answer.plan = changer.plan(built, by, options.budget);
  answer.pieces = planner::compare_pieces(old_design.frame, new_design.frame, answer.matching);
  confirm(answer, built);
  if (options.built.empty() && answer.plan.verdict != ChangePlan::Verdict::locked) {
    answer.curve = planner::price_by_step(changer, old_design.contacts, order_of(old_design, options.order, streams),
                                          planner::ChangePrice::moves, options.budget / 10 + 1);
  }
  if (options.json) {
    print_json(answer, streams.out);
  } else {
    print_text(answer, streams.out);
  }
  return answer.misfit.empty() ? code_of(answer.plan) : kNo;
}

}  // namespace

Job set_up_change(CLI::App& app) {
  const auto options = std::make_shared<Options>();
  app.add_option("FRAMES", options->frames, "the old frame file and the new one; several with --all")->required();
  app.add_option(
      "--set", options->set,
      "change one value instead of naming a new file: P9.length=24; a range 12..36 prices each stock length in it");
  app.add_option("--map", options->map, "take the old part for this new one: OLD=NEW");
  app.add_option("--built", options->built, "what is built: the first K steps, or a steps file of what is really done");
  app.add_option("--order", options->order, "the order that was built by: a steps file");
  app.add_option("--by", options->by, "what to keep small")->check(CLI::IsMember({"moves", "effort"}));
  app.add_flag("--all", options->all, "set several designs side by side instead");
  app.add_flag("--json", options->json, "one JSON document instead of text");
  return [options](const Streams& streams) {
    if (options->all) return compare_designs(options->frames, options->json, streams);
    if (options->set.size() == 1 && options->set[0].find("..") != std::string::npos) {
      return sweep_length(options->frames, options->set[0], options->json, streams);
    }
    return price_change(*options, streams);
  };
}

}  // namespace dryfit::cli

#include "cli/check/fit_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "planner/fit/confidence.hpp"

namespace dryfit::cli {
namespace {

constexpr std::size_t kTurnsTold = 6;  ///< per closure or level; the whole frame's turns are told in full

Json vector_json(model::Vec3 v) { return {rounded(v.x), rounded(v.y), rounded(v.z)}; }

const model::Closure& closure_of(const model::Frame& frame, const planner::ClosureFit& fit) {
  return frame.closure(fit.closure);
}

/// A gap as a person says it: "0.25 in to the right and 0.1 in up"; "" for none.
std::string gap_text(model::Vec3 gap, const Lengths& lengths) {
  std::vector<std::string> words;
  const std::pair<double, std::pair<model::Direction, model::Direction>> axes[] = {
      {gap.x, {model::kRight, model::kLeft}},
      {gap.y, {model::kBack, model::kFront}},
      {gap.z, {model::kUp, model::kDown}}};
  for (const auto& [size, ways] : axes) {
    if (std::abs(size) < 0.05) continue;
    words.push_back(fmt::format("{} {}", lengths.fine(std::abs(size)), going(size > 0.0 ? ways.first : ways.second)));
  }
  return listed(words);
}

/// "12 in and 6 in with a coupling between".
std::string pieces_text(const std::vector<double>& pieces, const Lengths& lengths) {
  std::vector<std::string> words;
  for (const double piece : pieces) words.push_back(lengths(piece));
  if (pieces.size() == 1) return words.front();
  return say_n(static_cast<long long>(pieces.size()) - 1, "{1} with a coupling between",
               "{1} with {0} couplings between", listed(words));
}

std::string cure_text(const model::Frame& frame, const planner::Cure& cure, const Lengths& lengths) {
  std::vector<std::string> changes;
  for (const planner::PipeChange& change : cure.changes) {
    const std::string pipe = name_of(frame, change.pipe), pieces = pieces_text(change.pieces, lengths);
    const std::string was = lengths(frame.part(change.pipe).length);
    changes.push_back(change.pieces.size() > 1 ? say("{0} of {1}, instead of {2}", pipe, pieces, was)
                                               : say("{0} of {1} instead of {2}", pipe, pieces, was));
  }
  std::string text = listed(changes);
  if (cure.cut) text = say("no stock closes it; cut and threaded: {}", text);
  text = say("{0}; then it {1}", text, closes_in_words(cure.state));
  if (cure.state != planner::FitState::exact) text = say("{0}, {1} in all", text, turns_in_words(cure.turning));
  if (cure.still_open > 0) {
    text = say_n(cure.still_open, "{1}; {0} other closure stays open", "{1}; {0} other closures stay open", text);
  }
  return fmt::format("    - {}.\n", wrapped(text, 6, 90));
}

}  // namespace

Json turns_json(const model::Frame& frame, const std::vector<planner::JointTurn>& turns) {
  Json list = Json::array();
  for (const planner::JointTurn& turn : turns) {
    list.push_back({{"contact", model::joint_name(frame, turn.joint)}, {"turns", rounded(turn.turns)}});
  }
  return list;
}

namespace {

/// Names of the fields that rest on table rows from memory.
Json memory_fields(bool from_memory, std::vector<std::string> fields) {
  return from_memory ? Json(std::move(fields)) : Json::array();
}

Json cure_json(const model::Frame& frame, const planner::Cure& cure) {
  Json changes = Json::array();
  for (const planner::PipeChange& change : cure.changes) {
    Json pieces = Json::array();
    for (const double piece : change.pieces) pieces.push_back(rounded(piece));
    changes.push_back({{"instead_of", frame.part(change.pipe).id},
                       {"pieces_mm", std::move(pieces)},
                       {"made_up_mm", rounded(change.made_up)}});
  }
  return {{"changes", std::move(changes)},          {"pieces", cure.pieces()},
          {"couplings", cure.couplings()},          {"cut", cure.cut},
          {"state", planner::word_for(cure.state)}, {"turns", rounded(cure.turning)},
          {"still_open", cure.still_open},          {"left_mm", rounded(cure.left)}};
}

}  // namespace

Json closures_json(const model::Frame& frame, const planner::Fit& fit) {
  Json list = Json::array();
  for (const planner::ClosureFit& closure : fit.closures) {
    Json stock = Json::array();
    for (const planner::Cure& cure : closure.cures) stock.push_back(cure_json(frame, cure));
    list.push_back(
        {{"between", closure_of(frame, closure).between},
         {"gap_mm", vector_json(closure.gap)},
         {"state", planner::word_for(closure.state)},
         {"turns", turns_json(frame, closure.turns)},
         {"left_mm", vector_json(closure.left)},
         {"worst_mm",
          {rounded(closure.spread[0].worst), rounded(closure.spread[1].worst), rounded(closure.spread[2].worst)}},
         {"likely_mm",
          {rounded(closure.spread[0].likely), rounded(closure.spread[1].likely), rounded(closure.spread[2].likely)}},
         {"rests_on_memory", memory_fields(closure.from_memory, {"gap_mm", "left_mm"})},
         {"stock", std::move(stock)}});
  }
  return list;
}

Json levels_json(const model::Frame& frame, const planner::Fit& fit) {
  Json list = Json::array();
  for (const planner::LevelFit& level : fit.levels) {
    list.push_back({{"between", level.between},
                    {"gap_mm", rounded(level.gap)},
                    {"state", planner::word_for(level.state)},
                    {"turns", turns_json(frame, level.turns)},
                    {"left_mm", rounded(level.left)},
                    {"slope_mm_per_m", rounded(level.slope)},
                    {"slope_left_mm_per_m", rounded(level.slope_left)},
                    {"worst_mm", rounded(level.spread.worst)},
                    {"likely_mm", rounded(level.spread.likely)},
                    {"slope_worst_mm_per_m", rounded(level.slope_worst)},
                    {"slope_likely_mm_per_m", rounded(level.slope_likely)},
                    {"rests_on_memory", memory_fields(level.from_memory, {"gap_mm", "left_mm", "slope_mm_per_m",
                                                                          "slope_left_mm_per_m"})}});
  }
  return list;
}

std::string closes_in_words(planner::FitState state) {
  switch (state) {
    case planner::FitState::exact: return say("closes exactly");
    case planner::FitState::by_turning: return say("closes by turning");
    case planner::FitState::by_wrenching: return say("closes only by wrenching");
    case planner::FitState::open: break;
  }
  return say("closes not at all");
}

std::string turns_text(const model::Frame& frame, const std::vector<planner::JointTurn>& turns, std::size_t most) {
  std::vector<std::string> words;
  for (const planner::JointTurn& turn : turns) {
    if (turn.turns == 0.0) continue;
    const std::string joint = model::joint_name(frame, turn.joint), by = turns_in_words(std::abs(turn.turns));
    words.push_back(turn.turns > 0.0 ? say("{0} {1} deeper", joint, by) : say("{0} {1} back", joint, by));
  }
  return most == 0 ? listed(words) : listed_briefly(words, most);
}

std::vector<StepWords> words_with_turns(const model::Frame& frame, const planner::ContactList& list,
                                        const planner::Fit& fit, const std::vector<planner::Step>& steps) {
  std::vector<StepWords> words = words_for(frame, list, steps);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    std::vector<planner::JointTurn> made;
    for (const planner::JointTurn& turn : fit.turns) {
      const bool here = std::any_of(steps[i].contacts.begin(), steps[i].contacts.end(), [&](planner::ContactId c) {
        return list.contact(c).joint == turn.joint;
      });
      if (here && turn.turns != 0.0) made.push_back(turn);
    }
    if (made.empty()) continue;
    words[i].cautions.push_back(
        say("Then, so that the whole frame closes and stands level: {}.", turns_text(frame, made)));
  }
  return words;
}

const char* memory_mark(bool from_memory) { return from_memory ? "*" : ""; }

std::vector<std::string> measure_texts(const model::Frame& frame) {
  std::vector<std::string> out;
  for (const planner::WorthMeasuring& worth : planner::worth_measuring(frame)) {
    out.push_back(
        say("{0} in {1}: {2}", worth.size, kind_word(model::word_for(worth.kind)), translated({}, worth.what)));
  }
  return out;
}

std::string memory_footnote(const model::Frame& frame) {
  const std::vector<std::string> measure = measure_texts(frame);
  if (measure.empty()) return "";
  constexpr std::size_t kMost = 12;
  return say(
      "* Rests on dimensions from memory, which no published source confirms. Measure your fittings: type them as "
      "`measured` ({}).",
      listed_briefly(measure, kMost));
}

std::vector<std::string> fit_remarks(const model::Frame& frame, const planner::Fit& fit) {
  std::vector<std::string> out;
  if (!fit.proven) {
    out.push_back(
        say("Not proven: this frame has more joints than can be searched in full, so fewer turns may do as well."));
  }
  if (!fit.rechecked) {
    out.push_back(
        say("Placing the frame again did not confirm these turns: do not rely on them, and report this frame."));
  }
  if (fit.spare_leg != model::kNone) {
    const planner::LevelFit& leg = fit.levels[at(fit.spare_leg)];
    out.push_back(say("If you buy a spare nipple, buy it for the leg on {0}: its {1} threads stray most.",
                      name_of(frame, leg.part), leg.spread.threads));
  }
  return out;
}

std::string slope_text(double mm_per_m, const Lengths& lengths) {
  const std::string metric = say("{} mm per m", decimal(mm_per_m, 1));
  const std::string inch = say("{} in per ft", decimal(mm_per_m * 12.0 / 1000.0, 2));
  return lengths.show() == Lengths::Show::metric ? fmt::format("{}, {}", metric, inch)
                                                 : fmt::format("{}, {}", inch, metric);
}

std::string closures_text(const model::Frame& frame, const planner::Fit& fit, const Lengths& lengths) {
  std::string out;
  std::map<std::string, std::string> told;  // what closes it, and the closure where that was told
  for (const planner::ClosureFit& closure : fit.closures) {
    if (closure.state == planner::FitState::exact) continue;
    std::string cures;
    for (const planner::Cure& cure : closure.cures) cures += cure_text(frame, cure, lengths);
    const std::string where = listed(closure_of(frame, closure).between);
    out += closure_text(frame, closure, lengths);
    if (cures.empty()) continue;
    const auto [earlier, first] = told.emplace(cures, where);
    out += first ? "    " + say("What would close it:") + "\n" + cures
                 : "    " + wrapped(say("What closes {} closes it too.", earlier->second), 6) + "\n";
  }
  return out;
}

std::string closure_text(const model::Frame& frame, const planner::ClosureFit& closure, const Lengths& lengths) {
  const std::string where = listed(closure_of(frame, closure).between);
  const char* mark = memory_mark(closure.from_memory);
  std::string gap = gap_text(closure.gap, lengths);
  if (gap.empty()) gap = say("nothing");
  if (closure.state == planner::FitState::open) {
    std::string text = say("Between {0}: OPEN by {1}{2}.", where, gap, mark);
    if (closure.cures.empty()) {
      text += " " + say("No stock pieces were found that close it: other lengths, another fitting or a union with play "
                        "has to.");
    }
    return "  " + wrapped(text, 4) + "\n";
  }
  const std::string turns = turns_text(frame, closure.turns, kTurnsTold);
  std::string text = say("Between {0}: off by {1}{2}; {3}", where, gap, mark, closes_in_words(closure.state));
  if (!turns.empty()) text += ": " + turns;
  if (const std::string left = gap_text(closure.left, lengths);
      !left.empty() && closure.state != planner::FitState::exact) {
    text = say("{0}; leaves {1}", text, left);
  }
  return "  " + wrapped(text + ".", 4) + "\n";
}

std::string level_text(const model::Frame& frame, const planner::LevelFit& level, const Lengths& lengths) {
  const std::string& name = frame.part(level.part).label;
  std::vector<std::string> on(level.between.begin() + 1, level.between.end());
  if (level.surface != model::kNone) {
    for (std::string& id : on) id = surface_word(id);
  }
  std::string text = say("{0} on {1}", name, listed(on)) + ": ";
  if (std::abs(level.gap) <= planner::kExact && level.state == planner::FitState::exact) {
    text += say("level as drawn");
  } else {
    const std::string by = lengths.fine(std::abs(level.gap)) + memory_mark(level.from_memory);
    const std::string slope = slope_text(level.slope, lengths);
    text += level.surface == model::kNone ? say("out by {0}, {1}", by, slope)
            : level.gap > 0.0             ? say("too long by {0}, {1}", by, slope)
                                          : say("too short by {0}, {1}", by, slope);
    const std::string turns = turns_text(frame, level.turns, kTurnsTold);
    const std::string left = lengths.fine(std::abs(level.left)), slope_left = slope_text(level.slope_left, lengths);
    if (level.state == planner::FitState::open) {
      text = say("{}; turning does not mend it", text);
    } else if (!turns.empty()) {
      text = level.state == planner::FitState::by_wrenching
                 ? say("{0}; comes out only by wrenching: {1}, leaving {2} ({3})", text, turns, left, slope_left)
             : level.state == planner::FitState::by_turning
                 ? say("{0}; comes out by turning: {1}, leaving {2} ({3})", text, turns, left, slope_left)
                 : say("{0}; comes out exactly: {1}, leaving {2} ({3})", text, turns, left, slope_left);
    }
  }
  if (level.spread.threads > 0) {
    const auto put_out = [&](double mm, double slope) {
      return lengths.fine(mm) + (slope > 0.0 ? ", " + slope_text(slope, lengths) : "");
    };
    text = say("{0}; threads a turn off put it out by {1} at worst; likely {2}", text,
               put_out(level.spread.worst, level.slope_worst), put_out(level.spread.likely, level.slope_likely));
  }
  text += ".";
  return "  " + wrapped(text, 4) + "\n";
}

}  // namespace dryfit::cli

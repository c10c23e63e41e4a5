#include "cli/fit_report.hpp"

#include <fmt/format.h>

#include <cmath>
#include <map>
#include <nlohmann/json.hpp>

#include "cli/words.hpp"
#include "model/length.hpp"
#include "planner/confidence.hpp"

namespace dryfit::cli {
namespace {

constexpr std::size_t kTurnsTold = 6;  ///< per closure or level; the whole frame's turns are told in full

Json vector_json(model::Vec3 v) { return {rounded(v.x), rounded(v.y), rounded(v.z)}; }

const model::Closure& closure_of(const model::Frame& frame, const planner::ClosureFit& fit) {
  return frame.closures[static_cast<std::size_t>(fit.closure)];
}

/// A gap as a person says it: "0.25 in to the right and 0.1 in up".
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
  return words.empty() ? "nothing" : listed(words);
}

/// "12 in and 6 in with a coupling between".
std::string pieces_text(const std::vector<double>& pieces, const Lengths& lengths) {
  std::vector<std::string> words;
  for (const double piece : pieces) words.push_back(lengths(piece));
  if (pieces.size() == 1) return words.front();
  return fmt::format("{} with {} between", listed(words),
                     pieces.size() == 2 ? "a coupling" : fmt::format("{} couplings", pieces.size() - 1));
}

std::string cure_text(const model::Frame& frame, const planner::Cure& cure, const Lengths& lengths) {
  std::vector<std::string> changes;
  for (const planner::PipeChange& change : cure.changes) {
    changes.push_back(fmt::format("{} of {}{} instead of {}", name_of(frame, change.pipe),
                                  pieces_text(change.pieces, lengths), change.pieces.size() > 1 ? "," : "",
                                  lengths(frame.parts[static_cast<std::size_t>(change.pipe)].length)));
  }
  std::string text = fmt::format("{}{}; then it closes {}", cure.cut ? "no stock closes it; cut and threaded: " : "",
                                 listed(changes), state_in_words(cure.state));
  if (cure.state != planner::FitState::exact) text += ", " + turns_in_words(cure.turning) + " in all";
  if (cure.still_open > 0)
    text += "; " + counted(cure.still_open, "other closure stays", "other closures stay") + " open";
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
    changes.push_back({{"instead_of", frame.parts[static_cast<std::size_t>(change.pipe)].id},
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

std::string state_in_words(planner::FitState state) {
  switch (state) {
    case planner::FitState::exact: return "exactly";
    case planner::FitState::by_turning: return "by turning";
    case planner::FitState::by_wrenching: return "only by wrenching";
    case planner::FitState::open: break;
  }
  return "not at all";
}

std::string turns_text(const model::Frame& frame, const std::vector<planner::JointTurn>& turns, std::size_t most) {
  std::vector<std::string> words;
  for (const planner::JointTurn& turn : turns) {
    if (turn.turns == 0.0) continue;
    words.push_back(fmt::format("{} {} {}", model::joint_name(frame, turn.joint), turns_in_words(std::abs(turn.turns)),
                                turn.turns > 0.0 ? "deeper" : "back"));
  }
  return most == 0 ? listed(words) : listed_briefly(words, most);
}

const char* memory_mark(bool from_memory) { return from_memory ? "*" : ""; }

std::string memory_footnote(const model::Frame& frame) {
  const std::vector<std::string> measure = planner::worth_measuring(frame);
  if (measure.empty()) return "";
  constexpr std::size_t kMost = 12;
  return fmt::format(
      "* Rests on dimensions from memory, which no published source confirms. Measure your fittings: type them as "
      "`measured` ({}).",
      listed_briefly(measure, kMost));
}

std::vector<std::string> fit_remarks(const model::Frame& frame, const planner::Fit& fit) {
  std::vector<std::string> out;
  if (!fit.proven) {
    out.emplace_back(
        "Not proven: this frame has more joints than can be searched in full, so fewer turns may do as well.");
  }
  if (!fit.rechecked) {
    out.emplace_back(
        "Placing the frame again did not confirm these turns: do not rely on them, and report this frame.");
  }
  if (fit.spare_leg != model::kNone) {
    const planner::LevelFit& leg = fit.levels[static_cast<std::size_t>(fit.spare_leg)];
    out.push_back(fmt::format("If you buy a spare nipple, buy it for the leg on {}: its {} threads stray most.",
                              name_of(frame, leg.part), leg.spread.threads));
  }
  return out;
}

std::string slope_text(double mm_per_m, const Lengths& lengths) {
  const std::string metric = fmt::format("{:.1f} mm per m", mm_per_m);
  const std::string inch = fmt::format("{:.2f} in per ft", mm_per_m * 12.0 / 1000.0);
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
    out += first ? "    What would close it:\n" + cures
                 : "    " + wrapped(fmt::format("What closes {} closes it too.", earlier->second), 6) + "\n";
  }
  return out;
}

std::string closure_text(const model::Frame& frame, const planner::ClosureFit& closure, const Lengths& lengths) {
  const std::string where = listed(closure_of(frame, closure).between);
  const char* mark = memory_mark(closure.from_memory);
  if (closure.state == planner::FitState::open) {
    std::string text = fmt::format("Between {}: OPEN by {}{}.", where, gap_text(closure.gap, lengths), mark);
    if (closure.cures.empty()) text += " No stock pieces were found that close it";
    if (closure.cures.empty()) text += ": other lengths, another fitting or a union with play has to.";
    return "  " + wrapped(text, 4) + "\n";
  }
  const std::string turns = turns_text(frame, closure.turns, kTurnsTold);
  std::string text = fmt::format("Between {}: off by {}{}; closes {}{}", where, gap_text(closure.gap, lengths), mark,
                                 state_in_words(closure.state), turns.empty() ? "" : ": " + turns);
  if (const std::string left = gap_text(closure.left, lengths);
      left != "nothing" && closure.state != planner::FitState::exact) {
    text += fmt::format("; leaves {}", left);
  }
  return "  " + wrapped(text + ".", 4) + "\n";
}

std::string level_text(const model::Frame& frame, const planner::LevelFit& level, const Lengths& lengths) {
  const std::string& name = frame.parts[static_cast<std::size_t>(level.part)].label;
  std::vector<std::string> on(level.between.begin() + 1, level.between.end());
  std::string text = fmt::format("{} on {}: ", name, listed(on));
  if (std::abs(level.gap) <= planner::kExact && level.state == planner::FitState::exact) {
    text += "level as drawn";
  } else {
    const bool leg = level.surface != model::kNone;
    text += fmt::format("{} by {}{}, {}",
                        !leg              ? "out"
                        : level.gap > 0.0 ? "too long"
                                          : "too short",
                        lengths.fine(std::abs(level.gap)), memory_mark(level.from_memory),
                        slope_text(level.slope, lengths));
    const std::string turns = turns_text(frame, level.turns, kTurnsTold);
    if (level.state == planner::FitState::open) {
      text += "; turning does not mend it";
    } else if (!turns.empty()) {
      text += fmt::format("; comes out {}: {}, leaving {} ({})", state_in_words(level.state), turns,
                          lengths.fine(std::abs(level.left)), slope_text(level.slope_left, lengths));
    }
  }
  if (level.spread.threads > 0) {
    const auto put_out = [&](double mm, double slope) {
      return lengths.fine(mm) + (slope > 0.0 ? ", " + slope_text(slope, lengths) : "");
    };
    text +=
        fmt::format("; threads a turn off put it out by {} at worst; likely {}",
                    put_out(level.spread.worst, level.slope_worst), put_out(level.spread.likely, level.slope_likely));
  }
  text += ".";
  return "  " + wrapped(text, 4) + "\n";
}

}  // namespace dryfit::cli

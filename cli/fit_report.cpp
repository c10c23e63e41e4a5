#include "cli/fit_report.hpp"

#include <fmt/format.h>

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/words.hpp"
#include "model/length.hpp"

namespace dryfit::cli {
namespace {

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

std::string cure_text(const model::Frame& frame, const planner::Cure& cure, const Lengths& lengths) {
  std::vector<std::string> pieces;
  for (const double piece : cure.pieces) pieces.push_back(lengths(piece));
  const std::string with = cure.pieces.size() > 1
                               ? fmt::format("{} with {} between", listed(pieces),
                                             counted(static_cast<long long>(cure.pieces.size()) - 1, "coupling"))
                               : pieces.front();
  return fmt::format("    instead of {}: {}, then it closes {}\n", name_of(frame, cure.pipe), with,
                     state_in_words(cure.state));
}

}  // namespace

Json turns_json(const model::Frame& frame, const std::vector<planner::JointTurn>& turns) {
  Json list = Json::array();
  for (const planner::JointTurn& turn : turns) {
    list.push_back({{"contact", model::joint_name(frame, turn.joint)}, {"turns", rounded(turn.turns)}});
  }
  return list;
}

Json closures_json(const model::Frame& frame, const planner::Fit& fit) {
  Json list = Json::array();
  for (const planner::ClosureFit& closure : fit.closures) {
    Json stock = Json::array();
    for (const planner::Cure& cure : closure.cures) {
      Json pieces = Json::array();
      for (const double piece : cure.pieces) pieces.push_back(rounded(piece));
      stock.push_back({{"instead_of", frame.parts[static_cast<std::size_t>(cure.pipe)].id},
                       {"pieces_mm", std::move(pieces)},
                       {"made_up_mm", rounded(cure.made_up)},
                       {"state", planner::word_for(cure.state)},
                       {"left_mm", rounded(cure.left)}});
    }
    list.push_back({{"between", closure_of(frame, closure).between},
                    {"gap_mm", vector_json(closure.gap)},
                    {"state", planner::word_for(closure.state)},
                    {"turns", turns_json(frame, closure.turns)},
                    {"left_mm", vector_json(closure.left)},
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
                    {"likely_mm", rounded(level.spread.likely)}});
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

std::string turns_text(const model::Frame& frame, const std::vector<planner::JointTurn>& turns) {
  std::vector<std::string> words;
  for (const planner::JointTurn& turn : turns) {
    if (turn.turns == 0.0) continue;
    words.push_back(fmt::format("{} {} {}", model::joint_name(frame, turn.joint), turns_in_words(std::abs(turn.turns)),
                                turn.turns > 0.0 ? "deeper" : "back"));
  }
  return listed(words);
}

std::string closure_text(const model::Frame& frame, const planner::ClosureFit& closure, const Lengths& lengths) {
  const std::string where = listed(closure_of(frame, closure).between);
  if (closure.state == planner::FitState::open) {
    std::string text = fmt::format("  Between {}: OPEN by {}.\n", where, gap_text(closure.gap, lengths));
    for (const planner::Cure& cure : closure.cures) text += cure_text(frame, cure, lengths);
    return text;
  }
  const std::string turns = turns_text(frame, closure.turns);
  return fmt::format("  Between {}: off by {}; closes {}{}.\n", where, gap_text(closure.gap, lengths),
                     state_in_words(closure.state), turns.empty() ? "" : ": " + wrapped(turns, 4));
}

std::string level_text(const model::Frame& frame, const planner::LevelFit& level, const Lengths& lengths) {
  const std::string& name = frame.parts[static_cast<std::size_t>(level.part)].label;
  std::vector<std::string> on(level.between.begin() + 1, level.between.end());
  std::string text = fmt::format("  {} on {}: ", name, listed(on));
  if (level.state == planner::FitState::exact) {
    text += "level";
  } else {
    text += fmt::format("out by {} ({:.1f} mm per m, {:.2f} in per ft)", lengths.fine(level.gap), level.slope,
                        level.slope * 12.0 / 1000.0);
    const std::string turns = turns_text(frame, level.turns);
    text += fmt::format("; comes out {}{}", state_in_words(level.state), turns.empty() ? "" : ": " + turns);
  }
  if (level.spread.threads > 0) {
    text += fmt::format(". Threads may put it off by {} at worst, likely {}", lengths.fine(level.spread.worst),
                        lengths.fine(level.spread.likely));
  }
  return wrapped(text.substr(2), 4).insert(0, "  ") + ".\n";
}

}  // namespace dryfit::cli

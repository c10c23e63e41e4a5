#include "cli/cure_report.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include <nlohmann/json.hpp>

#include "cli/words.hpp"
#include "model/length.hpp"

namespace dryfit::cli {
namespace {

using planner::CureChange;
using planner::CureKind;
using planner::DesignCure;

std::string edge(model::Direction d) { return side(d); }

std::string place_text(const CureChange& change) {
  if (change.middle) return "in the middle";
  if (!change.fitting.empty()) return "next to " + change.fitting;
  return change.at_end ? "at its far end" : "at its near end";
}

std::string parted_text(const model::Frame& frame, const CureChange& change, const char* with) {
  const auto length = [&](double mm) { return model::in_units(mm, frame.units); };
  return fmt::format("put a {} in {}, {}: pieces of {} and {} instead of {}", with, change.part, place_text(change),
                     length(change.first), length(change.second), length(change.length));
}

/// What one change comes to, in a word or two: "a union in P7".
std::string short_text(const model::Frame& frame, const CureChange& change) {
  switch (change.kind) {
    case CureKind::unite:
    case CureKind::couple:
      return fmt::format("a {} in {}, {} (pieces of {} and {} instead of {}),", planner::word_for(change.kind),
                         change.part, place_text(change), model::in_units(change.first, frame.units),
                         model::in_units(change.second, frame.units), model::in_units(change.length, frame.units));
    case CureKind::slot:
      return fmt::format("{} to the {} edge in {} for {}", change.pipes.size() == 1 ? "a slot" : "slots",
                         edge(change.side), change.part, listed(change.pipes));
    case CureKind::flange:
      return fmt::format("a flange on the {} for {} instead of {}",
                         frame.surfaces[static_cast<std::size_t>(change.surface)].id, change.part, change.fitting);
    case CureKind::share:
      return fmt::format("threads shared by {} and {} on {}", change.other_fitting, change.fitting, change.part);
  }
  return "";
}

std::string capital(std::string text) {
  if (!text.empty() && text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text;
}

Json change_json(const model::Frame& frame, const CureChange& change) {
  Json json = {{"change", planner::word_for(change.kind)}, {"part", change.part}, {"contacts", change.contacts}};
  switch (change.kind) {
    case CureKind::unite:
    case CureKind::couple: json["pieces_mm"] = {rounded(change.first), rounded(change.second)}; break;
    case CureKind::slot:
      json["pipes"] = change.pipes;
      json["side"] = change.side.name();
      break;
    case CureKind::flange:
      json["instead_of"] = change.fitting;
      json["surface"] = frame.surfaces[static_cast<std::size_t>(change.surface)].id;
      json["pieces_mm"] = {rounded(change.first), rounded(change.second)};
      break;
    case CureKind::share:
      json["fittings"] = {change.other_fitting, change.fitting};
      json["length_mm"] = rounded(change.first);
      json["turns_kept"] = rounded(change.turns);
      json["hand_tight_turns"] = rounded(change.hand_turns);
      break;
  }
  return json;
}

Json cure_json(const model::Frame& frame, const DesignCure& cure) {
  std::string word;
  Json contacts = Json::array(), changes = Json::array();
  for (const CureChange& change : cure.changes) {
    word += (word.empty() ? "" : "+") + std::string(planner::word_for(change.kind));
    for (const std::string& id : change.contacts) contacts.push_back(id);
    changes.push_back(change_json(frame, change));
  }
  const std::string caution = cure.weaker ? " It stays loose: never where people climb, lean or hold on." : "";
  return {{"change", word},
          {"contacts", std::move(contacts)},
          {"text", capital(cure_text(frame, cure)) + "." + caution},
          {"cost", cure.cost},
          {"weaker", cure.weaker},
          {"steps", cure.steps},
          {"changes", std::move(changes)}};
}

}  // namespace

void look_for_cures(Finding& finding, const LoadedFrame& loaded, Working* working) {
  if (finding.verdict != "locked") return;
  const LongWork work(working, "looking for cures", "designs tried", true);
  planner::CureLimits limits;
  limits.foreman = working;
  finding.cures = planner::cures_for_knot(loaded.frame, loaded.contacts, loaded.text, finding.order.knot, limits);
  if (working != nullptr && working->interrupted()) {
    finding.notes.insert(finding.notes.begin(), "Interrupted: not every cure has been tried.");
  }
}

std::string change_text(const model::Frame& frame, const CureChange& change) {
  const auto length = [&](double mm) { return model::in_units(mm, frame.units); };
  switch (change.kind) {
    case CureKind::unite: return parted_text(frame, change, "union");
    case CureKind::couple: return parted_text(frame, change, "coupling");
    case CureKind::slot:
      return fmt::format("open the {} of {} for {} to {} toward the {} edge",
                         change.pipes.size() == 1 ? "hole" : "holes", change.part, listed(change.pipes),
                         change.pipes.size() == 1 ? "a slot" : "slots", edge(change.side));
    case CureKind::flange: {
      const std::string& surface = frame.surfaces[static_cast<std::size_t>(change.surface)].id;
      return fmt::format(
          "end {} short of {} on the {}: cut it to {}, then an elbow, a piece of {} and a flange on the {}; the "
          "opening of {} stays empty or gets a plug",
          change.part, change.fitting, surface, length(change.first), length(change.second), surface, change.fitting);
    }
    case CureKind::share:
      return fmt::format(
          "let {} share its threads between {} and {}: cut it to {}, screw it into {} as deep as it goes, and once {} "
          "is in its place back it out into {} until each holds {} (hand-tight would be {})",
          change.part, change.other_fitting, change.fitting, length(change.first), change.other_fitting, change.fitting,
          change.fitting, turns_in_words(change.turns), turns_in_words(change.hand_turns));
  }
  return "";
}

std::string cure_text(const model::Frame& frame, const DesignCure& cure) {
  std::string text;
  const bool unions =
      cure.changes.size() > 1 && std::all_of(cure.changes.begin(), cure.changes.end(),
                                             [](const CureChange& change) { return change.kind == CureKind::unite; });
  if (unions) {
    std::vector<std::string> pipes, pieces;
    for (const CureChange& change : cure.changes) {
      pipes.push_back(change.part);
      pieces.push_back(fmt::format("{} {}: pieces of {} and {} instead of {}", change.part, place_text(change),
                                   model::in_units(change.first, frame.units),
                                   model::in_units(change.second, frame.units),
                                   model::in_units(change.length, frame.units)));
    }
    return fmt::format("put a union in each of {} ({})", listed(pipes), fmt::join(pieces, "; "));
  }
  for (const CureChange& change : cure.changes) text += (text.empty() ? "" : "; and ") + change_text(frame, change);
  return text;
}

Json cures_json(const model::Frame& frame, const std::vector<DesignCure>& cures) {
  Json all = Json::array();
  for (const DesignCure& cure : cures) all.push_back(cure_json(frame, cure));
  return all;
}

Json trap_cures_json(const model::Frame& frame, const std::vector<planner::TrapCure>& cures) {
  Json all = Json::array();
  for (const planner::TrapCure& trap : cures) {
    Json json = cure_json(frame, trap.cure);
    json["part"] = trap.part;
    json["price_before"] = trap.before;
    json["price_after"] = trap.after;
    all.push_back(std::move(json));
  }
  return all;
}

std::string cures_text(const model::Frame& frame, const std::vector<DesignCure>& cures) {
  if (cures.empty()) return "No single small change that was tried, nor a few together, sets it free.\n";
  std::string text = "What would set it free, the cheapest first (each was planned again and can be built):\n";
  constexpr int kMostWeaker = 2;
  int weaker = 0;
  std::vector<std::string> alike;
  for (const DesignCure& cure : cures) {
    if (cure.weaker && ++weaker == 1) {
      text += "Weaker, with nothing to buy: a joint that stays loose, never where people climb, lean or hold on:\n";
    }
    if (weaker > kMostWeaker) {
      alike.push_back(cure.changes.front().part);
      continue;
    }
    text += fmt::format("  - {}.\n", wrapped(capital(cure_text(frame, cure)), 4));
  }
  if (!alike.empty()) text += fmt::format("  - Or {} in the same way.\n", wrapped(listed(alike, "or"), 4));
  return text;
}

std::string trap_cures_text(const model::Frame& frame, const std::vector<planner::TrapCure>& cures) {
  if (cures.empty()) return "";
  std::string text = "\nWhat would make the worst of them cheaper (each was planned again and can be built):\n";
  for (const planner::TrapCure& trap : cures) {
    std::string what;
    for (const CureChange& change : trap.cure.changes) {
      what += (what.empty() ? "" : " and ") + short_text(frame, change);
    }
    const bool many = trap.cure.changes.front().pipes.size() > 1;
    text += fmt::format(
        "  - {}.\n", wrapped(capital(fmt::format("{} {} the price of {} from {} to {}", what, many ? "bring" : "brings",
                                                 trap.part, trap.before, trap.after)),
                             4));
  }
  return text;
}

}  // namespace dryfit::cli

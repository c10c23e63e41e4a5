#include "cli/check/cure_report.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

#include "cli/check/cure_calls.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/text/typed_length.hpp"

namespace dryfit::cli {
namespace {

using planner::CureChange;
using planner::CureKind;
using planner::DesignCure;

std::string place_text(const CureChange& change) {
  if (change.middle) return say("in the middle");
  if (!change.fitting.empty()) return say("next to {}", change.fitting);
  return change.at_end ? say("at its far end") : say("at its near end");
}

/// "pieces of 9 in and 8-1/2 in instead of 18 in".
std::string pieces_text(const model::Frame& frame, const CureChange& change) {
  return say("pieces of {0} and {1} instead of {2}", length_text(change.first, frame.units),
             length_text(change.second, frame.units), length_text(change.length, frame.units));
}

const std::string& surface_of(const model::Frame& frame, const CureChange& change) {
  return frame.surface(change.surface).id;
}

/// From the edge to the far side of the farthest hole that becomes a slot, mm.
double slot_depth(const model::Frame& frame, const CureChange& change) {
  const model::Board& board = frame.board_of(frame.find(change.part));
  const int axis = change.side.axis();
  const double edge = change.side.unit()[axis] > 0.0 ? board.hi[axis] : board.lo[axis];
  double depth = 0.0;
  for (const model::Hole& hole : board.holes) {
    const std::string& pipe = frame.part(hole.pipe).label;
    if (std::find(change.pipes.begin(), change.pipes.end(), pipe) == change.pipes.end()) continue;
    depth = std::max(depth, std::abs(edge - hole.centre[axis]) + hole.diameter / 2.0);
  }
  return depth;
}

/// The openings of the board for these pipes are slots.
bool are_slots(const model::Frame& frame, const CureChange& change) {
  const model::Board& board = frame.board_of(frame.find(change.part));
  return std::all_of(board.holes.begin(), board.holes.end(), [&](const model::Hole& hole) {
    const std::string& pipe = frame.part(hole.pipe).label;
    return hole.notch || std::find(change.pipes.begin(), change.pipes.end(), pipe) == change.pipes.end();
  });
}

/// "make the hole of S1 for P3 1-1/2 in wide instead of 1-1/8 in".
std::string wider_text(const model::Frame& frame, const CureChange& change) {
  const std::string pipes = listed(change.pipes), now = length_text(change.width, frame.units),
                    was = length_text(change.length, frame.units);
  if (change.pipes.size() == 1) {
    return are_slots(frame, change)
               ? say("make the slot of {0} for {1} {2} wide instead of {3}", change.part, pipes, now, was)
               : say("make the hole of {0} for {1} {2} wide instead of {3}", change.part, pipes, now, was);
  }
  return are_slots(frame, change)
             ? say("make the slots of {0} for {1} {2} wide instead of {3}", change.part, pipes, now, was)
             : say("make the holes of {0} for {1} {2} wide instead of {3}", change.part, pipes, now, was);
}

/// A change that saves trouble with a part that is easy to forget, briefly.
std::string brief_change_text(const model::Frame& frame, const CureChange& change) {
  const std::string pipes = listed(change.pipes);
  switch (change.kind) {
    case CureKind::unite:
      return say("put a union in {0}, {1} ({2})", change.part, place_text(change), pieces_text(frame, change));
    case CureKind::couple:
      return say("put a coupling in {0}, {1} ({2})", change.part, place_text(change), pieces_text(frame, change));
    case CureKind::slot:
      return say("slot {0} {1} at {2} ({3} deep)", change.part, from_edge(change.side), pipes,
                 length_text(slot_depth(frame, change), frame.units));
    case CureKind::widen: return wider_text(frame, change);
    case CureKind::flange:
      return say("end {1} in a flange on {0} instead of in {2}", the_surface(surface_of(frame, change)), change.part,
                 change.fitting);
    case CureKind::drive: return say("use a right-angle driver for the screws of {}", pipes);
    case CureKind::share:
      return say("let {2} share its threads between {0} and {1}", change.other_fitting, change.fitting, change.part);
  }
  return "";
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
    case CureKind::widen:
      json["pipes"] = change.pipes;
      json["hole_mm"] = rounded(change.width);
      break;
    case CureKind::flange:
      json["instead_of"] = change.fitting;
      json["surface"] = frame.surface(change.surface).id;
      json["pieces_mm"] = {rounded(change.first), rounded(change.second)};
      break;
    case CureKind::drive:
      json["flanges"] = change.pipes;
      json["driver_mm"] = rounded(change.first);
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
  const std::string caution =
      cure.weaker ? " " + say("Both ends stay loose: never do this where people climb, lean or hold on.")
                  : std::string();
  return {{"change", word},
          {"contacts", std::move(contacts)},
          {"text", capitalized(cure_text(frame, cure)) + "." + caution},
          {"cost", cure.cost},
          {"weaker", cure.weaker},
          {"steps", cure.steps},
          {"changes", std::move(changes)},
          {"edit", call_for(frame, cure)}};
}

}  // namespace

void look_for_cures(Finding& finding, const LoadedFrame& loaded, Working* working) {
  if (finding.verdict != Verdict::locked) return;
  const LongWork work(working, marked("looking for cures"), marked("designs tried"), true);
  planner::CureLimits limits;
  limits.foreman = working;
  finding.cures = planner::cures_for_knot(loaded.frame, loaded.contacts, loaded.text, finding.order.knot, limits);
  if (working != nullptr && working->interrupted()) {
    finding.notes.insert(finding.notes.begin(), say("Interrupted: not every cure has been tried."));
  }
}

void look_for_closing(Finding& finding, const LoadedFrame& loaded, Working* working) {
  if (finding.fit.state != planner::FitState::open) return;
  const LongWork work(working, marked("looking for cures"), marked("designs tried"), true);
  planner::ClosureCureLimits limits;
  limits.foreman = working;
  planner::MendedFit mended = planner::fit_with_cures(loaded.frame, loaded.text, limits);
  // An end that came early may have left less than is known already.
  if (mended.fit.decided || !finding.fit.decided) finding.fit = std::move(mended.fit);
  finding.closing = std::move(mended.cures);
  if (working != nullptr && working->interrupted()) {
    finding.notes.insert(finding.notes.begin(), say("Interrupted: not every cure has been tried."));
  }
}

std::string change_text(const model::Frame& frame, const CureChange& change) {
  const auto length = [&](double mm) { return length_text(mm, frame.units); };
  const std::string pipes = listed(change.pipes);
  switch (change.kind) {
    case CureKind::unite:
      return say("put a union in {0}, {1}: {2}", change.part, place_text(change), pieces_text(frame, change));
    case CureKind::couple:
      return say("put a coupling in {0}, {1}: {2}", change.part, place_text(change), pieces_text(frame, change));
    case CureKind::slot:
      return change.pipes.size() == 1 ? say("open the hole of {0} for {1} to a slot toward the {2}, {3} deep",
                                            change.part, pipes, edge(change.side), length(slot_depth(frame, change)))
                                      : say("open the holes of {0} for {1} to slots toward the {2}, up to {3} deep",
                                            change.part, pipes, edge(change.side), length(slot_depth(frame, change)));
    case CureKind::widen: return wider_text(frame, change);
    case CureKind::flange:
      return say(
          "stop {0} short of {1}: cut it to {3}, add an elbow, a piece of {4} and a flange, and screw that "
          "to {2}; leave the opening of {1} empty, or plug it",
          change.part, change.fitting, the_surface(surface_of(frame, change)), length(change.first),
          length(change.second));
    case CureKind::drive:
      return say("drive the screws of {0} with a right-angle driver (`driver: {1}` in the file)", pipes,
                 model::typed_length(change.first, frame.units));
    case CureKind::share:
      return say(
          "let {0} share its threads between {1} and {2}: cut it to {3}, screw it into {1} as deep as it "
          "goes, and once {2} is in place, back it out into {2} until each end holds {4} (hand-tight would "
          "be {5})",
          change.part, change.other_fitting, change.fitting, length(change.first), turns_in_words(change.turns),
          turns_in_words(change.hand_turns));
  }
  return "";
}

std::string cure_text(const model::Frame& frame, const DesignCure& cure) {
  std::string text;
  const bool unions =
      cure.changes.size() > 1 && std::all_of(cure.changes.begin(), cure.changes.end(),
                                             [](const CureChange& change) { return change.kind == CureKind::unite; });
  if (unions) {
    std::vector<std::string> pipes, pieces, fittings;
    const std::string first = pieces_text(frame, cure.changes.front());
    bool alike = true;
    for (const CureChange& change : cure.changes) {
      pipes.push_back(change.part);
      fittings.push_back(change.fitting);
      alike = alike && !change.middle && !change.fitting.empty() && pieces_text(frame, change) == first;
      pieces.push_back(fmt::format("{} {}: {}", change.part, place_text(change), pieces_text(frame, change)));
    }
    if (alike) {
      return say("put a union in each of {0}, next to {1} ({2})", listed(pipes), listed(fittings), first);
    }
    return say("put a union in each of {0} ({1})", listed(pipes), fmt::format("{}", fmt::join(pieces, "; ")));
  }
  for (const CureChange& change : cure.changes) {
    text = text.empty() ? change_text(frame, change) : say("{0}; and {1}", text, change_text(frame, change));
  }
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
  if (cures.empty())
    return say("None of the small changes that were tried makes it buildable, not even several together.") + "\n";
  std::string text = say("What would make it buildable, the simplest first:") + "\n";
  constexpr int kMost = 6, kMostWeaker = 2;  // more are no help to who reads; --json has them all
  int weaker = 0, strong = 0;
  const auto all_strong =
      std::count_if(cures.begin(), cures.end(), [](const DesignCure& cure) { return !cure.weaker; });
  std::vector<std::string> alike;
  for (const DesignCure& cure : cures) {
    if (!cure.weaker && ++strong > kMost) {
      if (strong == kMost + 1) {
        text += "  " + say("and {} more (--json lists them all).", all_strong - kMost) + "\n";
      }
      continue;
    }
    if (cure.weaker && ++weaker == 1) {
      text +=
          wrapped(say("Weaker: no fitting to buy, but it takes a threading die, and both ends of that pipe stay loose. "
                      "Never do this where people climb, lean or hold on."),
                  0) +
          "\n";
    }
    if (weaker > kMostWeaker) {
      alike.push_back(cure.changes.front().part);
      continue;
    }
    text += fmt::format("  - {}.\n", wrapped(capitalized(cure_text(frame, cure)), 4));
  }
  if (!alike.empty()) text += "  - " + wrapped(say("Or {} in the same way.", listed_or(alike)), 4) + "\n";
  return text;
}

std::string trap_cures_text(const model::Frame& frame, const std::vector<planner::TrapCure>& cures) {
  if (cures.empty()) return "";
  std::string text = "\n" + say("What would save you trouble with the worst of them:") + "\n";
  const auto cured = [&](const std::string& part) {
    return std::any_of(cures.begin(), cures.end(),
                       [&](const planner::TrapCure& other) { return other.part == part && other.after == 0; });
  };
  for (const planner::TrapCure& trap : cures) {
    if (trap.after > 0 && cured(trap.part)) continue;  // half a cure beside a whole one
    std::vector<std::string> what;
    for (const CureChange& change : trap.cure.changes) what.push_back(brief_change_text(frame, change));
    const std::string sentence =
        trap.after == 0
            ? say_n(trap.before, "{1}: then {2} can go on any time (nothing to undo instead of {0} joint)",
                    "{1}: then {2} can go on any time (nothing to undo instead of {0} joints)", listed(what), trap.part)
            : say_n(trap.after, "{1}: then a forgotten {2} means {0} joint to undo instead of {3}",
                    "{1}: then a forgotten {2} means {0} joints to undo instead of {3}", listed(what), trap.part,
                    trap.before);
    text += fmt::format("  - {}.\n", wrapped(capitalized(sentence), 4));
  }
  return text;
}

}  // namespace dryfit::cli

#include "planner/order/preparation.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

using model::Fastening;
using model::Frame;

/// What decides about several chores.
struct Facts {
  std::vector<PartId> boards;
  std::vector<PartId> drilled;   ///< boards with holes or slots
  std::vector<PartId> over_two;  ///< boards with two or more of them, whose spacing has to agree with the pipes'
  bool bored = false;            ///< some board has a round hole
  bool slotted = false;
  bool rings = false;  ///< some joint closes a ring
};

Facts facts_of(const Frame& frame) {
  Facts facts;
  for (const model::Board& board : frame.boards) {
    facts.boards.push_back(board.part);
    if (!board.holes.empty()) facts.drilled.push_back(board.part);
    if (board.holes.size() > 1) facts.over_two.push_back(board.part);
    for (const model::Hole& hole : board.holes) (hole.notch ? facts.slotted : facts.bored) = true;
  }
  facts.rings = std::any_of(frame.closures.begin(), frame.closures.end(),
                            [](const model::Closure& c) { return c.kind == model::Closure::Kind::joint; });
  return facts;
}

std::vector<std::string> labels(const Frame& frame, const std::vector<PartId>& parts) {
  std::vector<std::string> names;
  for (const PartId part : parts) names.push_back(frame.part(part).label);
  return names;
}

ChoreLine degrease() {
  return {
      .chore = Chore::degrease,
      .parts = {},
      .text = {remarked("Wipe the oil off new pipe and fittings, inside of the threads too, and let them dry."), {}},
      .cautions = {{remarked("Gloves on, windows open, no flame or spark near the solvent."), {}},
                   {remarked("Oily rags can catch fire by themselves: spread them out to dry outdoors or keep them "
                             "under water in a closed metal can."),
                    {}}}};
}

ChoreLine mark(const Facts& facts) {
  return {.chore = Chore::mark,
          .parts = {},
          .text = {facts.drilled.empty()
                       ? remarked("Tape its label on every part.")
                       : remarked("Tape its label on every part, and the step number on what goes through a board."),
                   {}},
          .cautions = {}};
}

ChoreLine drill(const Frame& frame, const Facts& facts) {
  const char* text =
      facts.bored && facts.slotted
          ? remarked(
                "Measure the pipes as made up, then drill and slot: {}. Once a board is trapped, no bit gets at it.")
      : facts.bored
          ? remarked("Measure the pipes as made up, then drill: {}. Once a board is trapped, no bit gets at it.")
          : remarked("Measure the pipes as made up, then slot: {}.");
  return {.chore = Chore::drill,
          .parts = facts.drilled,
          .text = {text, {labels(frame, facts.drilled)}},
          .cautions = {{remarked("Clamp the board on scrap; eye protection on."), {}}}};
}

ChoreLine finish(const Frame& frame, const Facts& facts) {
  const char* text = facts.drilled.empty()
                         ? remarked("Sand and finish, and let dry: {}.")
                         : remarked("Sand and finish, the inside of holes and slots too, and let dry: {}.");
  return {.chore = Chore::finish,
          .parts = facts.boards,
          .text = {text, {labels(frame, facts.boards)}},
          .cautions = {
              {remarked("Rags with oil finish can catch fire by themselves: dry them spread out, outdoors."), {}}}};
}

ChoreLine dry_fit(const Frame& frame, const Facts& facts) {
  Remark text;
  if (facts.over_two.empty()) {
    text = {remarked("Dry fit: lay out what closes a ring on the floor and compare both ways round."), {}};
  } else {
    text = {facts.rings
                ? remarked("Dry fit: lay {} on the pipes that pass through and see that the spacing agrees; lay out "
                           "what closes a ring and compare both ways round.")
                : remarked("Dry fit: lay {} on the pipes that pass through and see that the spacing agrees."),
            {labels(frame, facts.over_two)}};
  }
  return {.chore = Chore::dry_fit, .parts = facts.over_two, .text = std::move(text), .cautions = {}};
}

/// Something stands on a floor, or is to lie level.
bool wants_level(const Frame& frame, const Facts& facts) {
  const bool to_floor = std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [&](const Fastening& f) {
    return f.other == model::kRoom && f.surface != model::kNone && frame.surfaces[at(f.surface)].normal == model::kUp;
  });
  return !frame.surfaces.empty() && (to_floor || !facts.boards.empty());
}

ChoreLine level(const Frame& frame, const Facts& facts) {
  const bool posts = std::any_of(frame.parts.begin(), frame.parts.end(), [](const model::Part& part) {
    return part.kind == model::PartKind::pipe && !part.solids.empty() && part.solids.front().along.axis() == 2;
  });
  const char* text =
      facts.boards.empty()
          ? remarked("Level and plumb: back a joint off or take it up by part of a turn, shim under a flange.")
      : !posts ? remarked("Level the boards again: take up or back off by part of a turn, shim where it is screwed on.")
               : remarked(
                     "Level the boards and plumb the posts again: take up or back off by part of a turn, shim "
                     "under a flange.");
  return {.chore = Chore::level, .parts = {}, .text = {text, {}}, .cautions = {}};
}

/// Something is screwed to the room, or strapped.
bool has_screws(const Frame& frame) {
  return std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                     [](const Fastening& f) { return f.other == model::kRoom || f.kind == Fastening::Kind::strap; });
}

ChoreLine check_fastenings() {
  return {
      .chore = Chore::fasten_check,
      .parts = {},
      .text = {remarked("Go round all screws once more: into studs, joists or solid anchors, none spinning free."), {}},
      .cautions = {{remarked("Nobody climbs or loads the frame before this is done."), {}}}};
}

ChoreLine check_tightness(const Frame& frame) {
  const char* text =
      frame.make_up == model::MakeUp::wrench
          ? remarked("Try every joint with the wrench: none may turn by hand, side openings point where they should.")
          : remarked("Try every joint by hand: none may spin loose, side openings point where they should.");
  return {.chore = Chore::tightness, .parts = {}, .text = {text, {}}, .cautions = {}};
}

}  // namespace

const char* word_for(Chore chore) {
  switch (chore) {
    case Chore::degrease: return "degrease";
    case Chore::mark: return "mark";
    case Chore::drill: return "drill";
    case Chore::finish: return "finish";
    case Chore::dry_fit: return "dry-fit";
    case Chore::level: return "level";
    case Chore::fasten_check: return "check-fastening";
    case Chore::tightness: return "check-tightness";
  }
  return "";
}

Preparation preparation_of(const Frame& frame) {
  Preparation all;
  const Facts facts = facts_of(frame);
  const bool metal = !frame.joints.empty();
  if (metal) all.before = {degrease(), mark(facts)};
  if (!facts.drilled.empty()) all.before.push_back(drill(frame, facts));
  if (!facts.boards.empty()) all.before.push_back(finish(frame, facts));
  if (!facts.over_two.empty() || facts.rings) all.before.push_back(dry_fit(frame, facts));
  if (wants_level(frame, facts)) all.after.push_back(level(frame, facts));
  if (has_screws(frame)) all.after.push_back(check_fastenings());
  if (metal) all.after.push_back(check_tightness(frame));
  return all;
}

}  // namespace dryfit::planner

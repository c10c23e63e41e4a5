#include "planner/order/preparation.hpp"

#include <algorithm>

namespace dryfit::planner {
namespace {

using model::Fastening;
using model::Frame;

std::vector<std::string> labels(const Frame& frame, const std::vector<PartId>& parts) {
  std::vector<std::string> names;
  for (const PartId part : parts) names.push_back(frame.part(part).label);
  return names;
}

bool has_kind(const Frame& frame, Fastening::Kind kind) {
  return std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                     [&](const Fastening& f) { return f.kind == kind; });
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
  const auto boards_with = [&](auto&& test) {
    std::vector<PartId> found;
    for (const model::Board& board : frame.boards) {
      if (test(board)) found.push_back(board.part);
    }
    return found;
  };
  const std::vector<PartId> boards = boards_with([](const model::Board&) { return true; });
  const std::vector<PartId> drilled = boards_with([](const model::Board& b) { return !b.holes.empty(); });
  const std::vector<PartId> over_two = boards_with([](const model::Board& b) { return b.holes.size() > 1; });
  const bool metal = !frame.joints.empty();
  if (metal) {
    all.before.push_back(
        {Chore::degrease,
         {},
         {remarked("Wipe the oil off new pipe and fittings, inside of the threads too, and let them dry."), {}},
         {{remarked("Gloves on, windows open, no flame or spark near the solvent."), {}},
          {remarked(
               "Oily rags can catch fire by themselves: spread them out to dry outdoors or keep them under water in "
               "a closed metal can."),
           {}}}});
    all.before.push_back(
        {Chore::mark,
         {},
         {drilled.empty() ? remarked("Tape its label on every part.")
                          : remarked("Tape its label on every part, and the step number on what goes through a board."),
          {}},
         {}});
  }
  if (!drilled.empty()) {
    const auto any_hole = [&](bool notch) {
      return std::any_of(frame.boards.begin(), frame.boards.end(), [&](const model::Board& board) {
        return std::any_of(board.holes.begin(), board.holes.end(),
                           [&](const model::Hole& hole) { return hole.notch == notch; });
      });
    };
    const bool bored = any_hole(false), slotted = any_hole(true);
    all.before.push_back(
        {Chore::drill,
         drilled,
         {bored && slotted
              ? remarked(
                    "Measure the pipes as made up, then drill and slot: {}. Once a board is trapped, no bit gets at it.")
          : bored
              ? remarked("Measure the pipes as made up, then drill: {}. Once a board is trapped, no bit gets at it.")
              : remarked("Measure the pipes as made up, then slot: {}."),
          {labels(frame, drilled)}},
         {{remarked("Clamp the board on scrap; eye protection on."), {}}}});
  }
  if (!boards.empty()) {
    all.before.push_back(
        {Chore::finish,
         boards,
         {drilled.empty() ? remarked("Sand and finish, and let dry: {}.")
                          : remarked("Sand and finish, the inside of holes and slots too, and let dry: {}."),
          {labels(frame, boards)}},
         {{remarked("Rags with oil finish can catch fire by themselves: dry them spread out, outdoors."), {}}}});
  }
  const bool rings = std::any_of(frame.closures.begin(), frame.closures.end(),
                                 [](const model::Closure& c) { return c.kind == model::Closure::Kind::joint; });
  if (!over_two.empty() || rings) {
    Remark fit;
    if (over_two.empty()) {
      fit = {remarked("Dry fit: lay out what closes a ring on the floor and compare both ways round."), {}};
    } else {
      fit = {rings ? remarked("Dry fit: lay {} on the pipes that pass through and see that the spacing agrees; lay out "
                              "what closes a ring and compare both ways round.")
                   : remarked("Dry fit: lay {} on the pipes that pass through and see that the spacing agrees."),
             {labels(frame, over_two)}};
    }
    all.before.push_back({Chore::dry_fit, over_two, std::move(fit), {}});
  }
  const bool to_floor = std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [&](const Fastening& f) {
    return f.other == model::kRoom && f.surface != model::kNone &&
           frame.surface(f.surface).normal == model::kUp;
  });
  const bool to_room = std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                                   [](const Fastening& f) { return f.other == model::kRoom; });
  if (!frame.surfaces.empty() && (to_floor || !boards.empty())) {
    const bool posts = std::any_of(frame.parts.begin(), frame.parts.end(), [](const model::Part& part) {
      return part.kind == model::PartKind::pipe && !part.solids.empty() && part.solids.front().along.axis() == 2;
    });
    all.after.push_back(
        {Chore::level,
         {},
         {boards.empty()
              ? remarked("Level and plumb: back a joint off or take it up by part of a turn, shim under a flange.")
          : !posts
              ? remarked("Level the boards again: take up or back off by part of a turn, shim where it is screwed on.")
              : remarked("Level the boards and plumb the posts again: take up or back off by part of a turn, shim "
                         "under a flange."),
          {}},
         {}});
  }
  if (to_room || has_kind(frame, Fastening::Kind::strap)) {
    all.after.push_back(
        {Chore::fasten_check,
         {},
         {remarked("Go round all screws once more: into studs, joists or solid anchors, none spinning free."), {}},
         {{remarked("Nobody climbs or loads the frame before this is done."), {}}}});
  }
  if (metal) {
    all.after.push_back(
        {Chore::tightness,
         {},
         {frame.make_up == model::MakeUp::wrench
              ? remarked(
                    "Try every joint with the wrench: none may turn by hand, side openings point where they should.")
              : remarked("Try every joint by hand: none may spin loose, side openings point where they should."),
          {}},
         {}});
  }
  return all;
}

}  // namespace dryfit::planner

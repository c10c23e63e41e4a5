#include "planner/order/preparation.hpp"

#include <algorithm>
#include <initializer_list>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"
#include "planner/base/stock.hpp"

namespace dryfit::planner {
namespace {

using model::Fastening;
using model::Frame;

/// What decides about several chores.
struct Facts {
  std::vector<PartId> boards;
  std::vector<PartId> cut;      ///< pipes of no stock length
  std::vector<PartId> drilled;  ///< boards with holes or slots
  bool rings = false;           ///< some joint closes a ring
};

Facts facts_of(const Frame& frame) {
  Facts facts;
  for (const model::Board& board : frame.boards) {
    facts.boards.push_back(board.part);
    if (!board.holes.empty()) facts.drilled.push_back(board.part);
  }
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
    const model::Part& part = frame.part(p);
    if (part.kind != model::PartKind::pipe) continue;
    const std::string item = stock_item(frame.standard, part.size, part.length);
    if (item.empty() || item.starts_with("mill")) facts.cut.push_back(p);
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
      .text = {remarked("Wipe the oil off new pipe and fittings, inside the threads too, and let them dry."), {}},
      .cautions = {
          {remarked("Fire: wear gloves, open the windows, and keep flames and sparks away from the solvent."), {}},
          {remarked("Oily rags can catch fire by themselves: dry them spread out, outdoors, or keep them under water "
                    "in a closed metal can."),
           {}}}};
}

/// Pipe that is cut to length: a burr cuts fingers, and narrows the thread's start.
ChoreLine ream(const Frame& frame, const std::vector<PartId>& cut) {
  return {.chore = Chore::ream,
          .parts = cut,
          .text = {remarked("Ream and deburr the pipes you cut: {}."), {labels(frame, cut)}},
          .cautions = {{remarked("Burrs and fresh threads are sharp: wear gloves."), {}}}};
}

ChoreLine mark(const Facts& facts) {
  return {
      .chore = Chore::mark,
      .parts = {},
      .text = {facts.drilled.empty()
                   ? remarked("Put a tape label on every part.")
                   : remarked("Put a tape label on every part. On pipes that go through a board, add the step number."),
               {}},
      .cautions = {}};
}

ChoreLine drill(const Frame& frame, const std::vector<PartId>& boards) {
  bool bored = false, slotted = false;
  for (const PartId part : boards) {
    for (const model::Hole& hole : frame.board_of(part).holes) (hole.notch ? slotted : bored) = true;
  }
  const char* text = bored && slotted ? remarked("Drill and slot: {}.")
                     : bored          ? remarked("Drill: {}.")
                                      : remarked("Slot: {}.");
  return {.chore = Chore::drill,
          .parts = boards,
          .text = {text, {labels(frame, boards)}},
          .cautions = {{remarked("Clamp the board on scrap wood. Wear eye protection and a dust mask."), {}}}};
}

/// Boards that go over two posts or more which stand by then: measured, drilled and tried just before.
std::vector<std::pair<int, ChoreLine>> drilled_at_posts(const Frame& frame, const ContactList& list,
                                                        const std::vector<Step>& steps) {
  std::vector<std::pair<int, ChoreLine>> out;
  std::vector<char> joined(frame.parts.size(), 0);  // to something, by the steps so far
  DisjointSets held(list.at.size());  // by threads, nuts and screws: boards alone set no distance between posts
  for (const Step& step : steps) {
    std::vector<PartId> boards;
    bool slotted = false;
    for (const model::Board& board : frame.boards) {
      const bool moves = std::find(step.moving.begin(), step.moving.end(), board.part) != step.moving.end();
      const auto over = std::count_if(step.contacts.begin(), step.contacts.end(), [&](ContactId c) {
        const Contact& contact = list.contact(c);
        return contact.a == board.part && hole_like(contact.kind);
      });
      // Over pipes that lie loose there is nothing to measure yet.
      const bool stand = std::all_of(board.holes.begin(), board.holes.end(),
                                     [&](const model::Hole& hole) { return joined[at(hole.pipe)] != 0; });
      // Nor between posts of which each stands by itself: there the holes say how far they are apart.
      const bool spaced = std::any_of(board.holes.begin(), board.holes.end(), [&](const model::Hole& one) {
        return std::any_of(board.holes.begin(), board.holes.end(), [&](const model::Hole& other) {
          return one.pipe != other.pipe && held.together(one.pipe, other.pipe);
        });
      });
      if (!moves || over < 2 || !stand || !spaced) continue;
      boards.push_back(board.part);
      slotted = slotted || std::all_of(board.holes.begin(), board.holes.end(), [](const auto& h) { return h.notch; });
    }
    for (const ContactId id : step.contacts) {
      for (const PartId part : {list.contact(id).a, list.contact(id).b}) {
        if (part >= 0) joined[at(part)] = 1;
      }
      const Contact& made = list.contact(id);
      if (takes_own_move(made.kind)) held.join(list.vertex(made.a), list.vertex(made.b));
    }
    if (boards.empty()) continue;
    ChoreLine line{
        .chore = Chore::drill,
        .parts = boards,
        .text = {slotted       ? remarked("Measure from post to post, then slot {} and try it against the posts.")
                 : out.empty() ? remarked("Measure from post to post, then drill {} and try it against the posts. "
                                          "You can't drill it once it is on.")
                               : remarked("Measure from post to post, then drill {} and try it against the posts."),
                 {labels(frame, boards)}},
        .cautions = {}};
    if (out.empty()) {
      line.cautions = {{remarked("Clamp the board on scrap wood. Wear eye protection and a dust mask."), {}}};
    }
    out.emplace_back(step.number, std::move(line));
  }
  return out;
}

/// `later`: some are drilled when the finish is on; `said`: that oily rags catch fire is told already.
ChoreLine finish(const Frame& frame, const Facts& facts, bool later, bool said) {
  const char* text =
      facts.drilled.empty() ? remarked("Sand {}, put the finish on and let it dry.")
      : later ? remarked("Sand {}, put the finish on and let it dry. Seal holes and slots once they are cut.")
              : remarked("Sand {}, inside the holes and slots too, put the finish on and let it dry.");
  ChoreLine line{
      .chore = Chore::finish, .parts = facts.boards, .text = {text, {labels(frame, facts.boards)}}, .cautions = {}};
  if (!said) {
    line.cautions = {
        {remarked("Rags with oil finish can catch fire by themselves: dry them spread out, outdoors."), {}}};
  }
  return line;
}

ChoreLine dry_fit() {
  return {.chore = Chore::dry_fit,
          .parts = {},
          .text = {remarked("Dry fit: lay out each closed loop on the floor and check that both ways round are equally "
                            "long."),
                   {}},
          .cautions = {}};
}

/// Something stands on a floor, or is to lie level.
bool wants_level(const Frame& frame, const Facts& facts) {
  const bool to_floor = std::any_of(frame.fastenings.begin(), frame.fastenings.end(), [&](const Fastening& f) {
    return f.other == model::kRoom && f.surface != model::kNone && frame.surfaces[at(f.surface)].normal == model::kUp;
  });
  return !frame.surfaces.empty() && (to_floor || !facts.boards.empty());
}

bool any_part(const Frame& frame, std::initializer_list<model::PartKind> kinds) {
  return std::any_of(frame.parts.begin(), frame.parts.end(), [&](const model::Part& part) {
    return std::find(kinds.begin(), kinds.end(), part.kind) != kinds.end();
  });
}

ChoreLine level(const Frame& frame, const Facts& facts) {
  // What hangs on a wall has no posts to plumb, only lips and drops.
  const bool floor = std::any_of(frame.surfaces.begin(), frame.surfaces.end(),
                                 [](const model::Surface& surface) { return surface.normal == model::kUp; });
  const bool posts =
      floor && std::any_of(frame.parts.begin(), frame.parts.end(), [](const model::Part& part) {
        return part.kind == model::PartKind::pipe && !part.solids.empty() && part.solids.front().along.axis() == 2;
      });
  const bool boards = !facts.boards.empty();
  // Joints were turned before the screws went in; after that they do not turn.
  const bool held = std::any_of(frame.fastenings.begin(), frame.fastenings.end(),
                                [](const Fastening& f) { return f.other == model::kRoom; });
  const char* text =
      any_part(frame, {model::PartKind::foot})
          ? (boards ? remarked("Level the boards and plumb the posts: turn or shim the feet, or tighten or back off a "
                               "joint a little.")
                    : remarked("Level and plumb it: turn or shim the feet, or tighten or back off a joint a little."))
      : any_part(frame, {model::PartKind::caster})
          ? (boards ? remarked("Level the boards and plumb the posts: tighten or back off a joint a little.")
                    : remarked("Level and plumb it: tighten or back off a joint a little."))
      : held ? remarked("Check level and plumb once more. Where it is off, loosen the screws there and put in shims.")
      : !boards ? remarked("Level and plumb it: tighten or back off a joint a little, or shim a flange.")
      : !posts  ? remarked("Re-level the boards: tighten or back off a joint a little, or shim where it is screwed on.")
                : remarked(
                      "Re-level the boards and re-plumb the posts: tighten or back off a joint a little, or shim a "
                       "foot.");
  return {.chore = Chore::level, .parts = {}, .text = {text, {}}, .cautions = {}};
}

/// What screws go into.
struct Screwed {
  bool wall = false, floor = false, wood = false;  ///< floor: or a ceiling
  [[nodiscard]] bool any() const { return wall || floor || wood; }
};

Screwed screwed_to(const Frame& frame) {
  Screwed into;
  for (const Fastening& f : frame.fastenings) {
    const bool room = f.other == model::kRoom && f.surface != model::kNone;
    const bool upright = room && frame.surfaces[at(f.surface)].normal.z == 0;
    into.wall = into.wall || upright;
    into.floor = into.floor || (room && !upright);
    into.wood = into.wood || !room;
  }
  return into;
}

ChoreLine check_fastenings(const Screwed& into) {
  const char* text =
      into.wall && into.floor
          ? remarked("Check every screw again: each must bite in a stud, joist or anchor. None should spin.")
      : into.wall  ? remarked("Check every screw again: each must bite in a stud or anchor. None should spin.")
      : into.floor ? remarked("Check every screw again: each must bite in a joist or anchor. None should spin.")
                   : remarked("Check every screw again: each must bite in the wood. None should spin.");
  return {.chore = Chore::fasten_check, .parts = {}, .text = {text, {}}, .cautions = {}};
}

ChoreLine check_tightness(const Frame& frame) {
  using model::PartKind;
  const bool wrench = frame.make_up == model::MakeUp::wrench;
  const bool outlets = any_part(frame, {PartKind::tee, PartKind::side_tee, PartKind::side_elbow, PartKind::cross});
  const bool elbows = any_part(frame, {PartKind::elbow, PartKind::elbow45, PartKind::street_elbow});
  const char* text =
      outlets  ? (wrench ? remarked("Check every joint: none should turn by hand. Check that every outlet faces the "
                                     "right way.")
                         : remarked("Check every joint by hand: none should turn freely. Check that every outlet faces "
                                     "the right way."))
      : elbows ? (wrench ? remarked("Check every joint: none should turn by hand. Check that every elbow faces the "
                                    "right way.")
                         : remarked("Check every joint by hand: none should turn freely. Check that every elbow faces "
                                    "the right way."))
      : wrench ? remarked("Check every joint: none should turn by hand.")
               : remarked("Check every joint by hand: none should turn freely.");
  return {.chore = Chore::tightness, .parts = {}, .text = {text, {}}, .cautions = {}};
}

}  // namespace

const char* word_for(Chore chore) {
  switch (chore) {
    case Chore::degrease: return "degrease";
    case Chore::ream: return "ream";
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

Preparation preparation_of(const Frame& frame, const ContactList& list, const std::vector<Step>& steps) {
  Preparation all;
  const Facts facts = facts_of(frame);
  const bool metal = !frame.joints.empty();
  all.at_step = drilled_at_posts(frame, list, steps);
  std::vector<PartId> first = facts.drilled;  // boards that nothing stands for yet
  for (const auto& [step, line] : all.at_step) {
    std::erase_if(first,
                  [&parts = line.parts](PartId p) { return std::find(parts.begin(), parts.end(), p) != parts.end(); });
  }
  if (metal) all.before = {degrease()};
  if (!facts.cut.empty()) all.before.push_back(ream(frame, facts.cut));
  if (metal) all.before.push_back(mark(facts));
  if (!first.empty()) all.before.push_back(drill(frame, first));
  if (!facts.boards.empty()) all.before.push_back(finish(frame, facts, !all.at_step.empty(), metal));
  if (facts.rings) all.before.push_back(dry_fit());
  if (wants_level(frame, facts)) all.after.push_back(level(frame, facts));
  if (const Screwed into = screwed_to(frame); into.any()) all.after.push_back(check_fastenings(into));
  if (metal) all.after.push_back(check_tightness(frame));
  return all;
}

}  // namespace dryfit::planner

#include "cli/sentences/frame_notes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/state/no_rest.hpp"

namespace dryfit::cli {
namespace {

/// Number of the piece that each part belongs to when the room is left out: a flood over the contacts.
std::vector<int> pieces_without_room(const model::Frame& frame, const planner::ContactList& list) {
  std::vector<int> piece(frame.parts.size(), -1);
  int count = 0;
  for (std::size_t start = 0; start < piece.size(); ++start) {
    if (piece[start] >= 0) continue;
    std::vector<std::size_t> open{start};
    piece[start] = count;
    while (!open.empty()) {
      const std::size_t here = open.back();
      open.pop_back();
      for (const planner::ContactId id : list.at[here]) {
        const planner::Contact& contact = list.contact(id);
        for (const model::PartId next : {contact.a, contact.b}) {
          if (next == model::kRoom || piece[at(next)] >= 0) continue;
          piece[at(next)] = count;
          open.push_back(at(next));
        }
      }
    }
    ++count;
  }
  return piece;
}

std::string in_between_note(const model::Surface& a, const model::Surface& b) {
  return say(
      "The frame is screwed to {0} and to {1}: stand it up or slip it in between them before you screw it tight.",
      the_surface(a.id), the_surface(b.id));
}

void note_facing_surfaces(const model::Frame& frame, const planner::ContactList& list,
                          std::vector<std::string>& notes) {
  const std::vector<int> piece = pieces_without_room(frame, list);
  std::map<int, std::set<int>> fastened;  // piece -> surfaces
  for (const model::Fastening& fastening : frame.fastenings) {
    if (fastening.surface != model::kNone) {
      fastened[piece[at(fastening.part)]].insert(fastening.surface);
    }
  }
  std::set<std::pair<int, int>> said;
  for (const auto& [number, surfaces] : fastened) {
    for (const int one : surfaces) {
      for (const int other : surfaces) {
        const model::Surface& a = frame.surface(one);
        const model::Surface& b = frame.surface(other);
        if (one >= other || a.normal != -b.normal || !said.insert({one, other}).second) continue;
        notes.push_back(in_between_note(a, b));
      }
    }
  }
}

/// "to: T2.front", or "from: ..." where the part begins its run.
std::string link_of(const model::Frame& frame, model::PartId part, const std::string& where) {
  const std::vector<model::PartId>& run = frame.runs[at(frame.part(part).run)].parts;
  return fmt::format("{}: {}", run.front() == part && run.size() > 1 ? "from" : "to", where);
}

void note_bare_flanges(const model::Frame& frame, std::vector<std::string>& notes) {
  for (const planner::BareFlange& bare : planner::bare_flanges(frame)) {
    const bool surface = bare.surface != model::kNone;
    const std::string id = surface ? frame.surface(bare.surface).id : frame.part(bare.board).id;
    notes.push_back(
        say("{0} lies against {1}, but nothing screws it there. If it should be screwed on, write `{2}` in its run.",
            name_of(frame, bare.flange), surface ? the_surface(id) : name_of(frame, bare.board),
            link_of(frame, bare.flange, surface ? id : id + "." + bare.face.name())));
  }
}

}  // namespace

std::string stand_it_up_note(const model::Frame& frame) {
  for (const model::Surface& a : frame.surfaces) {
    for (const model::Surface& b : frame.surfaces) {
      if (&a < &b && a.normal == -b.normal && a.normal.axis() == 2) return in_between_note(a, b);
    }
  }
  return "";
}

std::string bare_end_note(const model::Frame& frame, const planner::BareEnd& bare) {
  const model::Port& port = frame.part(bare.fitting).ports[at(bare.port)];
  return say("{0} ends in {1}, but nothing screws it in there. Write `{2}` in its run.", name_of(frame, bare.pipe),
             name_of(frame, bare.fitting),
             link_of(frame, bare.pipe, frame.part(bare.fitting).label + "." + port.facing.name()));
}

std::string lone_run_note(const model::Frame& frame) {
  return say("Nothing says where the run '{}' stands, so it begins at [0, 0]. Give it a place with `at`.",
             frame.runs[at(frame.lone_run)].id);
}

std::vector<std::string> notes_on(const model::Frame& frame, const planner::ContactList& list) {
  constexpr double kOverlaps = 1.0;  // mm: deeper ones are told as parts in the same place
  std::vector<std::string> notes;
  note_facing_surfaces(frame, list, notes);
  if (frame.lone_run != model::kNone) notes.push_back(lone_run_note(frame));
  note_bare_flanges(frame, notes);
  for (const planner::BareEnd& bare : planner::bare_ends(frame)) {
    if (bare.depth <= kOverlaps) notes.push_back(bare_end_note(frame, bare));
  }
  return notes;
}

std::string no_rest_note(const model::Frame& frame, model::PartId board) {
  std::vector<std::string> passed;
  double play = 0.0;
  for (const model::PartId carrier : frame.board_of(board).carriers) {
    const auto over = planner::play_over_carrier(frame, frame.board_of(board), carrier);
    if (!over) continue;
    passed.push_back(name_of(frame, carrier));
    play = std::max(play, *over);
  }
  if (play < model::kTouch) {
    return say(
        "{0} can't be trusted to rest on {1}: the hole is {2} wider, so it may stick there or slip over. Drill a "
        "smaller hole, or put something wider under it.",
        name_of(frame, board), listed(passed), Lengths(frame.units).play(play));
  }
  return passed.size() == 1
             ? say("{0} has nothing to rest on: it slips over {1}, which is narrower than the hole. Drill a smaller "
                   "hole, or put something wider under it.",
                   name_of(frame, board), passed.front())
             : say("{0} has nothing to rest on: it slips over {1}, which are narrower than the holes. Drill smaller "
                   "holes, or put something wider under it.",
                   name_of(frame, board), listed(passed));
}

}  // namespace dryfit::cli

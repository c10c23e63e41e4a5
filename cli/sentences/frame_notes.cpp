#include "cli/sentences/frame_notes.hpp"

#include <algorithm>
#include <map>
#include <set>

#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
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
        notes.push_back(
            say("The frame is screwed to {0} and to {1}: stand it up or slip it in between them before you screw "
                "it tight.",
                the_surface(a.id), the_surface(b.id)));
      }
    }
  }
}

}  // namespace

std::vector<std::string> notes_on(const model::Frame& frame, const planner::ContactList& list) {
  std::vector<std::string> notes;
  note_facing_surfaces(frame, list, notes);
  return notes;
}

std::string no_rest_note(const model::Frame& frame, model::PartId board) {
  std::vector<std::string> passed;
  for (const model::PartId carrier : frame.board_of(board).carriers) {
    if (planner::passes_its_hole(frame, frame.board_of(board), carrier)) passed.push_back(name_of(frame, carrier));
  }
  return say(
      "{0} has nothing to rest on: it slips over {1}, which is narrower than the hole. Drill a smaller "
      "hole, or put something wider under it.",
      name_of(frame, board), listed(passed));
}

}  // namespace dryfit::cli

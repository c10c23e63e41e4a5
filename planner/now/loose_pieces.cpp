#include "planner/now/loose_pieces.hpp"

#include <algorithm>
#include <map>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"
#include "planner/moves/any_refusal.hpp"

namespace dryfit::planner {
namespace {

/// A board's contact that goes by a move of the board, with no screw undone.
bool can_slip(Undoer& undoer, const State& state, ContactId c) {
  const AnyRefusal will_do;
  return !takes_own_move(undoer.list().contact(c).kind) && state.made(c) && undoer.try_briefly(state, c).legal;
}

}  // namespace

std::vector<std::vector<PartId>> pieces_in(const ContactList& list, const Links& links, const State& state) {
  const int parts = list.room();
  DisjointSets together(at(parts));
  for (std::size_t c = 0; c < list.contacts.size(); ++c) {
    const Contact& contact = list.contacts[c];
    if (state.made(static_cast<ContactId>(c)) && contact.a != model::kRoom && contact.b != model::kRoom) {
      together.join(contact.a, contact.b);
    }
  }
  for (const Threading& threading : links.threadings()) {
    if (!links.is_loose(threading, state)) continue;
    if (threading.of_ring < parts && threading.through < parts) together.join(threading.of_ring, threading.through);
  }
  std::map<int, std::size_t> number;
  std::vector<std::vector<PartId>> pieces;
  for (PartId p = 0; p < parts; ++p) {
    const auto [known, fresh] = number.emplace(together.find(p), pieces.size());
    if (fresh) pieces.emplace_back();
    pieces[known->second].push_back(p);
  }
  return pieces;
}

std::vector<LoosePiece> loose_pieces(Undoer& undoer, const Effort& effort, const Links& links, const State& state) {
  const ContactList& list = undoer.list();
  std::vector<LoosePiece> pieces;
  for (auto& parts : pieces_in(list, links, state)) {
    LoosePiece piece;
    piece.lift = effort.lift_of(parts);
    for (const PartId p : parts) {
      const auto& contacts = list.at[at(p)];
      piece.fastened |= std::any_of(contacts.begin(), contacts.end(), [&](ContactId c) {
        const Contact& contact = list.contact(c);
        return state.made(c) && (contact.a == model::kRoom || contact.b == model::kRoom);
      });
      const bool board = undoer.frame().part(p).kind == model::PartKind::board;
      if (board && std::any_of(contacts.begin(), contacts.end(),
                               [&](ContactId c) { return list.contact(c).a == p && can_slip(undoer, state, c); })) {
        piece.slack.push_back(p);
      }
    }
    piece.parts = std::move(parts);
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

}  // namespace dryfit::planner

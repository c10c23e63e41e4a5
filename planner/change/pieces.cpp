#include "planner/change/pieces.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "model/geometry/at.hpp"
#include "planner/base/stock.hpp"
#include "planner/change/same_place.hpp"
#include "planner/state/state.hpp"

namespace dryfit::planner {
namespace {

using model::kNone;

const model::Part& part_of(const model::Frame& frame, PartId p) { return frame.part(p); }

/// Can be sold by the counter as it is: every fitting, and pipe of a stock length.
bool stock_piece(const model::Frame& frame, const model::Part& part) {
  if (part.kind == model::PartKind::board) return false;
  return part.kind != model::PartKind::pipe || !stock_item(frame.standard, part.size, part.length).empty();
}

}  // namespace

Pieces compare_pieces(const model::Frame& old_frame, const model::Frame& new_frame, const Matching& matching) {
  Pieces pieces;
  std::vector<char> taken(new_frame.parts.size(), 0);
  const auto add_board = [&](PartId p, PartId q, bool may_turn) {
    BoardWork work = board_work(old_frame, p, new_frame, q, may_turn);
    if (work.to_drill() || work.laid != Laid::as_before || !work.left_open.empty()) {
      pieces.boards.push_back(std::move(work));
    }
  };
  for (PartId p = 0; p < static_cast<PartId>(old_frame.parts.size()); ++p) {
    const model::Part& part = part_of(old_frame, p);
    const PartId same = matching.new_of_old[at(p)];
    if (same != kNone) {
      const bool off = std::find(matching.redrilled.begin(), matching.redrilled.end(), p) != matching.redrilled.end();
      if (part.board != kNone) add_board(p, same, off && matching.may_turn[at(p)] != 0);
      continue;
    }
    const PartId named = new_frame.find(part.id);
    if (named != kNone && matching.old_of_new[at(named)] == kNone) {
      pieces.replaced.emplace_back(p, named);
    }
    PartId serves = kNone;
    for (PartId q = 0; q < static_cast<PartId>(new_frame.parts.size()) && serves == kNone; ++q) {
      if (matching.old_of_new[at(q)] != kNone || taken[at(q)] != 0) {
        continue;
      }
      if (same_piece(old_frame, p, new_frame, q)) serves = q;
    }
    if (serves == kNone) {
      (stock_piece(old_frame, part) ? pieces.spare : pieces.scrap).push_back(p);
      continue;
    }
    taken[at(serves)] = 1;
    pieces.reused.emplace_back(p, serves);
    if (part.board != kNone) add_board(p, serves, true);
  }
  for (PartId q = 0; q < static_cast<PartId>(new_frame.parts.size()); ++q) {
    if (matching.old_of_new[at(q)] == kNone && taken[at(q)] == 0) {
      pieces.buy.push_back(q);
    }
  }
  return pieces;
}

std::vector<MovedPiece> moved_pieces(const model::Frame& old_frame, const ContactList& old_list,
                                     const model::Frame& new_frame, const Matching& matching,
                                     const std::vector<ContactId>& kept) {
  std::vector<char> made(old_list.contacts.size(), 0);
  for (const ContactId c : kept) made[at(c)] = 1;
  const State state(old_list, made);
  std::map<int, std::vector<PartId>> clusters;
  for (PartId p = 0; p < static_cast<PartId>(old_frame.parts.size()); ++p) {
    if (!state.holds_room(p)) clusters[state.cluster(p)].push_back(p);
  }
  std::vector<MovedPiece> moved;
  for (const auto& [number, parts] : clusters) {
    if (parts.size() < 2) continue;  // a part alone is not work that is carried
    const auto shift = [&](PartId p) {
      const PartId q = matching.new_of_old[at(p)];
      return part_of(new_frame, q).centre - part_of(old_frame, p).centre;
    };
    MovedPiece piece{parts, false, shift(parts.front())};
    // A part that is held by a hole alone slides along its pipe; what moves is judged by what is screwed.
    piece.turned = std::any_of(parts.begin(), parts.end(), [&](PartId p) {
      return part_of(old_frame, p).kind != model::PartKind::board && norm(shift(p) - piece.by) > kOnePlace;
    });
    if (piece.turned || norm(piece.by) > kOnePlace) moved.push_back(std::move(piece));
  }
  std::sort(moved.begin(), moved.end(),
            [](const MovedPiece& a, const MovedPiece& b) { return a.parts.front() < b.parts.front(); });
  return moved;
}

}  // namespace dryfit::planner

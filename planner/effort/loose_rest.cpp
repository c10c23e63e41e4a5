#include "planner/effort/loose_rest.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "model/geometry/convex.hpp"
#include "planner/effort/support_polygon.hpp"
#include "planner/effort/tilt.hpp"

namespace dryfit::planner {

using model::kNone;
using model::kRoom;

LooseRest::LooseRest(Undoer& undoer, const Effort& effort, bool hangs)
    : undoer_(undoer), frame_(undoer.frame()), list_(undoer.list()), effort_(effort), hangs_(hangs) {
  const State whole(list_);
  for (const model::Board& board : frame_.boards) {
    can_be_firm_.push_back(static_cast<char>(board.laid() && is_firm(whole, board.part)));
  }
}

ContactId LooseRest::rest_of(const State& made, PartId board) const {
  for (const ContactId c : list_.at[at(board)]) {
    const Contact& contact = list_.contact(c);
    if (contact.kind == ContactKind::rest && contact.a == board && made.made(c)) return c;
  }
  return kNone;
}

std::vector<PartId> LooseRest::laid_with(const State& made, PartId part) const {
  std::vector<PartId> laid;
  for (const model::Board& board : frame_.boards) {
    if (board.laid() && made.cluster(board.part) == made.cluster(part) && rest_of(made, board.part) != kNone) {
      laid.push_back(board.part);
    }
  }
  return laid;
}

/// The pieces that carry the board: what threads, nuts and screws hold together, the board and the room left out.
std::vector<std::vector<PartId>> LooseRest::carriers_of(const State& made, PartId board) const {
  std::vector<std::vector<PartId>> pieces;
  std::vector<char> seen(frame_.parts.size(), 0);
  seen[at(board)] = 1;
  for (const ContactId rest : list_.at[at(board)]) {
    const Contact& lies = list_.contact(rest);
    if (lies.kind != ContactKind::rest || lies.a != board || !made.made(rest)) continue;
    if (std::exchange(seen[at(lies.b)], 1) != 0) continue;
    std::vector<PartId> piece{lies.b};
    for (std::size_t i = 0; i < piece.size(); ++i) {
      for (const ContactId k : list_.at[at(piece[i])]) {
        const Contact& c = list_.contact(k);
        if (!made.made(k) || (!takes_own_move(c.kind))) continue;
        const PartId next = c.a == piece[i] ? c.b : c.a;
        if (next != kRoom && std::exchange(seen[at(next)], 1) == 0) piece.push_back(next);
      }
    }
    pieces.push_back(std::move(piece));
  }
  return pieces;
}

bool LooseRest::held_by_room(const State& made, const std::vector<PartId>& piece) const {
  const std::vector<ContactId>& room = list_.at[at(list_.room())];
  return std::any_of(room.begin(), room.end(), [&](ContactId c) {
    return made.made(c) && std::find(piece.begin(), piece.end(), list_.contact(c).a) != piece.end();
  });
}

/// All of it lies on one line.
bool LooseRest::is_straight_run(const std::vector<PartId>& piece) const {
  const model::Solid& first = frame_.part(piece.front()).solids.front();
  return std::all_of(piece.begin(), piece.end(), [&](PartId p) {
    const std::vector<model::Solid>& solids = frame_.part(p).solids;
    return std::all_of(solids.begin(), solids.end(), [&](const model::Solid& solid) {
      return solid.shape == model::Solid::Shape::cylinder && first.shape == solid.shape &&
             parallel(solid.along, first.along) && norm(cross(solid.a - first.a, first.along.unit())) < model::kTouch;
    });
  });
}

double LooseRest::lowest(const std::vector<PartId>& piece) const {
  double low = std::numeric_limits<double>::infinity();
  for (const PartId p : piece) low = std::min(low, effort_.bounds(p).lo.z);
  return low;
}

bool LooseRest::is_firm(const State& made, PartId board) const {
  const std::vector<std::vector<PartId>> pieces = carriers_of(made, board);
  std::vector<const std::vector<PartId>*> free;  // what the room does not hold
  for (const std::vector<PartId>& piece : pieces) {
    if (!held_by_room(made, piece)) free.push_back(&piece);
  }
  if (free.empty()) return true;
  if (hangs_) return false;
  const auto stands = [&](const std::vector<PartId>& piece) {
    return stand_of(frame_, effort_, piece, Pose::standing, Touch::round).stands();
  };
  if (pieces.size() == 1) {
    const std::vector<PartId>& piece = pieces.front();
    return stands(piece) || (!is_straight_run(piece) && effort_.mass_of(piece) > effort_rates().in_one_hand);
  }
  // Several stand on one floor, each on feet that reach down to it.
  const model::Surface* floor = surface_facing(frame_, model::kUp);
  double ground = floor != nullptr ? floor->at : std::numeric_limits<double>::infinity();
  if (floor == nullptr) {
    for (const std::vector<PartId>& piece : pieces) ground = std::min(ground, lowest(piece));
  }
  return std::all_of(free.begin(), free.end(), [&](const std::vector<PartId>* piece) {
    return lowest(*piece) <= ground + kFootBand && stands(*piece);
  });
}

bool LooseRest::can_be_firm(PartId board) const { return can_be_firm_[at(frame_.part(board).board)] != 0; }

/// Screwed or strapped to the room or to what carries it: a flange that hangs on the board alone holds nothing.
bool LooseRest::is_fastened(const State& made, PartId board) const {
  const std::vector<std::vector<PartId>> pieces = carriers_of(made, board);
  const std::vector<ContactId>& contacts = list_.at[at(board)];
  return std::any_of(contacts.begin(), contacts.end(), [&](ContactId k) {
    const Contact& c = list_.contact(k);
    if (!made.made(k) || c.kind != ContactKind::fastening) return false;
    const PartId to = c.a == board ? c.b : c.a;
    return to == kRoom || std::any_of(pieces.begin(), pieces.end(), [&](const std::vector<PartId>& piece) {
             return std::find(piece.begin(), piece.end(), to) != piece.end();
           });
  });
}

bool LooseRest::is_loose(const State& made, PartId board) const {
  const ContactId rest = rest_of(made, board);
  if (rest == kNone) return false;
  if (is_fastened(made, board)) return false;
  const Attempt away = undoer_.try_undo(made, rest);
  // What lies on it is as loose as the board itself and traps nothing.
  return away.legal || std::any_of(away.refusals.begin(), away.refusals.end(),
                                   [](const Refusal& r) { return r.why == Refusal::Why::fastened; });
}

bool LooseRest::any_loose(const State& made, const std::vector<PartId>& parts) const {
  return std::any_of(frame_.boards.begin(), frame_.boards.end(), [&](const model::Board& board) {
    return board.laid() && std::binary_search(parts.begin(), parts.end(), board.part) && is_loose(made, board.part);
  });
}

}  // namespace dryfit::planner

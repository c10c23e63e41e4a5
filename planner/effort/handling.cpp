#include "planner/effort/handling.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/effort/known_stands.hpp"
#include "planner/order/steps.hpp"

namespace dryfit::planner {

using model::kNone;
using model::kRoom;

namespace {

/// Rings of the finished frame hold each other that nothing joins.
bool ends_linked(const Links& links, const ContactList& list) {
  const State whole(list);
  return std::any_of(links.threadings().begin(), links.threadings().end(),
                     [&](const Threading& threading) { return links.is_loose(threading, whole); });
}

}  // namespace

Handling::Handling(Undoer& undoer, const Effort& effort, PosePreference preference)
    : frame_(undoer.frame()),
      list_(undoer.list()),
      effort_(effort),
      rates_(effort_rates()),
      preference_(preference),
      hangs_(!frame_.surfaces.empty() && surface_facing(frame_, model::kUp) == nullptr),
      rests_(undoer, effort, hangs_),
      links_(frame_, list_),
      ends_linked_(ends_linked(links_, list_)),
      confined_(is_confined(frame_)),
      room_height_(height_of_room(frame_)),
      stands_(std::make_shared<KnownStands>(frame_, effort_)),
      lowest_(kNever),
      highest_(-kNever) {
  for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
    lowest_ = std::min(lowest_, effort_.bounds(p).lo.z);
    highest_ = std::max(highest_, effort_.bounds(p).hi.z);
  }
}

PieceInHand Handling::piece_of(const State& before, ContactId contact) const {
  PieceInHand piece;
  ContactId through = kNone;
  std::vector<char> seen(frame_.parts.size(), 0);
  piece.parts.reserve(frame_.parts.size());
  const auto reach = [&](PartId p) {
    if (p == kRoom) {
      piece.fastened = true;
      if (through != contact) piece.held = true;
    } else if (std::exchange(seen[at(p)], 1) == 0) {
      piece.parts.push_back(p);
    }
  };
  const PartId first = list_.contact(contact).a;
  reach(first);
  for (const int linked : links_.linked_with(before, first)) reach(linked == list_.room() ? kRoom : linked);
  for (std::size_t i = 0; i < piece.parts.size(); ++i) {
    for (const ContactId k : list_.at[at(piece.parts[i])]) {
      if (!before.made(k)) continue;
      const Contact& c = list_.contact(k);
      through = k;
      reach(c.a == piece.parts[i] ? c.b : c.a);
    }
  }
  piece.parts = marked_parts(seen);
  return piece;
}

double Handling::trouble(const State& before, const Move& move, Pose pose) const {
  const double heavy = trouble(move, pose);
  if (heavy >= kNever || (heavy <= 0.0 && !swings_too_low(move, pose))) return heavy;
  return trouble(piece_of(before, move), move, pose);
}

double Handling::trouble(const PieceInHand& piece, const Move& move, Pose pose) const {
  const double heavy = trouble(move, pose);
  if (heavy >= kNever) return heavy;
  if (in_one_hand(piece)) return 0.0;
  // A light rest is raised with one hand.
  const bool stands = effort_.mass_of(piece.parts) - move.mass > rates_.in_one_hand;
  return stands && swings_too_low(move, pose) ? heavy + rates_.at_the_foot : heavy;
}

bool Handling::swings_too_low(const Move& move, Pose pose) const {
  const Contact& thread = list_.contact(move.contacts.front());
  if (hangs_ || move.kind != MoveKind::unscrew || pose == Pose::laid || thread.axis.axis() == 2) return false;
  const double room = pose == Pose::over ? highest_ - thread.on_axis.z : thread.on_axis.z - lowest_;
  return move.swing_radius > room + kToldDip;
}

/// What is screwed on from below starts deeper by the thread's length, which is under the floor.
bool Handling::at_the_foot(const Move& move, Pose pose) const {
  double room = kNever;
  for (const PartId p : move.moving) {
    const model::Bounds& box = effort_.bounds(p);
    room = std::min(room, pose == Pose::over ? highest_ - box.hi.z : box.lo.z - lowest_);
  }
  return room < std::abs(move.travel.z);
}

double Handling::trouble(const Move& move, Pose pose) const {
  const model::Vec3 travel = -move.travel;  // the way it goes on
  const double up = pose == Pose::over ? -travel.z : travel.z;
  const bool upright = std::abs(travel.z) > std::max(std::abs(travel.x), std::abs(travel.y));
  switch (action_of(frame_, move)) {
    case Action::screw:
      if (pose == Pose::laid || !upright || up <= 0.0) return 0.0;
      return at_the_foot(move, pose) ? rates_.at_the_foot : rates_.from_below;
    case Action::slide:
    case Action::pass:
      // What goes along level pipes is on edge in any pose.
      if (!upright) return 0.0;
      if (pose == Pose::laid) return rates_.board_level;
      return up > 0.0 ? rates_.board_uphill : 0.0;
    case Action::lay: return pose == Pose::standing ? 0.0 : kNever;
    case Action::join: return 0.0;
    case Action::fasten: break;
  }
  const Contact& c = list_.contact(move.contacts.front());
  if (c.b == kRoom) return pose != Pose::standing ? kNever : 0.0;
  return to_level_board(frame_.fastening(c.fastening), pose);
}

double Handling::to_level_board(const model::Fastening& screws, Pose pose) const {
  if (screws.kind != model::Fastening::Kind::flange_to_board) return 0.0;
  const model::Board& board = frame_.board_of(screws.other);
  if (board.normal != 2) return 0.0;
  if (pose == Pose::laid) return rates_.board_level;
  const bool under_it = frame_.part(screws.part).centre.z < frame_.part(screws.other).centre.z;
  return under_it == (pose == Pose::standing) ? rates_.from_below : 0.0;
}

bool Handling::in_one_hand(const PieceInHand& piece) const {
  return !piece.fastened && effort_.mass_of(piece.parts) <= rates_.in_one_hand;
}

double Handling::unwanted(const State& before, const Move& move, Pose pose) const {
  const double against = on_what_is_loose(before, move) + against_links(before, move);
  const double low = room_height_ ? without_headroom(piece_of(before, move), move, pose) : 0.0;
  return against + low + (preference_ == PosePreference::free ? 0.0 : unwanted(piece_of(before, move), move, pose));
}

double Handling::on_what_is_loose(const State& before, const Move& move) const {
  constexpr double kLoose = 1000.0;  // outweighs all wishes of a common order
  if (move.kind != MoveKind::take_away) return 0.0;
  const PartId board = list_.contact(move.contacts.front()).a;
  return rests_.can_be_firm(board) && !rests_.is_firm(before, board) ? kLoose : 0.0;
}

double Handling::without_headroom(const PieceInHand& piece, const Move& move, Pose pose) const {
  constexpr double kNoHeadroom = 1000.0;  // outweighs what another order costs, and so does a millimetre less of it
  constexpr double kEachMillimetre = 50.0;
  if (!room_height_ || pose == Pose::laid || move.kind != MoveKind::unscrew) return 0.0;
  const double missing = headroom_missing(frame_, effort_, piece.parts, move);
  return missing > 0.0 ? kNoHeadroom + kEachMillimetre * missing : 0.0;
}

double Handling::against_links(const State& before, const Move& move) const {
  // Each outweighs what another order of joints costs.
  constexpr double kClosedLoose = 200.0, kEndInRing = 400.0, kMovedInRing = 1000.0;
  const bool by_hand = move.kind == MoveKind::undo_nut || move.kind == MoveKind::unfasten;  // nothing turns or slides
  const PartId part = list_.contact(move.contacts.front()).a;
  const auto undoes = [&](ContactId c) {
    return std::find(move.contacts.begin(), move.contacts.end(), c) != move.contacts.end();
  };
  double weight = 0.0;
  for (const Threading& threading : links_.threadings()) {
    if (!links_.is_loose(threading, before)) continue;
    const bool closes = std::any_of(threading.ring.begin(), threading.ring.end(), undoes);
    const bool ends = undoes(threading.ends[0]) || undoes(threading.ends[1]);
    if (closes) {
      weight = std::max(weight, !by_hand ? kMovedInRing : ends_linked_ ? 0.0 : kClosedLoose);
    } else if (ends) {
      weight = std::max(weight, by_hand || move.moving.size() == 1 ? kEndInRing : kMovedInRing);
    }
  }
  if (by_hand || move.moving.size() < 2 || links_.linked_with(before, part).empty()) return weight;
  return kMovedInRing;
}

bool Handling::leaves_no_link(const State& before, const Move& move) const {
  if (links_.threadings().empty() || (move.kind != MoveKind::undo_nut && move.kind != MoveKind::unfasten)) return true;
  State after = before;
  after.undo(move.contacts);
  return std::none_of(links_.threadings().begin(), links_.threadings().end(), [&](const Threading& threading) {
    return links_.is_loose(threading, after) && !links_.is_loose(threading, before);
  });
}

bool Handling::leaves_boards_safe(const State& before, const Move& move,
                                  const std::function<bool(const State&, ContactId)>& goes) const {
  const PartId part = list_.contact(move.contacts.front()).a;
  const std::vector<PartId> laid = rests_.laid_with(before, part);
  if (laid.empty()) return true;
  State after = before;
  after.undo(move.contacts);
  return std::all_of(laid.begin(), laid.end(), [&](PartId board) {
    const ContactId rest = rests_.rest_of(after, board);
    if (rest == kNone) return true;  // it has just been taken away
    // Before a wall only the room holds, whatever the shape of the work.
    if (!hangs_ && rests_.can_be_firm(board) && !rests_.is_firm(after, board)) return false;
    return !rests_.is_loose(after, board) || rests_.is_loose(before, board) || goes(after, rest);
  });
}

double Handling::unwanted(const PieceInHand& piece, const Move& move, Pose pose) const {
  constexpr double kUnwanted = 40.0;  // outweighs any single trouble
  if (preference_ == PosePreference::free || in_one_hand(piece)) return 0.0;
  const Pose wanted = preference_ == PosePreference::laid ? Pose::laid : Pose::standing;
  return pose == wanted || trouble(piece, move, wanted) >= kNever ? 0.0 : kUnwanted;
}

bool Handling::always_propped(const State& before, const Move& move, Pose pose) const {
  return hangs_ && pose != Pose::laid && !piece_of(before, move).held;
}

bool Handling::propped(const PieceInHand& piece, Pose pose) const {
  if (pose == Pose::laid || piece.held) return false;
  return hangs_ || (!in_one_hand(piece) && !stands_->of(piece.parts, pose));
}

double Handling::turn(const PieceInHand& piece) const {
  if (piece.fastened) return kNever;
  // Who wants it laid is told where it strikes; who has no wish gets an order that need not be turned there.
  if (confined_ && preference_ != PosePreference::laid && !tilt_of(frame_, effort_, piece.parts).fits) return kNever;
  if (in_one_hand(piece)) return 0.0;
  return rates_.turn_work + rates_.turn_work_mass * effort_.mass_of(piece.parts);
}

PartId Handling::brought_by(const State& after, const Move& move) const {
  const Contact& c = list_.contact(move.contacts.front());
  if (c.b == kRoom || after.cluster(c.a) == after.cluster(c.b)) return kNone;
  if (move.kind != MoveKind::unfasten && move.kind != MoveKind::undo_nut) return move.moving.front();
  // Nothing turns or slides: the lighter one is brought, but nothing that is screwed to the room.
  if (after.holds_room(c.b)) return c.a;
  if (after.holds_room(c.a)) return c.b;
  double mass[2] = {0.0, 0.0};
  int count[2] = {0, 0};
  for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
    const double m = frame_.part(p).mass;
    for (const int end : {0, 1}) {
      if (after.cluster(p) != after.cluster(end == 0 ? c.a : c.b)) continue;
      mass[end] += m;
      ++count[end];
    }
  }
  // A part on its own is brought to what is made up.
  if ((count[0] == 1) != (count[1] == 1)) return count[0] == 1 ? c.a : c.b;
  return mass[1] < mass[0] - 1e-9 ? c.b : c.a;
}

}  // namespace dryfit::planner

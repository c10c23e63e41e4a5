/// What hangs loose beyond a piece that slides and what it leaves: of two boards on one pipe one is in the other's way,
/// and so is one of two pipes in line.
#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/moves/sliding_piece.hpp"

namespace dryfit::planner {

using model::kNone;
using model::Vec3;

bool SlidingPiece::in_the_way_beyond(int v, bool with_k) {
  if (kind != MoveKind::slide || v == impl.list.room() || impl.marked(v) || !in_cluster(v)) return false;
  // What hangs together with the others without K goes where they go; all else stays with K, which holds the room.
  if (with_k != (k_has_room && !linked_by.contains(v))) return false;
  if (in_r(v)) return false;
  auto found = hanging.find(v);
  if (found == hanging.end()) found = hanging.emplace(v, hangs_by(v, with_k)).first;
  return found->second.by != model::kNone;
}

Hanging SlidingPiece::hangs_by(int v, bool with_k) {
  // The boards that leave are K's, and the pipes R's; where K holds the room and keeps the piece, the other way round.
  const auto left_by_board = [&](int line) {
    return std::any_of(left_out.begin(), left_out.end(), [&](ContactId c) {
      const Contact& hole = impl.contact(c);
      return hole.line == line && impl.marked(impl.list.vertex(hole.a)) != with_k;
    });
  };
  for (const int member : impl.explorer.piece(state, v, Without{.holes_along = d}, Undoer::kNoCap)) {
    if (member == impl.list.room() || !impl.is_board(member)) continue;
    for (const ContactId h : impl.contacts_at(member)) {
      const Contact& hole = impl.contact(h);
      if (!state.made(h) || !hole_like(hole.kind) || !parallel(hole.axis, d)) continue;
      if (with_k ? !impl.marked(hole.b) : !in_r(hole.b)) continue;
      if (left_by_board(hole.line)) return {h, member};
    }
  }
  return {};
}

void SlidingPiece::hold_beyond(int v, std::vector<ContactId>& held) {
  const auto found = hanging.find(v);
  if (found == hanging.end() || found->second.by == model::kNone) return;
  const ContactId by = found->second.by;
  held.push_back(by);
  impl.way(state, v, found->second.end, Without{.holes_along = d}, held);
  const int pipe = impl.contact(by).b;
  if (impl.marked(pipe)) {
    hold_in_k(pipe, held);
  } else {
    way_to_r(pipe, &held);
  }
}

ContactId SlidingPiece::hung_on_line(int v, int line) {
  const std::vector<int> piece = impl.explorer.piece(state, v, Without{.holes_along = d}, Undoer::kNoCap);
  for (const HoleOnLine& h : impl.index.holes_on(line)) {
    const Contact& hole = impl.contact(h.contact);
    if (!state.made(h.contact) || std::find(piece.begin(), piece.end(), hole.b) == piece.end()) continue;
    if (k_has_room ? impl.marked(hole.a) : in_r(hole.a)) return h.contact;
  }
  return kNone;
}

std::optional<Refusal> SlidingPiece::meets_end_to_end() {
  const Vec3 sweep = d.unit() * (k_has_room ? -travel : travel);
  const auto moves = [this](int v) { return k_has_room ? in_cluster(v) && in_r(v) : impl.marked(v); };
  for (const ContactId c : left_out) {
    const Contact& leaving = impl.contact(c);
    if (!moves(leaving.b)) continue;
    for (const int j : impl.index.on_line(leaving.line)) {
      const Body& other = impl.index.bodies()[dryfit::at(j)];
      if (impl.is_board(other.part) || impl.marked(other.part) || !in_cluster(other.part)) continue;
      // To ask what hangs together takes longer than to see that two are not in line with each other's way.
      for (const int i : impl.index.on_line(leaving.line)) {
        const Body& body = impl.index.bodies()[dryfit::at(i)];
        if (!k_has_room && !impl.marked(body.part)) continue;
        if (!model::hits(body.solid, other.solid, sweep, impl.touch(body.part, other.part))) continue;
        if (goes_apart(impl.frame, impl.list, body.part, other.part, sweep) || !moves(body.part)) continue;
        if (in_r(other.part) || linked_by.contains(other.part)) break;
        const ContactId by = hung_on_line(other.part, leaving.line);
        if (by == kNone) break;
        Refusal r = refuse(Refusal::Why::hits_part, body.part, other.part);
        r.held_by.insert(r.held_by.end(), {c, by});
        impl.way(state, other.part, impl.contact(by).b, Without{.holes_along = d}, r.held_by);
        for (const int v : {impl.contact(by).a, leaving.a, leaving.b, body.part}) hold(v, r.held_by);
        return r;
      }
    }
  }
  return std::nullopt;
}

std::vector<int> SlidingPiece::all_of_r() {
  std::vector<int> all;
  std::unordered_map<int, bool> seen;
  for (const int end : r_ends) {
    if (seen.contains(end)) continue;
    for (const int v : impl.explorer.piece(state, end, Without{.holes_along = d}, Undoer::kNoCap)) {
      seen.emplace(v, true);
      all.push_back(v);
    }
  }
  return all;
}

}  // namespace dryfit::planner

#include "planner/moves/moves_impl.hpp"

#include <algorithm>
#include <set>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/moves/parting.hpp"

namespace dryfit::planner {

using model::Bounds;
using model::kNone;
using model::Vec3;

ContactId Undoer::Impl::made_fastening(const State& state, PartId board_part) const {
  for (const ContactId c : fastenings_of_board[at(board_part)]) {
    if (state.made(c)) return c;
  }
  return kNone;
}

ContactId Undoer::Impl::laid_on(const State& state, PartId board_part) const {
  for (const ContactId c : contacts_at(board_part)) {
    if (state.made(c) && contact(c).kind == ContactKind::rest && contact(c).b == board_part) return c;
  }
  return kNone;
}

bool Undoer::Impl::goes_along(const State& state, PartId board_part, model::Direction axis) const {
  bool held = false;
  for (const ContactId c : contacts_at(board_part)) {
    if (!state.made(c)) continue;
    const Contact& k = contact(c);
    if (hole_like(k)) {
      if (!parallel(k.axis, axis)) return false;
      held = true;
    } else if (k.kind == ContactKind::rest && k.b == board_part) {
      continue;
    } else {
      return false;
    }
  }
  return held;
}

Bounds Undoer::Impl::swept_bounds(const model::Solid& solid, Vec3 sweep) const {
  Bounds box = bounds_of(solid);
  for (int i = 0; i < 3; ++i) (sweep[i] > 0 ? box.hi : box.lo)[i] += sweep[i];
  return box;
}

bool Undoer::Impl::on_hole_line(PartId board_part, int body, int line) const {
  if (!index.is_on_line(body, line)) return false;
  const auto& holes = index.holes_on(line);
  return std::any_of(holes.begin(), holes.end(), [&](const HoleOnLine& h) { return h.board == board_part; });
}

bool Undoer::Impl::drawn_apart(PartId a, PartId b, Vec3 sweep) const { return planner::drawn_apart(list, a, b, sweep); }

bool Undoer::Impl::lifted_off(PartId board_part, int carrier_body, Vec3 sweep) const {
  return planner::lifted_off(frame, index, board_part, carrier_body, sweep);
}

void Undoer::Impl::way(const State& state, int from, int to, const Without& without, std::vector<ContactId>& contacts) {
  if (from == to) return;
  const Explorer::Split s = explorer.split(state, from, to, without, kNoCap);
  contacts.insert(contacts.end(), s.path.begin(), s.path.end());
}

void Undoer::Impl::finish(const State& state, Move& move, const std::vector<int>& vertices) const {
  for (const int v : vertices) {
    if (v == list.room()) continue;
    move.moving.push_back(v);
    move.mass += part(v).mass;
  }
  std::sort(move.moving.begin(), move.moving.end());
  std::set<PartId> held;
  for (const ContactId c : move.contacts) {
    for (const PartId p : {contact(c).a, contact(c).b}) {
      if (p != model::kRoom && !std::binary_search(move.moving.begin(), move.moving.end(), p)) held.insert(p);
    }
  }
  move.holding.assign(held.begin(), held.end());
  if (move.kind != MoveKind::unscrew) return;
  for (const PartId p : move.moving) {
    if (!is_board(p) || !board(p).laid()) continue;
    const bool rests = std::any_of(contacts_at(p).begin(), contacts_at(p).end(), [&](ContactId c) {
      return state.made(c) && contact(c).kind == ContactKind::rest && contact(c).a == p;
    });
    if (!rests || made_fastening(state, p) != kNone) continue;
    const auto& fastenings = fastenings_of_board[at(p)];
    if (!fastenings.empty()) move.strapped_first.push_back(fastenings.front());
  }
}

Undoer::Impl::Play Undoer::Impl::play_along(const State& state, PartId board_part, int line, double hole,
                                            model::Direction d, double limit, model::Direction axis,
                                            const std::function<bool(PartId)>& in_piece) {
  const model::Board& b = board(board_part);
  const Vec3 unit = d.unit();
  const int n = d.axis();
  const double face = d.unit()[n] > 0 ? b.hi[n] : -b.lo[n];  // coordinate along d of the face that leads
  Play result{limit, kNone};
  const auto stops = [&](PartId p) {
    return p != board_part && in_piece(p) && !(is_board(p) && goes_along(state, p, axis));
  };
  for (const int i : index.on_line(line)) {
    const Body& body = index.bodies()[at(i)];
    if (2.0 * body.solid.radius <= hole - model::kTouch) continue;
    const double p = dot(body.solid.a, unit), q = dot(body.solid.b, unit);
    if (std::max(p, q) <= face + model::kTouch) continue;  // behind, or carries it from behind
    const double gap = std::max(0.0, std::min(p, q) - face);
    if (gap >= result.play || !stops(body.part)) continue;
    result = {gap, body.part};
  }
  for (const model::Solid& box : boxes_of(b)) {
    index.find(swept_bounds(box, unit * result.play), found_);
    const std::vector<int> candidates = found_;
    for (const int i : candidates) {
      const Body& body = index.bodies()[at(i)];
      if (body.part == board_part || index.is_on_line(i, line)) continue;
      // What lies on the line of another hole of this board is judged on that line.
      if (index.line_of(i) != kNone && on_hole_line(board_part, i, index.line_of(i))) continue;
      ++work.clearance_tests;
      const double free = free_travel(box, body.solid, d, result.play, model::kTouch);
      if (free >= result.play || !stops(body.part)) continue;
      result = {free, body.part};
    }
  }
  return result;
}

Undoer::Undoer(const model::Frame& frame, const ContactList& list) : impl_(std::make_unique<Impl>(frame, list)) {}
Undoer::~Undoer() = default;
const model::Frame& Undoer::frame() const { return impl_->frame; }
const ContactList& Undoer::list() const { return impl_->list; }
const BodyIndex& Undoer::index() const { return impl_->index; }

Work Undoer::work() const {
  Work w = impl_->work;
  w.visited = impl_->explorer.visited;
  return w;
}

Attempt Undoer::try_undo(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen) {
  ++impl_->work.attempts;
  Attempt attempt;
  const Contact& contact = impl_->contact(c);
  if (!state.made(c) || (frozen != nullptr && (*frozen)[at(c)] != 0)) {
    attempt.refusals.push_back({});
    return attempt;
  }
  switch (contact.kind) {
    case ContactKind::thread: impl_->unscrew(state, c, cap, attempt); break;
    case ContactKind::nut:
    case ContactKind::fastening:
      attempt.legal = true;
      attempt.move.kind = contact.kind == ContactKind::nut ? MoveKind::undo_nut : MoveKind::unfasten;
      attempt.move.contacts = {c};
      impl_->finish(state, attempt.move, {impl_->list.vertex(contact.a)});
      break;
    case ContactKind::hole:
    case ContactKind::notch:
      impl_->slide(state, c, cap, frozen, attempt);
      if (!attempt.legal && contact.kind == ContactKind::notch) {
        impl_->sideways(state, c, frozen, attempt);
        if (!attempt.legal) impl_->swing(state, c, frozen, attempt);
      }
      break;
    case ContactKind::rest: impl_->take_away(state, c, frozen, attempt); break;
  }
  if (attempt.legal) attempt.refusals.clear();
  for (Refusal& refusal : attempt.refusals) impl_->once_each(refusal.held_by);
  return attempt;
}

std::vector<Move> Undoer::ways(const State& state, ContactId c, std::vector<Refusal>* refusals) {
  std::vector<Move> found;
  if (!state.made(c)) return found;
  const auto tell = [&](const Attempt& attempt) {
    if (refusals != nullptr) refusals->insert(refusals->end(), attempt.refusals.begin(), attempt.refusals.end());
  };
  const ContactKind kind = impl_->contact(c).kind;
  if (kind != ContactKind::hole && kind != ContactKind::notch) {
    impl_->both_sides = true;
    Attempt attempt = try_undo(state, c);
    impl_->both_sides = false;
    tell(attempt);
    if (!attempt.legal) return found;
    found.push_back(std::move(attempt.move));
    for (Move& other : attempt.other_ways) found.push_back(std::move(other));
    return found;
  }
  // A contact with a pipe may go together with different others, depending on the piece that moves.
  ++impl_->work.attempts;
  Attempt slide;
  impl_->slide(state, c, kNoCap, nullptr, slide, &found);
  tell(slide);
  if (kind == ContactKind::notch) {
    Attempt side, quarter;
    impl_->sideways(state, c, nullptr, side);
    tell(side);
    if (side.legal) found.push_back(std::move(side.move));
    impl_->swing(state, c, nullptr, quarter);
    tell(quarter);
    if (quarter.legal) found.push_back(std::move(quarter.move));
  }
  return found;
}

std::vector<Move> Undoer::all_moves(const State& state) {
  std::vector<Move> moves;
  std::set<std::pair<MoveKind, std::vector<ContactId>>> known;
  const auto add = [&](Move&& move) {
    std::vector<ContactId> key = move.contacts;
    std::sort(key.begin(), key.end());
    if (known.emplace(move.kind, std::move(key)).second) moves.push_back(std::move(move));
  };
  const auto n = static_cast<ContactId>(list().contacts.size());
  for (ContactId c = 0; c < n; ++c) {
    if (!state.made(c)) continue;
    if (impl_->contact(c).kind == ContactKind::thread) {
      Attempt attempt = try_undo(state, c);  // which side turns makes no other move
      if (attempt.legal) add(std::move(attempt.move));
    } else {
      for (Move& move : ways(state, c)) add(std::move(move));
    }
  }
  return moves;
}

}  // namespace dryfit::planner

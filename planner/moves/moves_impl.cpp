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

bool Undoer::Impl::leaves_carrier(PartId board_part, PartId carrier, Vec3 sweep) const {
  return planner::leaves_carrier(frame, board_part, carrier, sweep);
}

void Undoer::Impl::way(const State& state, int from, int to, const Without& without, std::vector<ContactId>& contacts) {
  if (from == to) return;
  const Explorer::Split s = explorer.split(state, from, to, without, kNoCap);
  contacts.insert(contacts.end(), s.path.begin(), s.path.end());
}

void Undoer::Impl::finish(const State& state, Move& move, const std::vector<int>& vertices) const {
  move.moving.reserve(vertices.size());
  for (const int v : vertices) {
    if (v == list.room()) continue;
    move.moving.push_back(v);
    move.mass += part(v).mass;
  }
  std::sort(move.moving.begin(), move.moving.end());
  move.holding.clear();
  for (const ContactId c : move.contacts) {
    for (const PartId p : {contact(c).a, contact(c).b}) {
      if (p != model::kRoom && !std::binary_search(move.moving.begin(), move.moving.end(), p))
        move.holding.push_back(p);
    }
  }
  std::sort(move.holding.begin(), move.holding.end());
  move.holding.erase(std::unique(move.holding.begin(), move.holding.end()), move.holding.end());
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

namespace {

/// The judgment that strikes the move out in this state, or null.
const StruckOut* struck_out(const ContactList& list, const State& state, const Move& move) {
  for (const StruckOut& struck : list.struck_out) {
    if (struck.contacts.size() != move.contacts.size() || (!struck.moving.empty() && struck.moving != move.moving))
      continue;
    if (!std::is_permutation(struck.contacts.begin(), struck.contacts.end(), move.contacts.begin())) continue;
    if (std::all_of(struck.made.begin(), struck.made.end(), [&](ContactId c) { return state.made(c); })) return &struck;
  }
  return nullptr;
}

void drop_struck_out(const ContactList& list, const State& state, std::vector<Move>& moves) {
  std::erase_if(moves, [&](const Move& move) { return struck_out(list, state, move) != nullptr; });
}

}  // namespace

Undoer::Undoer(const model::Frame& frame, const ContactList& list) : impl_(std::make_unique<Impl>(frame, list)) {}
Undoer::~Undoer() = default;
const model::Frame& Undoer::frame() const { return impl_->frame; }
const ContactList& Undoer::list() const { return impl_->list; }
const BodyIndex& Undoer::index() const { return impl_->index; }

Work Undoer::work() const {
  Work w = impl_->work;
  w.clearance_tests += impl_->turn_hits.tests + impl_->gaps.tests;
  w.visited = impl_->explorer.visited;
  return w;
}

void Undoer::count_remembered(long long questions) { impl_->work.attempts += questions; }

Attempt Undoer::try_undo(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen) {
  Attempt found = attempt(state, c, cap, frozen);
  if (!found.legal) return found;
  const StruckOut* struck = struck_out(list(), state, found.move);
  if (struck == nullptr) return found;
  if (frozen == nullptr) {
    std::vector<Move> others = ways(state, c);  // none of them is struck out
    if (!others.empty()) {
      found.move = std::move(others.front());
      return found;
    }
  }
  Refusal r;
  r.kind = found.move.kind;
  r.why = Refusal::Why::struck_out;
  r.moving = found.move.moving.empty() ? kNone : found.move.moving.front();
  r.held_by = struck->made;
  found.legal = false;
  found.other_ways.clear();
  found.refusals = {std::move(r)};
  return found;
}

Attempt Undoer::try_briefly(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen) {
  impl_->brief = list().struck_out.empty();  // else it may depend on the side that turns whether it is legal
  Attempt found = try_undo(state, c, cap, frozen);
  impl_->brief = false;
  return found;
}

Attempt Undoer::attempt(const State& state, ContactId c, std::size_t cap, const std::vector<char>* frozen) {
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
      attempt.legal = true;
      attempt.move.kind = MoveKind::undo_nut;
      attempt.move.contacts = {c};
      impl_->finish(state, attempt.move, {impl_->list.vertex(contact.a)});
      break;
    case ContactKind::fastening: impl_->unfasten(state, c, attempt); break;
    case ContactKind::hole:
    case ContactKind::notch:
      impl_->slide(state, c, cap, frozen, attempt);
      if (!attempt.legal && contact.kind == ContactKind::notch) {
        impl_->sideways(state, c, cap, frozen, attempt);
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
  if (!hole_like(kind)) {
    impl_->both_sides = true;
    Attempt either = attempt(state, c, kNoCap, nullptr);
    impl_->both_sides = false;
    tell(either);
    if (!either.legal) return found;
    found.push_back(std::move(either.move));
    for (Move& other : either.other_ways) found.push_back(std::move(other));
    drop_struck_out(list(), state, found);
    return found;
  }
  // A contact with a pipe may go together with different others, depending on the piece that moves.
  ++impl_->work.attempts;
  Attempt slide;
  impl_->slide(state, c, kNoCap, nullptr, slide, &found);
  tell(slide);
  if (kind == ContactKind::notch) {
    Attempt side, quarter;
    impl_->sideways(state, c, kNoCap, nullptr, side, &found);
    tell(side);
    impl_->swing(state, c, nullptr, quarter);
    tell(quarter);
    if (quarter.legal) found.push_back(std::move(quarter.move));
  }
  drop_struck_out(list(), state, found);
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

#include "planner/best/free_moves.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

using model::kRoom;

namespace {

/// Of the piece, without what the move takes off. Ascending.
std::vector<PartId> left_by(const PieceInHand& piece, const Move& move) {
  std::vector<PartId> left;
  std::set_difference(piece.parts.begin(), piece.parts.end(), move.moving.begin(), move.moving.end(),
                      std::back_inserter(left));
  return left;
}

}  // namespace

bool FreeMoves::is_strap(const Contact& c) const {
  return c.kind == ContactKind::fastening &&
         undoer_.frame().fastening(c.fastening).kind == model::Fastening::Kind::strap;
}

/// Nothing but `c` holds the part.
bool FreeMoves::hangs_by(const State& state, PartId part, ContactId c) const {
  const auto& contacts = undoer_.list().at[at(part)];
  return std::all_of(contacts.begin(), contacts.end(), [&](ContactId k) { return k == c || !state.made(k); });
}

/// A strap on a board that lies on the work makes turning the work cheaper. It is free to go only where the board goes
/// at once: then nothing is left to be strapped for a turn.
bool FreeMoves::board_goes_with_straps(const State& state, PartId board) const {
  const ContactList& list = undoer_.list();
  State bare = state;
  ContactId rest = model::kNone;
  for (const ContactId k : list.at[at(board)]) {
    if (!state.made(k)) continue;
    const Contact& c = list.contact(k);
    if (c.kind == ContactKind::rest && c.a == board) rest = k;
    if (c.kind != ContactKind::fastening) continue;
    if (!is_strap(c)) return false;
    bare.undo({k});
  }
  if (rest == model::kNone) return true;  // it hangs on pipes
  Attempt away = undoer_.try_undo(bare, rest);
  return away.legal && away.move.moving.size() == 1 && effort_.price(bare, away.move).total() <= 0.0 &&
         is_easy(bare, away.move);
}

bool FreeMoves::is_easy(const State& state, const Move& move) const {
  if (handling_.trouble(state, move, pose_) > 0.0 || handling_.unwanted(state, move, pose_) > 0.0 ||
      handling_.always_propped(state, move, pose_)) {
    return false;
  }
  // On a wall one piece holds another: parting them may cost a prop, and is for the search.
  return !handling_.hangs() || pose_ == Pose::laid || leaves_one_piece(state, move);
}

bool FreeMoves::leaves_one_piece(const State& state, const Move& move) const {
  const PieceInHand before = handling_.piece_of(state, move);
  State after = state;
  after.undo(move.contacts);
  for (const ContactId c : undoer_.list().at[at(undoer_.list().room())]) after.undo({c});
  const std::vector<PartId> rest = left_by(before, move);
  return std::all_of(rest.begin(), rest.end(),
                     [&](PartId p) { return after.cluster(p) == after.cluster(rest.front()); });
}

FreeMoves::Ease FreeMoves::ease_of(const State& state, PricedMove& priced) const {
  Move& move = priced.move;
  const ContactId c = move.contacts.front();
  const Contact& first = undoer_.list().contact(c);
  const auto unless_awkward = [&](bool free) {
    return !free ? Ease::dear : is_easy(state, move) ? Ease::free : Ease::awkward;
  };
  if (move.kind == MoveKind::unfasten || move.kind == MoveKind::undo_nut) {
    priced.extra = {};
    // What hangs on a wall and is not screwed to it has to be held: when to screw it on is for the search.
    if (first.b == kRoom) return unless_awkward(!handling_.hangs());
    if (is_strap(first)) return unless_awkward(board_goes_with_straps(state, first.a));
    // Undone first it is free where it closes a ring, and makes the ring's other joint dear: that is for the search.
    if (!hangs_by(state, first.a, c) && !hangs_by(state, first.b, c)) return Ease::dear;
    priced.extra = effort_.price(state, move);
    return unless_awkward(priced.extra.total() <= 0.0);
  }
  std::vector<PricedMove> both = effort_.price_both_ways(state, move);
  std::vector<Ease> ease;
  for (const PricedMove& way : both) {
    const bool free = way.move.moving.size() == 1 && way.extra.total() <= 0.0;
    ease.push_back(!free ? Ease::dear : is_easy(state, way.move) ? Ease::free : Ease::awkward);
  }
  const auto best = std::max_element(ease.begin(), ease.end());
  priced = std::move(both[at(best - ease.begin())]);
  return *best;
}

/// Without asking: a thread comes free only of a part that hangs on nothing else but holes on its axis, a board or pipe
/// slides off alone only when nothing but holes holds it.
bool FreeMoves::may_be_free(const State& state, ContactId c) const {
  const ContactList& list = undoer_.list();
  const Contact& asked = list.contact(c);
  const bool hole = asked.kind == ContactKind::hole || asked.kind == ContactKind::notch;
  const bool joins_two = asked.kind == ContactKind::nut || (asked.kind == ContactKind::fastening && asked.b != kRoom);
  if (joins_two && !is_strap(asked)) return hangs_by(state, asked.a, c) || hangs_by(state, asked.b, c);
  if (asked.kind != ContactKind::thread && !hole) return true;
  const auto bare = [&](PartId part) {
    const auto& contacts = list.at[at(part)];
    return std::all_of(contacts.begin(), contacts.end(), [&](ContactId k) {
      if (k == c || !state.made(k)) return true;
      const Contact& other = list.contact(k);
      return (other.kind == ContactKind::hole || other.kind == ContactKind::notch) &&
             (hole || other.line == asked.line);
    });
  };
  return bare(asked.a) || bare(asked.b);
}

FreeMoves::Ease FreeMoves::ask(const State& state, ContactId c, PricedMove& priced, std::vector<ContactId>& watch,
                               bool& legal) {
  if (const std::vector<ContactId>* grounds = refused_.find(state, c)) {
    legal = false;
    watch = *grounds;
    return Ease::dear;
  }
  Attempt attempt = undoer_.try_undo(state, c);
  legal = attempt.legal;
  if (!attempt.legal) {
    watch = refused_.keep(c, attempt.refusals);
    return Ease::dear;
  }
  priced.move = std::move(attempt.move);
  Ease best = ease_of(state, priced);
  if (best == Ease::free) return best;
  if (priced.move.kind != MoveKind::unscrew && priced.move.kind != MoveKind::slide) return best;
  for (Move& other : undoer_.ways(state, c)) {
    PricedMove one{std::move(other), {}};
    const Ease ease = ease_of(state, one);
    if (ease <= best) continue;
    best = ease;
    priced = std::move(one);
    if (best == Ease::free) break;
  }
  return best;
}

/// Whatever is left of the work that the move is made on stands in the pose, or nothing does that is left.
bool FreeMoves::stands_without(const State& state, const Move& move) const {
  PieceInHand rest = handling_.piece_of(state, move);
  if (rest.held) return true;
  std::vector<PartId> left = left_by(rest, move);
  if (left.size() < 2) return true;
  rest.parts = std::move(left);
  return !handling_.propped(rest, pose_);
}

ContactId FreeMoves::choose(const State& state, const std::vector<PricedMove>& ready, const std::set<ContactId>& open,
                            const Place& last, const std::vector<PartId>& just_moved) const {
  std::vector<std::pair<UndoKey, ContactId>> keys;
  for (const ContactId c : open) {
    const Move& move = ready[at(c)].move;
    keys.emplace_back(key_of(undoer_.frame(), undoer_.list(), effort_, state, move, last, just_moved), c);
  }
  const auto best = std::min_element(keys.begin(), keys.end());
  // Whether it stands is looked at for frames of a size that is searched in earnest, and where the pose lets it tip.
  constexpr std::size_t kLookedAt = 300;
  if (pose_ == Pose::laid || undoer_.list().contacts.size() > kLookedAt ||
      stands_without(state, ready[at(best->second)].move)) {
    return best->second;
  }
  std::sort(keys.begin(), keys.end());
  for (const auto& [key, c] : keys) {
    if (stands_without(state, ready[at(c)].move)) return c;
  }
  return keys.front().second;
}

std::vector<PricedMove> FreeMoves::peel(State& state, Place last) {
  const ContactList& list = undoer_.list();
  const std::size_t n = list.contacts.size();
  std::vector<PricedMove> result;
  std::vector<PricedMove> ready(n);
  std::set<ContactId> open;                     // contacts whose move in `ready` is free
  std::set<ContactId> dear;                     // not free yet; asked again once a bare part makes it likely
  std::vector<std::set<ContactId>> waiting(n);  // per contact: those to ask again when it has gone
  const auto wait_for = [&](ContactId c, const std::vector<ContactId>& watch) {
    for (const ContactId h : watch) waiting[at(h)].insert(c);
  };
  // What is awkward in the pose stays so until one of its parts has lost another contact.
  const auto wait_for_parts = [&](ContactId c) {
    const Contact& contact = list.contact(c);
    for (const PartId p : {contact.a, contact.b}) {
      if (p != kRoom) wait_for(c, list.at[at(p)]);
    }
  };
  const auto consider = [&](ContactId c) {
    const auto i = at(c);
    if (!state.made(c) || open.count(c) != 0) return;
    if (!may_be_free(state, c)) {
      dear.insert(c);
      return;
    }
    std::vector<ContactId> watch;
    bool legal = false;
    dear.erase(c);
    const Ease ease = ask(state, c, ready[i], watch, legal);
    if (ease == Ease::free) {
      open.insert(c);
    } else if (ease == Ease::awkward) {
      wait_for_parts(c);
    } else if (legal) {
      dear.insert(c);
    }
    wait_for(c, watch);
  };
  for (ContactId c = 0; c < static_cast<ContactId>(n); ++c) consider(c);

  std::vector<PartId> just_moved;
  for (;;) {
    for (auto c = dear.begin(); c != dear.end();) {
      const ContactId likely = *c++;
      if (may_be_free(state, likely)) consider(likely);
    }
    if (open.empty()) return result;
    const ContactId best = choose(state, ready, open, last, just_moved);
    open.erase(best);
    // Asked again: what goes along may have become less since.
    std::vector<ContactId> watch;
    bool legal = false;
    PricedMove priced;
    const Ease ease = ask(state, best, priced, watch, legal);
    if (ease != Ease::free) {
      wait_for(best, watch);
      if (ease == Ease::awkward) wait_for_parts(best);
      if (ease == Ease::dear && legal) dear.insert(best);
      continue;
    }
    state.undo(priced.move.contacts);
    for (const ContactId gone : priced.move.contacts) {
      open.erase(gone);
      dear.erase(gone);
    }
    std::set<ContactId> again;
    for (const ContactId gone : priced.move.contacts) {
      for (const ContactId w : std::exchange(waiting[at(gone)], {})) again.insert(w);
    }
    for (const ContactId w : again) consider(w);
    last = place_of(list, effort_, priced.move);
    just_moved = priced.move.moving;
    result.push_back(std::move(priced));
  }
}

}  // namespace dryfit::planner

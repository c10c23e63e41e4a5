#include "planner/best/free_moves.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/peel/waiting_lists.hpp"

namespace dryfit::planner {

using model::kRoom;

namespace {

/// Questions that finding out about a dear move takes: for one way, and for all.
constexpr long long kOneWayAndAll = 2;

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
  return board_goes(bare, rest);
}

/// The board of a rest comes off at once, at no extra and easily.
bool FreeMoves::board_goes(const State& state, ContactId rest) const {
  Attempt away = undoer_.try_undo(state, rest);
  if (!away.legal || away.move.moving.size() != 1) return false;
  const PricedMove priced = effort_.price(state, std::move(away.move));
  return priced.extra.avoidable() <= 0.0 && is_easy(state, priced.move);
}

bool FreeMoves::is_easy(const State& state, const Move& move) const {
  if (handling_.trouble(state, move, pose_) > 0.0 || handling_.unwanted(state, move, pose_) > 0.0 ||
      handling_.always_propped(state, move, pose_)) {
    return false;
  }
  if (!handling_.leaves_no_link(state, move)) return false;
  if (move.kind == MoveKind::unfasten && effort_.heavy_last().is_needed(state, move.contacts.front())) return false;
  // A board that is left loose, or on what has lost its feet, makes turning the work or laying the board dearer.
  if (!handling_.leaves_boards_safe(state, move,
                                    [this](const State& after, ContactId rest) { return board_goes(after, rest); })) {
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
  const Move& move = priced.move;  // is replaced with its price
  const ContactId c = move.contacts.front();
  const Contact& first = undoer_.list().contact(c);
  const auto unless_awkward = [&](bool free) {
    return !free ? Ease::dear : is_easy(state, move) ? Ease::free : Ease::awkward;
  };
  if (move.kind == MoveKind::unfasten || move.kind == MoveKind::undo_nut) {
    priced.extra = {};
    if (first.b == kRoom) {
      priced = effort_.price(state, move);
      // What hangs on a wall and is not screwed to it has to be held: when to screw it on is for the search.
      return unless_awkward(!handling_.hangs() && priced.extra.avoidable() <= 0.0);
    }
    if (is_strap(first)) return unless_awkward(board_goes_with_straps(state, first.a));
    // Undone first it is free where it closes a ring, and makes the ring's other joint dear: that is for the search.
    if (!hangs_by(state, first.a, c) && !hangs_by(state, first.b, c)) return Ease::dear;
    priced = effort_.price(state, move);
    return unless_awkward(priced.extra.avoidable() <= 0.0);
  }
  std::vector<PricedMove> both = effort_.price_both_ways(state, std::move(priced.move));
  std::vector<Ease> ease;
  for (const PricedMove& way : both) {
    const bool free = way.move.moving.size() == 1 && way.extra.avoidable() <= 0.0;
    ease.push_back(!free ? Ease::dear : is_easy(state, way.move) ? Ease::free : Ease::awkward);
  }
  const auto best = std::max_element(ease.begin(), ease.end());
  priced = std::move(both[at(best - ease.begin())]);
  return *best;
}

bool FreeMoves::is_bare(const State& state, PartId part, ContactId c, int line) const {
  const auto& contacts = undoer_.list().at[at(part)];
  return std::all_of(contacts.begin(), contacts.end(), [&](ContactId k) {
    if (k == c || !state.made(k)) return true;
    const Contact& other = undoer_.list().contact(k);
    const bool hole = hole_like(other.kind);
    return hole && (line == model::kNone || other.line == line);
  });
}

/// Without asking: a thread comes free only of a part that hangs on nothing else but holes on its axis, a board or pipe
/// slides off alone only when nothing but holes holds it.
bool FreeMoves::may_be_free(const State& state, ContactId c) const {
  const Contact& asked = undoer_.list().contact(c);
  const bool hole = hole_like(asked.kind);
  const bool joins_two = asked.kind == ContactKind::nut || (asked.kind == ContactKind::fastening && asked.b != kRoom);
  if (joins_two && !is_strap(asked)) return hangs_by(state, asked.a, c) || hangs_by(state, asked.b, c);
  if (asked.kind != ContactKind::thread && !hole) return true;
  const int line = hole ? model::kNone : asked.line;
  return is_bare(state, asked.a, c, line) || is_bare(state, asked.b, c, line);
}

bool FreeMoves::costs_extra(const State& state, ContactId c) const {
  const Contact& thread = undoer_.list().contact(c);
  if (thread.kind != ContactKind::thread) return false;
  const auto comes_off_free = [&](PartId part) {
    if (!is_bare(state, part, c, thread.line)) return false;
    Move alone;
    alone.kind = MoveKind::unscrew;
    alone.contacts = {c};
    alone.moving = {part};
    return effort_.price(state, std::move(alone)).extra.total() <= 0.0;
  };
  return !comes_off_free(thread.a) && !comes_off_free(thread.b);
}

FreeMoves::Memory::OfState& FreeMoves::Memory::of(const State& state, Pose pose) {
  if (answers_ > kMost) {
    known_.clear();
    answers_ = 0;
  }
  std::string key(state.all().begin(), state.all().end());
  key.push_back(static_cast<char>('a' + static_cast<int>(pose)));
  return known_[std::move(key)];
}

FreeMoves::Asked FreeMoves::ask(const State& state, ContactId c) {
  Asked asked;
  if (const SharedRefusals known = refused_.find(state, c)) {
    asked.legal = false;
    asked.watch = {known, &known->held_by()};
    return asked;
  }
  Attempt attempt = undoer_.try_undo(state, c);
  if (!attempt.legal) {
    const SharedRefusals refusals = std::make_shared<const Refusals>(std::move(attempt.refusals));
    refused_.keep(c, refusals);
    asked.legal = false;
    asked.watch = {refusals, &refusals->held_by()};
    return asked;
  }
  asked.priced.move = std::move(attempt.move);
  asked.ease = ease_of(state, asked.priced);
  const MoveKind kind = asked.priced.move.kind;
  if (asked.ease == Ease::free || (kind != MoveKind::unscrew && kind != MoveKind::slide)) return asked;
  for (Move& other : undoer_.ways(state, c)) {
    PricedMove one{std::move(other), {}};
    const Ease ease = ease_of(state, one);
    if (ease <= asked.ease) continue;
    asked.ease = ease;
    asked.priced = std::move(one);
    if (ease == Ease::free) break;
  }
  return asked;
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

ContactId FreeMoves::choose(const State& state, const std::vector<SharedAsked>& ready, const std::set<ContactId>& open,
                            const Place& last, const std::vector<PartId>& just_moved) const {
  std::vector<std::pair<UndoKey, ContactId>> keys;
  for (const ContactId c : open) {
    const Move& move = ready[at(c)]->priced.move;
    keys.emplace_back(key_of(undoer_.frame(), undoer_.list(), effort_, state, move, last, just_moved), c);
  }
  const auto best = std::min_element(keys.begin(), keys.end());
  // Whether it stands is looked at for frames of a size that is searched in earnest, and where the pose lets it tip.
  constexpr std::size_t kLookedAt = 300;
  if (pose_ == Pose::laid || undoer_.list().contacts.size() > kLookedAt ||
      stands_without(state, ready[at(best->second)]->priced.move)) {
    return best->second;
  }
  std::sort(keys.begin(), keys.end());
  for (const auto& [key, c] : keys) {
    if (stands_without(state, ready[at(c)]->priced.move)) return c;
  }
  return keys.front().second;
}

bool FreeMoves::fell_apart(const State& state, const std::vector<ContactId>& gone) const {
  const ContactList& list = undoer_.list();
  int piece = model::kNone;
  for (const ContactId c : gone) {
    for (const int v : {list.vertex(list.contact(c).a), list.vertex(list.contact(c).b)}) {
      const auto& contacts = list.at[at(v)];
      if (std::none_of(contacts.begin(), contacts.end(), [&](ContactId k) { return state.made(k); })) continue;
      if (piece == model::kNone) piece = state.cluster(v);
      if (state.cluster(v) != piece) return true;
    }
  }
  return false;
}

/// One peeling. A contact is open (its move in `ready_` is free), dear (legal, but not free yet), or waits for others
/// to go.
class FreeMoves::Round {
 public:
  Round(FreeMoves& moves, State& state, Place last)
      : moves_(moves),
        list_(moves.undoer_.list()),
        state_(state),
        last_(std::move(last)),
        ready_(list_.contacts.size()),
        waiting_(list_.contacts.size()) {}

  std::vector<SharedPriced> run() {
    for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) consider(c);
    for (;;) {
      consider_dear_ones();
      if (open_.empty()) return std::move(done_);
      const ContactId best = moves_.choose(state_, ready_, open_, last_, just_moved_);
      open_.erase(best);
      // Asked again: what goes along may have become less since.
      const SharedAsked asked = ask(best);
      if (asked->ease == Ease::free) {
        take_off({asked, &asked->priced});
        if (moves_.fell_apart(state_, asked->priced.move.contacts)) return std::move(done_);
      } else {
        put_off(best, *asked);
      }
    }
  }

 private:
  /// As FreeMoves::ask, unless that has been asked in this state before.
  SharedAsked ask(ContactId c) {
    if (known_ == nullptr) known_ = &moves_.memory_.of(state_, moves_.pose_);
    const auto known = std::lower_bound(known_->begin(), known_->end(), c,
                                        [](const auto& one, ContactId other) { return one.first < other; });
    if (known != known_->end() && known->first == c) {
      moves_.undoer_.count_remembered(known->second->questions);
      return known->second;
    }
    const long long before = moves_.undoer_.work().attempts;
    Asked now = moves_.ask(state_, c);
    now.questions = moves_.undoer_.work().attempts - before;
    if (now.ease != Ease::free) now.priced = {};  // nobody makes it as it is
    ++moves_.memory_.answers_;
    return known_->emplace(known, c, std::make_shared<const Asked>(std::move(now)))->second;
  }

  /// Finds out where the contact stands now.
  void consider(ContactId c) {
    if (!state_.made(c) || open_.count(c) != 0) return;
    if (!moves_.may_be_free(state_, c)) {
      dear_.insert(c);
      return;
    }
    if (moves_.costs_extra(state_, c)) {
      moves_.undoer_.count_remembered(kOneWayAndAll);
      dear_.insert(c);
      return;
    }
    dear_.erase(c);
    const SharedAsked asked = ask(c);
    if (asked->ease != Ease::free) return put_off(c, *asked);
    ready_[at(c)] = asked;
    open_.insert(c);
  }

  /// Dear ones are asked again once a bare part makes it likely.
  void consider_dear_ones() {
    const std::vector<ContactId> dear(dear_.begin(), dear_.end());
    for (const ContactId c : dear) {
      if (moves_.may_be_free(state_, c)) consider(c);
    }
  }

  void put_off(ContactId c, const Asked& asked) {
    if (asked.ease == Ease::awkward) {
      wait_for_parts(c);
    } else if (asked.legal) {
      dear_.insert(c);
    }
    if (asked.watch != nullptr) waiting_.wait(c, asked.watch);
  }

  /// What is awkward in the pose stays so until one of its parts has lost another contact, or what it carries is off.
  void wait_for_parts(ContactId c) {
    const Contact& contact = list_.contact(c);
    waiting_.wait(c, moves_.effort_.heavy_last().needs(c));
    for (const PartId p : {contact.a, contact.b}) {
      if (p != kRoom) waiting_.wait(c, list_.at[at(p)]);
    }
  }

  void take_off(SharedPriced priced) {
    state_.undo(priced->move.contacts);
    known_ = nullptr;
    std::set<ContactId> again;
    for (const ContactId gone : priced->move.contacts) {
      open_.erase(gone);
      dear_.erase(gone);
      for (const ContactId c : waiting_.of(gone)) again.insert(c);
      waiting_.drop(gone);
    }
    for (const ContactId c : again) consider(c);
    last_ = place_of(list_, moves_.effort_, priced->move);
    just_moved_ = priced->move.moving;
    done_.push_back(std::move(priced));
  }

  FreeMoves& moves_;
  const ContactList& list_;
  State& state_;
  Place last_;
  std::vector<SharedAsked> ready_;  ///< per contact
  std::set<ContactId> open_;
  std::set<ContactId> dear_;
  WaitingLists waiting_;
  std::vector<PartId> just_moved_;
  Memory::OfState* known_ = nullptr;  ///< of the state as it is now, once it has been asked for
  std::vector<SharedPriced> done_;
};

std::vector<SharedPriced> FreeMoves::peel(State& state, Place last) {
  return Round(*this, state, std::move(last)).run();
}

}  // namespace dryfit::planner

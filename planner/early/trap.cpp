#include "planner/early/trap.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>
#include <optional>
#include <tuple>

namespace dryfit::planner {

RefusalMemory refusals_when_whole(Undoer& undoer) {
  const State whole(undoer.list());
  RefusalMemory memory(whole.all().size());
  for (ContactId c = 0; c < static_cast<ContactId>(whole.all().size()); ++c) {
    Attempt attempt = undoer.try_undo(whole, c);
    if (!attempt.legal) memory.keep(c, std::make_shared<const Refusals>(std::move(attempt.refusals)));
  }
  return memory;
}

namespace {

/// What could come off instead of that move. Screws: into the room those of a flange that is parted from its pipe, and
/// any where more than half of the frame is turned; into a board those of a flange that is turned with it. And caps
/// that are turned with the pipe under them.
std::vector<ContactId> easier_instead(const Undoer& undoer, const Move& move) {
  constexpr std::size_t kMost = 16;  // each takes a try of the whole way
  const ContactList& list = undoer.list();
  const Contact& joint = list.contact(move.contacts.front());
  std::vector<ContactId> screws;
  if (joint.kind != ContactKind::thread) return screws;
  const bool turns_most = 2 * move.moving.size() > undoer.frame().parts.size();
  const auto turned = [&](PartId p) { return std::binary_search(move.moving.begin(), move.moving.end(), p); };
  for (std::size_t c = 0; c < list.contacts.size() && screws.size() < kMost; ++c) {
    const Contact& contact = list.contacts[c];
    const bool both = contact.b != model::kRoom && turned(contact.a) && turned(contact.b);
    bool helps = false;
    if (contact.kind == ContactKind::fastening) {
      helps = contact.b == model::kRoom ? turns_most || contact.a == joint.a || contact.a == joint.b : both;
    } else if (contact.kind == ContactKind::thread) {
      helps = both && undoer.frame().part(contact.b).kind == model::PartKind::cap;
    }
    if (helps) screws.push_back(static_cast<ContactId>(c));
  }
  return screws;
}

/// The way with `instead` undone at its move `swapped`; nothing where a move of it is not legal so. Contacts of `own`
/// may go later and together: they are free.
std::optional<std::vector<Move>> with_swapped(Undoer& undoer, const std::vector<ContactId>& own,
                                              const std::vector<Move>& way, std::size_t swapped, ContactId instead) {
  State state(undoer.list());
  std::vector<Move> out;
  const auto is_own = [&](ContactId c) { return std::binary_search(own.begin(), own.end(), c); };
  const auto stays = [&](ContactId c) { return state.made(c); };
  const auto go = [&](const std::vector<ContactId>& wanted) {
    const auto next = std::find_if(wanted.begin(), wanted.end(), stays);
    if (next == wanted.end()) return true;
    Attempt attempt = undoer.try_undo(state, *next);
    const std::vector<ContactId>& gone = attempt.move.contacts;
    const bool meant = std::all_of(gone.begin(), gone.end(), [&](ContactId c) {
      return is_own(c) || std::find(wanted.begin(), wanted.end(), c) != wanted.end();
    });
    if (!attempt.legal || !meant) return false;
    state.undo(gone);
    out.push_back(std::move(attempt.move));
    return true;
  };
  for (std::size_t i = 0; i < way.size(); ++i) {
    const bool free = i != swapped && std::all_of(way[i].contacts.begin(), way[i].contacts.end(), is_own);
    if (!go(i == swapped ? std::vector<ContactId>{instead} : way[i].contacts) && !free) return std::nullopt;
  }
  for (bool more = true; more;) {
    more = false;
    for (const ContactId c : own) more = (state.made(c) && go({c})) || more;
  }
  return std::any_of(own.begin(), own.end(), stays) ? std::nullopt : std::optional(std::move(out));
}

bool is_undone(const std::vector<Move>& way, ContactId c) {
  return std::any_of(way.begin(), way.end(), [&](const Move& move) {
    return std::find(move.contacts.begin(), move.contacts.end(), c) != move.contacts.end();
  });
}

/// The screws of a flange come out more easily than a pipe out of the flange, with all that hangs on it, or half of the
/// frame off a joint, and a cap more easily than the pipe under it: where a way can take either, it takes the easy one.
/// As many moves as before.
void prefer_easy(Undoer& undoer, const NamedPart& part, std::vector<Move>& way) {
  const auto is_own = [&](ContactId c) { return std::binary_search(part.contacts.begin(), part.contacts.end(), c); };
  // Of two caps the one may come off in place of its pipe only once the other does: once more round.
  for (std::size_t n = 0, all = 2 * way.size(); n < all; ++n) {
    const std::size_t i = n % way.size();
    if (is_own(way[i].contacts.front())) continue;
    for (const ContactId screws : easier_instead(undoer, way[i])) {
      if (is_own(screws) || is_undone(way, screws)) continue;
      auto other = with_swapped(undoer, part.contacts, way, i, screws);
      if (!other) continue;
      way = std::move(*other);
      break;
    }
  }
}

/// The joint at the other end of the pipe that the thread is one of; kNone where there is none.
ContactId at_other_end(const ContactList& list, ContactId thread) {
  const PartId pipe = list.contact(thread).a;
  for (const ContactId c : list.at[dryfit::at(pipe)]) {
    if (c != thread && list.contact(c).kind == ContactKind::thread && list.contact(c).a == pipe) return c;
  }
  return model::kNone;
}

/// Pipes side by side are let go at the same height, where a way can take either end: that is told, and made, as one.
/// As many moves as before.
void prefer_alike(Undoer& undoer, const NamedPart& part, std::vector<Move>& way) {
  constexpr double kSameHeight = 1.0;  // mm
  const ContactList& list = undoer.list();
  const auto first = [&](const Move& move) { return move.contacts.front(); };
  const auto beside = [&](std::size_t i, ContactId thread) {
    const Contact& mine = list.contact(thread);
    return std::count_if(way.begin(), way.end(), [&](const Move& move) {
      const Contact& its = list.contact(first(move));
      return &move != &way[i] && its.kind == ContactKind::thread && model::parallel(its.axis, mine.axis) &&
             std::abs(dot(its.on_axis - mine.on_axis, mine.axis.unit())) < kSameHeight;
    });
  };
  // An end may be let go only once another one is: once more round.
  for (std::size_t n = 0, all = 2 * way.size(); n < all; ++n) {
    const std::size_t i = n % way.size();
    const ContactId now = first(way[i]);
    if (list.contact(now).kind != ContactKind::thread ||
        std::binary_search(part.contacts.begin(), part.contacts.end(), now)) {
      continue;
    }
    const ContactId other = at_other_end(list, now);
    if (other == model::kNone || is_undone(way, other) || beside(i, other) <= beside(i, now)) continue;
    if (auto alike = with_swapped(undoer, part.contacts, way, i, other)) way = std::move(*alike);
  }
}

}  // namespace

Price price_of(Undoer& undoer, const NamedPart& part, long long budget, const RefusalMemory* known,
               std::shared_ptr<Knots> knots) {
  Price price;
  price.out = fewest_moves(undoer, State(undoer.list()), Wanted{part.contacts, part.contacts, {}}, budget, known,
                           nullptr, std::move(knots));
  prefer_easy(undoer, part, price.out.moves);
  prefer_alike(undoer, part, price.out.moves);
  const auto own = [&](ContactId c) { return std::binary_search(part.contacts.begin(), part.contacts.end(), c); };
  for (const Move& move : price.out.moves) {
    std::copy_if(move.contacts.begin(), move.contacts.end(), std::back_inserter(price.comes_off),
                 [&](ContactId c) { return !own(c); });
  }
  return price;
}

EarlyPart early_facts(Undoer& undoer, const NamedPart& part, const StepContacts& steps, const EarlyBudget& budget) {
  EarlyPart early;
  early.part = part;
  early.last_call = last_call(undoer, part.contacts, steps);
  if (budget.most_lockouts > 0) {
    early.lockouts =
        lockouts_of(undoer, part.contacts, budget.most_lockouts, budget.widest_lockout, budget.lockouts, budget.known);
  }
  early.depth = fewest_moves(undoer, State(undoer.list()), Wanted{part.contacts, {}, {}}, budget.price, budget.known,
                             nullptr, budget.knots);
  early.price = price_of(undoer, part, budget.price, budget.known, budget.knots);
  return early;
}

std::vector<std::size_t> traps_worst_first(const std::vector<EarlyPart>& parts) {
  std::vector<std::size_t> traps;
  for (std::size_t i = 0; i < parts.size(); ++i) {
    if (parts[i].last_call.trap) traps.push_back(i);
  }
  std::stable_sort(traps.begin(), traps.end(), [&](std::size_t a, std::size_t b) {
    const auto rank = [&](std::size_t i) {
      return std::tuple(-parts[i].price.at_most(), !parts[i].part.board, parts[i].last_call.step);
    };
    return rank(a) < rank(b);
  });
  return traps;
}

FewestMoves price_when_closed(Undoer& undoer, const std::vector<ContactId>& own, const std::vector<char>& made,
                              long long budget) {
  Wanted wanted;
  wanted.unmet = [&](const State& state) -> std::optional<Hold> {
    const HalfBuilt now = half_built(undoer, own, state.all());
    if (!now.closed) return std::nullopt;
    return Hold{now.held_by, now.stuck};
  };
  return fewest_moves(undoer, State(undoer.list(), made), wanted, budget);
}

}  // namespace dryfit::planner

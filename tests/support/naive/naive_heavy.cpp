#include "tests/support/naive/naive_heavy.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "tests/support/naive/naive_pieces.hpp"

namespace dryfit::test {
namespace {

using planner::Contact;
using planner::ContactId;
using planner::ContactKind;
using planner::ContactList;

bool lies_or_hangs(const Contact& c) {
  return c.kind == ContactKind::hole || c.kind == ContactKind::notch || c.kind == ContactKind::rest;
}

/// More than one person may lift at that distance from the body: NIOSH Publication 94-110, 23 kg times 25 cm / H, with
/// H of 20 cm and half of the lesser width; nothing beyond 63 cm but what one hand holds.
bool takes_two(const model::Frame& frame, int part) {
  const model::Bounds box = box_of(frame, {part});
  const double h = std::max(250.0, 200.0 + std::min(box.hi.x - box.lo.x, box.hi.y - box.lo.y) / 2.0);
  return mass(frame, {part}) > std::max(h > 630.0 ? 0.0 : 23.0 * 250.0 / h, rate("in-one-hand"));
}

}  // namespace

NaiveHeavy::NaiveHeavy(planner::Undoer& undoer) : undoer_(undoer) {
  const model::Frame& frame = undoer.frame();
  const ContactList& list = undoer.list();
  const std::vector<char> whole(list.contacts.size(), 1);
  for (const model::Board& drawn : frame.boards) {
    if (!takes_two(frame, drawn.part)) continue;
    Board board;
    board.part = drawn.part;
    std::set<int> carrying;
    for (ContactId c = 0; c < static_cast<ContactId>(whole.size()); ++c) {
      const Contact& k = contact(list, c);
      if (k.a != drawn.part || !lies_or_hangs(k)) continue;
      board.on.insert(c);
      carrying.merge(together(list, whole, k.b, [&](const Contact& held) {
        return !lies_or_hangs(held) && held.a != drawn.part && held.b != drawn.part && held.b != model::kRoom;
      }));
    }
    for (ContactId c = 0; c < static_cast<ContactId>(whole.size()); ++c) {
      if (contact(list, c).b == model::kRoom && carrying.count(contact(list, c).a) != 0) board.feet.insert(c);
    }
    if (!comes_off(board, board.feet)) {
      std::set<ContactId> alone;
      for (const ContactId foot : board.feet) {
        if (comes_off(board, {foot})) alone.insert(foot);
      }
      board.feet = comes_off(board, alone) ? alone : std::set<ContactId>{};
    }
    if (!board.on.empty() && !board.feet.empty()) boards_.push_back(std::move(board));
  }
}

/// Whatever can be undone is, but for what is kept.
bool NaiveHeavy::comes_off(const Board& board, const std::set<ContactId>& kept) const {
  std::vector<char> made(undoer_.list().contacts.size(), 1);
  for (bool again = true; again;) {
    again = false;
    for (ContactId c = 0; c < static_cast<ContactId>(made.size()) && !again; ++c) {
      if (made[at(c)] == 0 || kept.count(c) != 0) continue;
      for (const planner::Move& move : undoer_.ways(planner::State(undoer_.list(), made), c)) {
        const auto stays = [&](ContactId k) { return kept.count(k) != 0; };
        if (std::any_of(move.contacts.begin(), move.contacts.end(), stays)) continue;
        for (const ContactId k : move.contacts) made[at(k)] = 0;
        again = true;
        break;
      }
    }
  }
  return std::none_of(board.on.begin(), board.on.end(), [&](ContactId c) { return made[at(c)] != 0; });
}

double NaiveHeavy::too_early(const std::vector<char>& made, const planner::Move& move) const {
  const ContactList& list = undoer_.list();
  std::vector<char> rest = made;
  for (const ContactId c : move.contacts) rest[at(c)] = 0;
  double cost = 0.0;
  for (const Board& board : boards_) {
    const auto on = [&](const std::vector<char>& now) {
      return std::any_of(board.on.begin(), board.on.end(), [&](ContactId c) { return now[at(c)] != 0; });
    };
    if (!on(made) || on(rest)) continue;
    const bool all_fast =
        std::all_of(board.feet.begin(), board.feet.end(), [&](ContactId c) { return made[at(c)] != 0; });
    if (all_fast && together(list, made, board.part).count(list.room()) != 0) continue;
    cost += rate("heavy-before-feet") * static_cast<double>(std::min<std::size_t>(4, board.feet.size()));
  }
  return cost;
}

}  // namespace dryfit::test

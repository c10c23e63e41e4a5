#include "planner/effort/heavy_last.hpp"

#include <limits>
#include <utility>

#include "planner/peel/peeler.hpp"

namespace dryfit::planner {

using model::kRoom;

namespace {

/// The board's own hole, slot or rest, not what lies on it.
bool carries(const Contact& c, PartId board) { return c.a == board && !takes_own_move(c.kind); }

bool all_made(const State& state, const std::vector<ContactId>& contacts) {
  return std::all_of(contacts.begin(), contacts.end(), [&](ContactId c) { return state.made(c); });
}

}  // namespace

HeavyLast::HeavyLast(const Undoer& undoer, const std::vector<PartId>& heavy, const std::vector<char>& holds_together)
    : list_(undoer.list()), boards_of_(list_.contacts.size()), needs_(list_.contacts.size()) {
  if (heavy.empty() || list_.contacts.size() > kLookedAt) return;
  Undoer own(undoer.frame(), list_);  // what is asked here is no part of any search
  std::vector<ContactId> joints;
  for (ContactId c = 0; c < static_cast<ContactId>(list_.contacts.size()); ++c) {
    if (holds_together[at(c)] != 0) joints.push_back(c);
  }
  for (const PartId part : heavy) {
    Board board;
    board.part = part;
    for (const ContactId c : list_.at[at(part)]) {
      if (carries(list_.contact(c), part)) board.on.push_back(c);
    }
    board.feet = feet_of(part);
    if (board.on.empty() || board.feet.empty()) continue;
    keep_what_leaves_room(own, board);
    if (board.feet.empty()) continue;
    find_holds(own, board, joints);
    take(std::move(board));
  }
}

void HeavyLast::take(Board board) {
  for (const ContactId foot : board.feet) {
    boards_of_[at(foot)].push_back(boards_.size());
    std::vector<ContactId>& needs = needs_[at(foot)];
    needs.insert(needs.end(), board.on.begin(), board.on.end());
    needs.insert(needs.end(), board.feet.begin(), board.feet.end());
    std::sort(needs.begin(), needs.end());
    needs.erase(std::unique(needs.begin(), needs.end()), needs.end());
    std::erase(needs, foot);
  }
  boards_.push_back(std::move(board));
}

/// Screws to the room of the pieces that carry the board in the finished frame. Ascending.
std::vector<ContactId> HeavyLast::feet_of(PartId board) const {
  std::vector<char> seen(list_.at.size(), 0);
  seen[at(board)] = 1;
  std::vector<PartId> piece;
  std::vector<ContactId> feet;
  const auto reach = [&](PartId p) {
    if (std::exchange(seen[at(p)], 1) == 0) piece.push_back(p);
  };
  for (const ContactId c : list_.at[at(board)]) {
    if (carries(list_.contact(c), board)) reach(list_.contact(c).b);
  }
  for (std::size_t i = 0; i < piece.size(); ++i) {
    for (const ContactId k : list_.at[at(piece[i])]) {
      const Contact& c = list_.contact(k);
      if (!takes_own_move(c.kind)) continue;
      if (c.b == kRoom) {
        feet.push_back(k);
      } else {
        reach(c.a == piece[i] ? c.b : c.a);
      }
    }
  }
  std::sort(feet.begin(), feet.end());
  return feet;
}

/// The board can go on when these feet are fast.
bool HeavyLast::goes_after(Undoer& undoer, const Board& board, const std::vector<ContactId>& feet) {
  std::vector<char> frozen(undoer.list().contacts.size(), 0);
  for (const ContactId foot : feet) frozen[at(foot)] = 1;
  return Peeler(undoer, State(undoer.list()), std::move(frozen)).run_until_gone(board.on);
}

/// Leaves of the board's feet those after which it can go on.
void HeavyLast::keep_what_leaves_room(Undoer& undoer, Board& board) {
  if (goes_after(undoer, board, board.feet)) return;
  std::erase_if(board.feet, [&](ContactId foot) { return !goes_after(undoer, board, {foot}); });
  if (!board.feet.empty() && !goes_after(undoer, board, board.feet)) board.feet.clear();
}

/// Set after set: as few joints as keep the board on with the feet fast, found by leaving out ever smaller shares.
void HeavyLast::find_holds(Undoer& undoer, Board& board, std::vector<ContactId> joints) {
  constexpr int kMostAsked = 400;  // holds that are not found make the bound weaker, not wrong
  const auto stays_with = [&](const std::vector<ContactId>& kept) {
    ++asked_;
    std::vector<ContactId> all = board.feet;
    all.insert(all.end(), kept.begin(), kept.end());
    return !goes_after(undoer, board, all);
  };
  while (asked_ < kMostAsked && stays_with(joints)) {
    std::vector<ContactId> hold = joints;
    for (std::size_t share = (hold.size() + 1) / 2; share > 0; share /= 2) {
      for (std::size_t i = 0; i < hold.size();) {
        const auto from = hold.begin() + static_cast<std::ptrdiff_t>(i);
        const auto to = hold.begin() + static_cast<std::ptrdiff_t>(std::min(i + share, hold.size()));
        std::vector<ContactId> fewer(hold.begin(), from);
        fewer.insert(fewer.end(), to, hold.end());
        if (stays_with(fewer)) {
          hold = std::move(fewer);
        } else {
          i += share;
        }
      }
    }
    if (hold.empty()) return;  // the feet alone hold it
    std::erase_if(joints, [&](ContactId c) { return std::binary_search(hold.begin(), hold.end(), c); });
    board.holds.push_back(std::move(hold));
  }
}

bool HeavyLast::is_on(const State& made, const Board& board) {
  return std::any_of(board.on.begin(), board.on.end(), [&](ContactId c) { return made.made(c); });
}

/// All of its feet are made, and it hangs together with them.
bool HeavyLast::stands_fast(const State& made, const Board& board) const {
  return made.holds_room(list_.vertex(board.part)) && all_made(made, board.feet);
}

std::size_t HeavyLast::too_early(const State& before, const Move& move) const {
  std::size_t feet = 0;
  const auto stays = [&](ContactId c) {
    return before.made(c) && std::find(move.contacts.begin(), move.contacts.end(), c) == move.contacts.end();
  };
  for (const Board& board : boards_) {
    if (!is_on(before, board) || std::any_of(board.on.begin(), board.on.end(), stays)) continue;
    if (!stands_fast(before, board)) feet += board.counted();
  }
  return feet;
}

bool HeavyLast::is_needed(const State& made, ContactId foot) const {
  const std::vector<std::size_t>& boards = boards_of_[at(foot)];
  return std::any_of(boards.begin(), boards.end(),
                     [&](std::size_t b) { return is_on(made, boards_[b]) && stands_fast(made, boards_[b]); });
}

double HeavyLast::least(const State& made, double a_foot, double on_room) const {
  constexpr std::size_t kMostWeighed = 6;
  double sure = 0.0;
  std::vector<const Board*> open;  // still fast
  for (const Board& board : boards_) {
    if (!is_on(made, board)) continue;
    if (!stands_fast(made, board)) {
      sure += a_foot * static_cast<double>(board.counted());
    } else if (open.size() < kMostWeighed) {
      open.push_back(&board);
    }
  }
  double least = std::numeric_limits<double>::infinity();
  for (std::size_t fast = 0; fast < std::size_t{1} << open.size(); ++fast) {
    double sum = 0.0;
    std::vector<ContactId> met;
    for (std::size_t i = 0; i < open.size(); ++i) {
      if ((fast >> i & 1) == 0) {
        sum += a_foot * static_cast<double>(open[i]->counted());
        continue;
      }
      for (const std::vector<ContactId>& hold : open[i]->holds) {
        const auto is_met = [&](ContactId c) { return std::find(met.begin(), met.end(), c) != met.end(); };
        if (!all_made(made, hold) || std::any_of(hold.begin(), hold.end(), is_met)) continue;
        met.insert(met.end(), hold.begin(), hold.end());
        sum += on_room;
      }
    }
    least = std::min(least, sum);
  }
  return sure + least;
}

}  // namespace dryfit::planner

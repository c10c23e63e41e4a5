/// Frames in which a post has to be turned in the holes of boards that are already on.
#include <doctest/doctest.h>

#include <algorithm>

#include "model/placing/reader.hpp"
#include "planner/moves/moves.hpp"
#include "tests/support/program/program.hpp"

namespace dryfit::planner {
namespace {

/// A thread undone while a board sits on its pipe, with one of the two turning against the other.
bool turns_in_a_board(const ContactList& list, const State& state, const Move& move) {
  if (move.kind != MoveKind::unscrew) return false;
  const Contact& thread = list.contact(move.contacts.front());
  const auto moves = [&](PartId part) { return std::binary_search(move.moving.begin(), move.moving.end(), part); };
  for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
    const Contact& hole = list.contact(c);
    if (hole.kind != ContactKind::hole || hole.b != thread.a || !state.made(c)) continue;
    if (moves(thread.a)) return true;
    // The fitting's side turns: the board goes along when another of its pipes does.
    for (ContactId o = 0; o < static_cast<ContactId>(list.contacts.size()); ++o) {
      const Contact& other = list.contact(o);
      if (other.kind == ContactKind::hole && other.a == hole.a && state.made(o) && moves(other.b)) return true;
    }
  }
  return false;
}

/// The contacts left when everything is undone that can be without turning a pipe in a board.
std::vector<std::string> left_without_turning_in_boards(const std::string& name) {
  const std::string path = tests::scenario(name);
  const model::Frame frame = model::read_frame(tests::slurp(path), path);
  const ContactList list = contacts_of(frame);
  Undoer undoer(frame, list);
  State state(list);
  for (bool more = true; more;) {
    more = false;
    for (const Move& move : undoer.all_moves(state)) {
      bool all_made = true;
      for (const ContactId c : move.contacts) all_made = all_made && state.made(c);
      if (!all_made) continue;
      // all_moves names one side of a thread; either may be the one that turns in no board.
      const std::vector<Move> ways = undoer.ways(state, move.contacts.front());
      const auto way =
          std::find_if(ways.begin(), ways.end(), [&](const Move& w) { return !turns_in_a_board(list, state, w); });
      if (way == ways.end()) continue;
      state.undo(way->contacts);
      more = true;
    }
  }
  std::vector<std::string> left;
  for (ContactId c = 0; c < static_cast<ContactId>(list.contacts.size()); ++c) {
    if (state.made(c)) left.push_back(list.contact(c).id);
  }
  return left;
}

}  // namespace

TEST_CASE("no order of the glove stand does without turning a post in the board") {
  const std::vector<std::string> left = left_without_turning_in_boards("glove-stand");
  const auto holds = [&](const char* id) { return std::find(left.begin(), left.end(), id) != left.end(); };
  CHECK(holds("P1/E1.up"));
  CHECK(holds("P2/E2.up"));
  CHECK(holds("B1/P1"));
  CHECK(holds("B1/P2"));
}

TEST_CASE("the pole of the hall rack may be turned in its shelves but need not be") {
  CHECK(left_without_turning_in_boards("hall-rack").empty());
}

}  // namespace dryfit::planner

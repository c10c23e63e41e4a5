#include "planner/moves/known_sides.hpp"

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

/// Whatever is made in `less` is made in `more`. Eight contacts at a time: each is nought or one.
bool within(const std::vector<char>& less, const std::vector<char>& more) {
  std::size_t i = 0;
  for (; i + sizeof(std::uint64_t) <= less.size(); i += sizeof(std::uint64_t)) {
    std::uint64_t some = 0, all = 0;
    std::memcpy(&some, less.data() + i, sizeof some);
    std::memcpy(&all, more.data() + i, sizeof all);
    if ((some & ~all) != 0) return false;
  }
  for (; i < less.size(); ++i) {
    if (less[i] != 0 && more[i] == 0) return false;
  }
  return true;
}

/// Puts what was found to the front.
template <class T>
bool used(std::vector<T>& known, typename std::vector<T>::iterator found) {
  if (found == known.end()) return false;
  std::rotate(known.begin(), found, found + 1);
  return true;
}

}  // namespace

KnownSides::Known KnownSides::of(const State& state, ContactId thread, bool male) {
  Side& one = side(thread, male);
  const auto turns = std::find_if(one.turns.begin(), one.turns.end(),
                                  [&](const std::vector<char>& made) { return within(state.all(), made); });
  if (used(one.turns, turns)) return Known::turns;
  const auto stays = std::find_if(one.stays.begin(), one.stays.end(), [&](const std::vector<ContactId>& held_by) {
    return std::all_of(held_by.begin(), held_by.end(), [&](ContactId c) { return state.made(c); });
  });
  return used(one.stays, stays) ? Known::stays : Known::nothing;
}

void KnownSides::keep_turning(const State& state, ContactId thread, bool male) {
  std::vector<std::vector<char>>& turns = side(thread, male).turns;
  std::erase_if(turns, [&](const std::vector<char>& made) { return within(made, state.all()); });
  if (turns.size() == kMost) turns.pop_back();
  turns.insert(turns.begin(), state.all());
}

void KnownSides::keep_staying(ContactId thread, bool male, std::vector<ContactId> held_by) {
  std::vector<std::vector<ContactId>>& stays = side(thread, male).stays;
  if (stays.size() == kMost) stays.pop_back();
  stays.insert(stays.begin(), std::move(held_by));
}

}  // namespace dryfit::planner

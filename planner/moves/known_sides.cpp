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

KnownSides::Known KnownSides::of(const State& state, ContactId contact, bool one, std::size_t parts) {
  Side& of = side(contact, one);
  const auto goes = std::find_if(of.goes.begin(), of.goes.end(), [&](const Going& going) {
    return going.parts == parts && within(state.all(), going.made);
  });
  if (used(of.goes, goes)) return Known::goes;
  const auto stays = std::find_if(of.stays.begin(), of.stays.end(), [&](const Staying& staying) {
    return std::all_of(staying.held_by.begin(), staying.held_by.end(), [&](ContactId c) { return state.made(c); });
  });
  return used(of.stays, stays) ? Known::stays : Known::nothing;
}

void KnownSides::keep_going(const State& state, ContactId contact, bool one, std::size_t parts) {
  std::vector<Going>& goes = side(contact, one).goes;
  std::erase_if(goes, [&](const Going& going) { return going.parts == parts && within(going.made, state.all()); });
  if (goes.size() == kMost) goes.pop_back();
  goes.insert(goes.begin(), Going{parts, state.all()});
}

void KnownSides::keep_staying(ContactId contact, bool one, std::vector<ContactId> held_by, std::vector<Refusal> told) {
  std::vector<Staying>& stays = side(contact, one).stays;
  if (stays.size() == kMost) stays.pop_back();
  stays.insert(stays.begin(), Staying{std::move(held_by), std::move(told)});
}

const std::vector<Refusal>* KnownSides::told(ContactId contact, bool one) const {
  const std::vector<Staying>& stays = known_[at(contact)][one ? 0 : 1].stays;
  return stays.empty() || stays.front().told.empty() ? nullptr : &stays.front().told;
}

}  // namespace dryfit::planner

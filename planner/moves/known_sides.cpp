#include "planner/moves/known_sides.hpp"

#include <algorithm>
#include <cstdint>
#include <cstring>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

/// Contacts are compared so many at a time: each is nought or one.
constexpr std::size_t kBlock = sizeof(std::uint64_t);

/// Of the block that begins at a place: whatever is made in `less` is made in `more`.
bool block_within(const std::vector<char>& less, const std::vector<char>& more, std::size_t place) {
  std::uint64_t some = 0, all = 0;
  const auto copy = [&](std::size_t bytes) {
    std::memcpy(&some, less.data() + place, bytes);
    std::memcpy(&all, more.data() + place, bytes);
  };
  const std::size_t left = less.size() - place;
  left < kBlock ? copy(left) : copy(kBlock);  // of a size that is known beforehand no call is made
  return (some & ~all) == 0;
}

/// The first place where more is made in `less` than in `more`, as far as blocks tell; the end where there is none.
std::size_t first_beyond(const std::vector<char>& less, const std::vector<char>& more) {
  std::size_t place = 0;
  while (place < less.size() && block_within(less, more, place)) place += kBlock;
  return std::min(place, less.size());
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
  // States that follow each other differ little: one look is enough for most that do not stand.
  const std::vector<char>& made = state.all();
  const auto goes = std::find_if(of.goes.begin(), of.goes.end(), [&](Going& going) {
    if (going.parts != parts) return false;
    if (going.beyond < made.size() && !block_within(made, going.made, going.beyond)) return false;
    going.beyond = first_beyond(made, going.made);
    return going.beyond == made.size();
  });
  if (used(of.goes, goes)) return Known::goes;
  const auto stays = std::find_if(of.stays.begin(), of.stays.end(), [&](Staying& staying) {
    if (staying.missed != model::kNone && !state.made(staying.missed)) return false;
    const auto gone =
        std::find_if(staying.held_by.begin(), staying.held_by.end(), [&](ContactId c) { return !state.made(c); });
    if (gone == staying.held_by.end()) return true;
    staying.missed = *gone;
    return false;
  });
  return used(of.stays, stays) ? Known::stays : Known::nothing;
}

void KnownSides::keep_going(const State& state, ContactId contact, bool one, std::size_t parts) {
  std::vector<Going>& goes = side(contact, one).goes;
  std::erase_if(goes, [&](const Going& going) {
    return going.parts == parts && first_beyond(going.made, state.all()) == going.made.size();
  });
  if (goes.size() == kMost) goes.pop_back();
  goes.insert(goes.begin(), Going{parts, state.all(), 0});
}

void KnownSides::keep_staying(ContactId contact, bool one, std::vector<ContactId> held_by, std::vector<Refusal> told) {
  std::vector<Staying>& stays = side(contact, one).stays;
  if (stays.size() == kMost) stays.pop_back();
  stays.insert(stays.begin(), Staying{std::move(held_by), std::move(told), model::kNone});
}

const std::vector<Refusal>* KnownSides::told(ContactId contact, bool one) const {
  const std::vector<Staying>& stays = known_[at(contact)][one ? 0 : 1].stays;
  return stays.empty() || stays.front().told.empty() ? nullptr : &stays.front().told;
}

}  // namespace dryfit::planner

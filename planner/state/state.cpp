#include "planner/state/state.hpp"

#include <algorithm>
#include <array>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

bool leaves_out_parts(const Without& without) {
  return without.rests_of != model::kNone || without.everything_of != model::kNone;
}

}  // namespace

State::State(const ContactList& list) : State(list, std::vector<char>(list.contacts.size(), 1)) {}

State::State(const ContactList& list, const std::vector<char>& made)
    : list_(&list), made_(made), cluster_(list.at.size(), -1) {
  count_ = static_cast<int>(std::count_if(made_.begin(), made_.end(), [](char m) { return m != 0; }));
  std::vector<int> open;
  for (int v = 0; v < static_cast<int>(list.at.size()); ++v) {
    if (cluster_[dryfit::at(v)] != -1) continue;
    cluster_[dryfit::at(v)] = clusters_;
    open.assign(1, v);
    while (!open.empty()) {
      const int at = open.back();
      open.pop_back();
      for (const ContactList::Link& link : list.links_of(at)) {
        if (made_[dryfit::at(link.contact)] == 0 || cluster_[dryfit::at(link.other)] != -1) continue;
        cluster_[dryfit::at(link.other)] = clusters_;
        open.push_back(link.other);
      }
    }
    ++clusters_;
  }
}

bool State::counts(ContactId c, const Without& without) const {
  if (!made(c) || c == without.contact) return false;
  const Contact& contact = list_->contact(c);
  if (hole_like(contact.kind)) {
    if (contact.line == without.holes_on_line) return false;
    if (without.holes_along.valid() && parallel(contact.axis, without.holes_along)) return false;
  }
  if (without.rests_of != model::kNone && contact.kind == ContactKind::rest && contact.a == without.rests_of)
    return false;
  return without.everything_of == model::kNone ||
         (contact.a != without.everything_of && contact.b != without.everything_of);
}

namespace {

/// Marks of vertices, kept from call to call: looking at few vertices must not cost as much as there are.
struct Sides {
  std::vector<long long> seen;
  std::array<std::vector<int>, 2> side;
  long long stamp = 0;
};

}  // namespace

void State::undo(const std::vector<ContactId>& contacts) {
  thread_local Sides kept;
  Sides& sides = kept;
  const std::size_t vertices = list_->at.size();
  if (sides.seen.size() < vertices) {
    sides.seen.resize(vertices, 0);
    for (std::vector<int>& side : sides.side) side.resize(vertices);
  }
  long long* const seen = sides.seen.data();
  const std::array<int*, 2> side{sides.side[0].data(), sides.side[1].data()};
  for (const ContactId c : contacts) {
    if (!made(c)) continue;
    made_[dryfit::at(c)] = 0;
    --count_;
    // Grow both ends in step; the end that is found whole first gets a cluster of its own.
    const Contact& contact = list_->contact(c);
    const std::array<int, 2> start{list_->vertex(contact.a), list_->vertex(contact.b)};
    const long long stamp = sides.stamp += 2;
    std::array<std::size_t, 2> next{0, 0}, count{1, 1};
    for (std::size_t s = 0; s < 2; ++s) {
      side[s][0] = start[s];
      seen[start[s]] = stamp + static_cast<long long>(s);
    }
    bool joined = start[0] == start[1];
    int whole = -1;
    while (!joined && whole < 0) {
      for (std::size_t s = 0; s < 2 && !joined && whole < 0; ++s) {
        if (next[s] == count[s]) {
          whole = static_cast<int>(s);
          break;
        }
        for (const ContactList::Link& link : list_->links_of(side[s][next[s]++])) {
          if (made_[dryfit::at(link.contact)] == 0) continue;
          long long& mark = seen[link.other];
          if (mark < stamp) {
            mark = stamp + static_cast<long long>(s);
            side[s][count[s]++] = link.other;
          } else if (mark != stamp + static_cast<long long>(s)) {
            joined = true;
            break;
          }
        }
      }
    }
    if (joined) continue;
    const auto which = dryfit::at(whole);
    for (std::size_t i = 0; i < count[which]; ++i) cluster_[dryfit::at(side[which][i])] = clusters_;
    ++clusters_;
  }
}

Explorer::Explorer(const ContactList& list) : list_(&list), seen_(list.at.size()) {
  for (std::vector<int>& open : open_) open.resize(list.at.size());
}

std::vector<int> Explorer::piece(const State& state, int start, const Without& without, std::size_t cap) {
  stamp_ += 2;
  const bool parts = leaves_out_parts(without);
  Seen* const seen = seen_.data();
  int* const found = open_[0].data();
  std::size_t count = 1;
  found[0] = start;
  seen[start].mark = stamp_;
  for (std::size_t i = 0; i < count; ++i) {
    ++visited;
    for (const ContactList::Link& link : list_->links_of(found[i])) {
      if (!counts(state, link, without, parts)) continue;
      const int v = link.other;
      if (seen[v].mark == stamp_) continue;
      seen[v].mark = stamp_;
      found[count++] = v;
      if (count > cap) return {};
    }
  }
  return {found, found + count};
}

void Explorer::walk_back(int from, std::vector<ContactId>& contacts) const {
  for (const Seen* at = &seen_[dryfit::at(from)]; at->by != model::kNone; at = &seen_[dryfit::at(at->from)]) {
    contacts.push_back(at->by);
  }
}

Explorer::Split Explorer::split(const State& state, int first, int second, const Without& without, std::size_t cap) {
  stamp_ += 2;
  const bool parts = leaves_out_parts(without);
  Split result;
  Seen* const seen = seen_.data();
  const std::array<int*, 2> side{open_[0].data(), open_[1].data()};
  std::array<std::size_t, 2> next{0, 0}, count{1, 1};
  side[0][0] = first;
  side[1][0] = second;
  for (std::size_t s = 0; s < 2; ++s)
    seen[side[s][0]] = {stamp_ + static_cast<long long>(s), model::kNone, model::kNone};
  for (;;) {
    for (std::size_t s = 0; s < 2; ++s) {
      const long long own = stamp_ + static_cast<long long>(s);
      if (next[s] == count[s]) {
        result.small.assign(side[s], side[s] + count[s]);
        result.small_has_first = s == 0;
        return result;
      }
      ++visited;
      const int at = side[s][next[s]++];
      for (const ContactList::Link& link : list_->links_of(at)) {
        if (!counts(state, link, without, parts)) continue;
        Seen& other = seen[link.other];
        if (other.mark < stamp_) {
          other = {own, link.contact, at};
          side[s][count[s]++] = link.other;
        } else if (other.mark != own) {
          result.joined = true;
          result.path.push_back(link.contact);
          walk_back(at, result.path);
          walk_back(link.other, result.path);
          return result;
        }
      }
    }
    if (count[0] > cap && count[1] > cap) {
      result.capped = true;
      return result;
    }
  }
}

bool Explorer::path(const State& state, int start, const Without& without, const std::function<bool(int)>& goal,
                    std::vector<ContactId>* contacts) {
  stamp_ += 2;
  const bool parts = leaves_out_parts(without);
  Seen* const seen = seen_.data();
  int* const found = open_[0].data();
  std::size_t count = 1;
  found[0] = start;
  seen[start] = {stamp_, model::kNone, model::kNone};
  for (std::size_t i = 0; i < count; ++i) {
    ++visited;
    const int at = found[i];
    if (goal(at)) {
      if (contacts != nullptr) walk_back(at, *contacts);
      return true;
    }
    for (const ContactList::Link& link : list_->links_of(at)) {
      if (!counts(state, link, without, parts)) continue;
      Seen& other = seen[link.other];
      if (other.mark == stamp_) continue;
      other = {stamp_, link.contact, at};
      found[count++] = link.other;
    }
  }
  return false;
}

}  // namespace dryfit::planner

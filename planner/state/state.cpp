#include "planner/state/state.hpp"

#include <algorithm>
#include <array>

#include "model/geometry/at.hpp"

namespace dryfit::planner {
namespace {

int other_end(const ContactList& list, ContactId c, int vertex) {
  const Contact& contact = list.contact(c);
  const int a = list.vertex(contact.a);
  return a == vertex ? list.vertex(contact.b) : a;
}

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
      for (const ContactId c : list.at[dryfit::at(at)]) {
        if (made_[dryfit::at(c)] == 0) continue;
        const int next = other_end(list, c, at);
        if (cluster_[dryfit::at(next)] != -1) continue;
        cluster_[dryfit::at(next)] = clusters_;
        open.push_back(next);
      }
    }
    ++clusters_;
  }
}

bool State::counts(ContactId c, const Without& without) const {
  if (!made(c) || c == without.contact) return false;
  const Contact& contact = list_->contact(c);
  if (contact.kind == ContactKind::hole || contact.kind == ContactKind::notch) {
    if (contact.line == without.holes_on_line) return false;
    if (without.holes_along.valid() && parallel(contact.axis, without.holes_along)) return false;
  }
  if (without.rests_of != model::kNone && contact.kind == ContactKind::rest && contact.a == without.rests_of)
    return false;
  return without.everything_of == model::kNone ||
         (contact.a != without.everything_of && contact.b != without.everything_of);
}

void State::undo(const std::vector<ContactId>& contacts) {
  // Marks of vertices, kept from call to call: looking at few vertices must not cost as much as there are.
  thread_local std::vector<long long> seen;
  thread_local std::array<std::vector<int>, 2> side;
  thread_local long long stamp = 0;
  if (seen.size() < list_->at.size()) seen.resize(list_->at.size(), 0);
  for (const ContactId c : contacts) {
    if (!made(c)) continue;
    made_[dryfit::at(c)] = 0;
    --count_;
    // Grow both ends in step; the end that is found whole first gets a cluster of its own.
    const Contact& contact = list_->contact(c);
    const std::array<int, 2> start{list_->vertex(contact.a), list_->vertex(contact.b)};
    stamp += 2;
    std::array<std::size_t, 2> next{0, 0};
    for (std::size_t s = 0; s < 2; ++s) {
      side[s].assign(1, start[s]);
      seen[dryfit::at(start[s])] = stamp + static_cast<long long>(s);
    }
    bool joined = start[0] == start[1];
    int whole = -1;
    while (!joined && whole < 0) {
      for (std::size_t s = 0; s < 2 && !joined && whole < 0; ++s) {
        if (next[s] == side[s].size()) {
          whole = static_cast<int>(s);
          break;
        }
        const int at = side[s][next[s]++];
        for (const ContactId e : list_->at[dryfit::at(at)]) {
          if (made_[dryfit::at(e)] == 0) continue;
          const int v = other_end(*list_, e, at);
          long long& mark = seen[dryfit::at(v)];
          if (mark < stamp) {
            mark = stamp + static_cast<long long>(s);
            side[s].push_back(v);
          } else if (mark != stamp + static_cast<long long>(s)) {
            joined = true;
            break;
          }
        }
      }
    }
    if (joined) continue;
    for (const int v : side[dryfit::at(whole)]) cluster_[dryfit::at(v)] = clusters_;
    ++clusters_;
  }
}

Explorer::Explorer(const ContactList& list)
    : list_(&list), mark_(list.at.size(), 0), by_(list.at.size(), model::kNone), side_(list.at.size(), 0) {
  first_.reserve(list.at.size() + 1);
  links_.reserve(2 * list.contacts.size());
  for (int v = 0; v < static_cast<int>(list.at.size()); ++v) {
    first_.push_back(static_cast<int>(links_.size()));
    for (const ContactId c : list.at[dryfit::at(v)]) {
      const ContactKind kind = list.contact(c).kind;
      links_.push_back({c, other_end(list, c, v), kind == ContactKind::hole || kind == ContactKind::notch});
    }
  }
  first_.push_back(static_cast<int>(links_.size()));
}

std::vector<int> Explorer::piece(const State& state, int start, const Without& without, std::size_t cap) {
  ++stamp_;
  const bool parts = leaves_out_parts(without);
  std::vector<int> found{start};
  mark_[dryfit::at(start)] = stamp_;
  for (std::size_t i = 0; i < found.size(); ++i) {
    ++visited;
    for (const Link& link : links_of(found[i])) {
      if (!counts(state, link, without, parts)) continue;
      const int v = link.other;
      if (mark_[dryfit::at(v)] == stamp_) continue;
      mark_[dryfit::at(v)] = stamp_;
      found.push_back(v);
      if (found.size() > cap) return {};
    }
  }
  return found;
}

Explorer::Split Explorer::split(const State& state, int first, int second, const Without& without, std::size_t cap) {
  ++stamp_;
  const bool parts = leaves_out_parts(without);
  Split result;
  // Kept from call to call: this is asked more often than anything else, and most answers are thrown away.
  thread_local std::array<std::vector<int>, 2> side;
  side[0].assign(1, first);
  side[1].assign(1, second);
  std::array<std::size_t, 2> next{0, 0};
  for (std::size_t s = 0; s < 2; ++s) {
    const auto v = dryfit::at(side[s][0]);
    mark_[v] = stamp_;
    side_[v] = static_cast<char>(s);
    by_[v] = model::kNone;
  }
  const auto walk_back = [&](int from) {
    while (by_[dryfit::at(from)] != model::kNone) {
      const ContactId c = by_[dryfit::at(from)];
      result.path.push_back(c);
      from = other_end(*list_, c, from);
    }
  };
  for (;;) {
    for (std::size_t s = 0; s < 2; ++s) {
      if (next[s] == side[s].size()) {
        result.small.assign(side[s].begin(), side[s].end());
        result.small_has_first = s == 0;
        return result;
      }
      ++visited;
      const int at = side[s][next[s]++];
      for (const Link& link : links_of(at)) {
        if (!counts(state, link, without, parts)) continue;
        const int v = link.other;
        const auto i = dryfit::at(v);
        if (mark_[i] != stamp_) {
          mark_[i] = stamp_;
          side_[i] = static_cast<char>(s);
          by_[i] = link.contact;
          side[s].push_back(v);
        } else if (side_[i] != static_cast<char>(s)) {
          result.joined = true;
          result.path.push_back(link.contact);
          walk_back(at);
          walk_back(v);
          return result;
        }
      }
    }
    if (side[0].size() > cap && side[1].size() > cap) {
      result.capped = true;
      return result;
    }
  }
}

bool Explorer::path(const State& state, int start, const Without& without, const std::function<bool(int)>& goal,
                    std::vector<ContactId>* contacts) {
  ++stamp_;
  const bool parts = leaves_out_parts(without);
  std::vector<int> found{start};
  mark_[dryfit::at(start)] = stamp_;
  by_[dryfit::at(start)] = model::kNone;
  for (std::size_t i = 0; i < found.size(); ++i) {
    ++visited;
    const int at = found[i];
    if (goal(at)) {
      if (contacts != nullptr) {
        for (int v = at; by_[dryfit::at(v)] != model::kNone;) {
          const ContactId c = by_[dryfit::at(v)];
          contacts->push_back(c);
          v = other_end(*list_, c, v);
        }
      }
      return true;
    }
    for (const Link& link : links_of(at)) {
      if (!counts(state, link, without, parts)) continue;
      const int v = link.other;
      if (mark_[dryfit::at(v)] == stamp_) continue;
      mark_[dryfit::at(v)] = stamp_;
      by_[dryfit::at(v)] = link.contact;
      found.push_back(v);
    }
  }
  return false;
}

}  // namespace dryfit::planner

#include "planner/early/lockout.hpp"

#include <algorithm>
#include <optional>

#include "model/geometry/at.hpp"
#include "planner/early/hitting_set.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

constexpr long long kLockoutNodes = 5000;

class LockoutSearch {
 public:
  LockoutSearch(Undoer& undoer, const std::vector<ContactId>& own, long long budget, const RefusalMemory* known)
      : undoer_(undoer),
        whole_(undoer.list()),
        memory_(known != nullptr ? *known : RefusalMemory(whole_.all().size())),
        own_(own),
        start_(undoer.work().attempts),
        budget_(budget) {
    nearest_first();
  }

  Lockouts run(int most, int widest) {
    Lockouts result;
    std::vector<std::vector<int>> exits;  // as positions in near_
    std::vector<std::vector<int>> found;
    while (static_cast<int>(found.size()) < most && spent() <= budget_) {
      const HittingSet next = smallest_hitting_set(exits, found, widest, kLockoutNodes);
      if (!next.possible) {
        result.complete = next.proven && !too_wide_left(exits, found, widest);
        break;
      }
      std::vector<ContactId> made;
      for (const int e : next.elements) made.push_back(near_[dryfit::at(e)]);
      const auto exit = exit_without(made);
      if (exit) {
        exits.push_back(*exit);
        continue;
      }
      if (!next.proven) made = shrunk(made);
      std::vector<int>& set = found.emplace_back();
      for (const ContactId c : made) set.push_back(place_[dryfit::at(c)]);
      std::sort(made.begin(), made.end());
      result.sets.push_back(std::move(made));
    }
    return result;
  }

 private:
  [[nodiscard]] long long spent() const { return undoer_.work().attempts - start_; }

  /// Wider lock-outs than asked for may be left even when no more fit within the limit.
  static bool too_wide_left(const std::vector<std::vector<int>>& exits, const std::vector<std::vector<int>>& found,
                            int widest) {
    const int any = 1 << 20;
    return widest < any && smallest_hitting_set(exits, found, any, kLockoutNodes).possible;
  }

  /// All contacts that are not the part's own, by distance from it along the frame.
  void nearest_first() {
    const ContactList& list = undoer_.list();
    std::vector<char> seen(list.contacts.size(), 0), reached(list.at.size(), 0);
    std::vector<int> open;
    const auto reach = [&](int v) {
      if (reached[dryfit::at(v)] != 0) return;
      reached[dryfit::at(v)] = 1;
      open.push_back(v);
    };
    for (const ContactId c : own_) seen[dryfit::at(c)] = 1;
    for (const ContactId c : own_) {
      const Contact& contact = list.contact(c);
      for (const PartId p : {contact.a, contact.b}) {
        if (p != model::kRoom) reach(p);
      }
    }
    place_.assign(list.contacts.size(), model::kNone);
    std::size_t next = 0;
    const auto walk = [&] {
      for (; next < open.size(); ++next) {
        for (const ContactId c : list.at[dryfit::at(open[next])]) {
          if (seen[dryfit::at(c)] != 0) continue;
          seen[dryfit::at(c)] = 1;
          place_[dryfit::at(c)] = static_cast<int>(near_.size());
          near_.push_back(c);
          const Contact& contact = list.contact(c);
          reach(list.vertex(contact.a));
          reach(list.vertex(contact.b));
        }
      }
    };
    walk();
    // Where only the part itself leads to the room, all that the room holds may be in its way as well.
    const bool to_room =
        std::any_of(own_.begin(), own_.end(), [&](ContactId c) { return list.contact(c).b == model::kRoom; });
    if (to_room) reach(list.room());
    walk();
  }

  /// With `made` kept: a smallest exit that is left (positions), or nullopt when the part is locked out. What is near
  /// the part is let go first, so that most exits are found without touching the rest of the frame.
  std::optional<std::vector<int>> exit_without(const std::vector<ContactId>& made) {
    std::vector<char> kept(undoer_.list().contacts.size(), 0);
    for (const ContactId c : made) kept[dryfit::at(c)] = 1;
    std::vector<char> frozen(kept.size(), 1);
    for (const ContactId c : own_) frozen[dryfit::at(c)] = 0;
    Peeler peeler(undoer_, whole_, frozen, &memory_);
    bool free = peeler.run_until_gone(own_);
    for (std::size_t let_go = 0; !free && let_go < near_.size();) {
      const std::size_t until = std::min(near_.size(), std::max<std::size_t>(8, 2 * let_go));
      for (; let_go < until; ++let_go) {
        if (kept[dryfit::at(near_[let_go])] == 0) peeler.release(near_[let_go]);
      }
      free = peeler.run_until_gone(own_);
    }
    if (!free) return std::nullopt;

    std::vector<int> exit = undone_of_others(peeler);
    thin_out(exit);
    return exit;
  }

  /// Positions of what a peeler has undone, the part's own left out; ascending.
  [[nodiscard]] std::vector<int> undone_of_others(const Peeler& peeler) const {
    std::vector<int> undone;
    for (const auto& move : peeler.undone()) {
      for (const ContactId c : move) {
        if (const int at = place_[dryfit::at(c)]; at != model::kNone) undone.push_back(at);
      }
    }
    std::sort(undone.begin(), undone.end());
    return undone;
  }

  /// Leaves out what the exit does not need, the farthest first: by halves, quarters and so on, in the end one by one,
  /// which makes it a smallest one. What was needed once stays needed.
  void thin_out(std::vector<int>& exit) {
    for (std::size_t block = (exit.size() + 1) / 2; block > 0; block /= 2) {
      for (std::size_t end = exit.size(); end > 0;) {
        const std::size_t begin = end > block ? end - block : 0;
        std::vector<char> frozen(undoer_.list().contacts.size(), 1);
        for (const ContactId c : own_) frozen[dryfit::at(c)] = 0;
        for (std::size_t i = 0; i < exit.size(); ++i) {
          if (i < begin || i >= end) frozen[dryfit::at(near_[dryfit::at(exit[i])])] = 0;
        }
        Peeler trial(undoer_, whole_, std::move(frozen), &memory_);
        if (!trial.run_until_gone(own_)) {
          end = begin;
          continue;
        }
        const int limit = exit[begin];
        exit = undone_of_others(trial);
        end = dryfit::at(std::lower_bound(exit.begin(), exit.end(), limit) - exit.begin());
      }
    }
  }

  /// Leaves out contacts as long as the part stays locked out.
  std::vector<ContactId> shrunk(std::vector<ContactId> made) {
    for (std::size_t i = made.size(); i-- > 0;) {
      std::vector<ContactId> fewer = made;
      fewer.erase(fewer.begin() + static_cast<std::ptrdiff_t>(i));
      if (!can_wait(undoer_, own_, fewer)) made = std::move(fewer);
    }
    return made;
  }

  Undoer& undoer_;
  const State whole_;
  RefusalMemory memory_;
  const std::vector<ContactId>& own_;
  long long start_;
  long long budget_;
  std::vector<ContactId> near_;
  std::vector<int> place_;  ///< per contact: position in near_, or kNone
};

}  // namespace

bool can_wait(Undoer& undoer, const std::vector<ContactId>& own, const std::vector<ContactId>& made) {
  std::vector<char> frozen(undoer.list().contacts.size(), 0);
  for (const ContactId c : made) frozen[dryfit::at(c)] = 1;
  return Peeler(undoer, State(undoer.list()), std::move(frozen)).run_until_gone(own);
}

Lockouts lockouts_of(Undoer& undoer, const std::vector<ContactId>& own, int most, int widest, long long budget,
                     const RefusalMemory* known) {
  return LockoutSearch(undoer, own, budget, known).run(most, widest);
}

}  // namespace dryfit::planner

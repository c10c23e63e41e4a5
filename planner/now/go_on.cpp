#include "planner/now/go_on.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "planner/now/sorted_contacts.hpp"

namespace dryfit::planner {
namespace {

/// So many steps at most are found to be in the way.
constexpr int kRounds = 12;

/// The order in which the steps from `first` on are done: `done`, then what these leave out, up to the last of `done`.
/// From there on all is as in the order.
std::vector<std::size_t> in_turn(std::size_t first, const std::vector<std::size_t>& done) {
  std::vector<std::size_t> all = done;
  for (std::size_t k = first; !done.empty() && k < done.back(); ++k) {
    if (!std::binary_search(done.begin(), done.end(), k)) all.push_back(k);
  }
  return all;
}

/// Of the two parts that the step brings together the same one moves.
bool same_side(const Contact& contact, const std::vector<PartId>& as_told, const std::vector<PartId>& moving) {
  const auto in = [](const std::vector<PartId>& parts, PartId p) {
    return std::find(parts.begin(), parts.end(), p) != parts.end();
  };
  return in(as_told, contact.a) == in(moving, contact.a) && in(as_told, contact.b) == in(moving, contact.b);
}

}  // namespace

GoOn::GoOn(const model::Frame& frame, const ContactList& list, const std::vector<Step>& steps)
    : list_(list), steps_(steps), undoer_(frame, list) {
  judge_on(frame, list);
}

void GoOn::judge_on(const model::Frame& frame, const ContactList& list) { judges_.emplace_back(frame, list); }

/// One legal move makes just what the step makes; where it does, that is made.
bool GoOn::goes(std::vector<char>& made, std::size_t step) {
  const Step& told = steps_[step];
  std::vector<char> then = made;
  for (const ContactId c : told.contacts) then[at(c)] = 1;
  const Contact& main = list_.contact(told.contacts.front());
  const State state(list_, then);
  const std::vector<ContactId> wanted = sorted_contacts(told.contacts);
  const auto ways = undoer_.ways(state, told.contacts.front());
  const bool can = std::any_of(ways.begin(), ways.end(), [&](const Move& way) {
    return sorted_contacts(way.contacts) == wanted &&
           (told.moving.empty() || same_side(main, told.moving, way.moving));
  });
  if (can) made = std::move(then);
  return can;
}

bool GoOn::the_rest_goes(std::vector<char> made, std::size_t first, const std::vector<std::size_t>& done) {
  const auto all = in_turn(first, done);
  return std::all_of(all.begin(), all.end(), [&](std::size_t step) { return goes(made, step); });
}

bool GoOn::judged(std::vector<char> made, std::size_t first, const std::vector<std::size_t>& done) {
  for (const std::size_t step : in_turn(first, done)) {
    for (const ContactId c : steps_[step].contacts) made[at(c)] = 1;
    const GivenStep given{steps_[step].action, steps_[step].contacts, {}};
    for (MoveJudge& judge : judges_) {
      if (!judge.can_undo(made, given)) return false;
    }
  }
  return true;
}

WithoutIt GoOn::without(std::size_t first, const std::vector<ContactId>& missing) {
  std::vector<char> before(list_.contacts.size(), 0);
  for (std::size_t k = 0; k < first; ++k) {
    for (const ContactId c : steps_[k].contacts) before[at(c)] = 1;
  }
  const auto needs_it = [&](std::size_t k) {
    return std::any_of(steps_[k].contacts.begin(), steps_[k].contacts.end(), [&](ContactId c) {
      return std::find(missing.begin(), missing.end(), c) != missing.end();
    });
  };
  WithoutIt found;
  const std::size_t end = std::min(steps_.size(), first + 1 + kAhead);
  std::vector<char> may(end, 1);
  for (std::size_t k = first; k < end; ++k) may[k] = static_cast<char>(!needs_it(k));
  // Step by step what locks the part out, or some step that was left out, is left out itself.
  std::size_t good = 0;
  for (int round = 0; round < kRounds; ++round) {
    found.steps.clear();
    std::vector<char> made = before;
    for (std::size_t k = first; k < end; ++k) {
      if (may[k] != 0 && goes(made, k)) found.steps.push_back(k);
    }
    good = longest_beginning(before, first, found.steps);
    if (good == found.steps.size()) break;
    may[found.steps[good]] = 0;
  }
  found.then_needed = end == steps_.size() || good < found.steps.size();
  found.steps.resize(good);
  return found;
}

/// How many of the steps can be done so that the rest still goes; none: the order itself.
std::size_t GoOn::longest_beginning(const std::vector<char>& before, std::size_t first,
                                    const std::vector<std::size_t>& steps) {
  const auto follows = [&](std::size_t count) {
    const std::vector<std::size_t> some(steps.begin(), steps.begin() + static_cast<std::ptrdiff_t>(count));
    return the_rest_goes(before, first, some) && judged(before, first, some);
  };
  std::size_t can = 0, cannot = steps.size();
  if (follows(cannot)) return cannot;
  while (can + 1 < cannot) {
    const std::size_t middle = (can + cannot) / 2;
    (follows(middle) ? can : cannot) = middle;
  }
  return can;
}

}  // namespace dryfit::planner

#include "planner/peel/knots.hpp"

#include <algorithm>
#include <iterator>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/moves/any_refusal.hpp"
#include "planner/peel/peeler.hpp"

namespace dryfit::planner {
namespace {

/// Everything that goes from the knot without the others goes with a contact of `kept`, which then goes itself.
bool is_left_by(const std::vector<ContactId>& kept, const std::vector<ContactId>& hold) {
  return std::includes(hold.begin(), hold.end(), kept.begin(), kept.end());
}

}  // namespace

Knots::Knot* Knots::smallest_with(const std::vector<ContactId>& hold) {
  Knot* smallest = nullptr;
  int count = 0;
  for (auto& known : known_) {
    const int made = known.first;
    Knot& knot = known.second;
    if (smallest != nullptr && made > count) break;
    if (!std::all_of(hold.begin(), hold.end(), [&](ContactId c) { return knot.state.made(c); })) continue;
    if (is_left_by(knot.kept, hold)) return &knot;
    if (smallest != nullptr) continue;
    smallest = &knot;
    count = made;
  }
  return smallest;
}

Knots::Knot& Knots::peeled(Undoer& undoer, const State& from, const std::vector<ContactId>& hold) {
  std::vector<char> frozen(from.all().size(), 0);
  for (const ContactId c : hold) frozen[at(c)] = 1;
  Peeler peeler(undoer, from, std::move(frozen), &memory_);
  peeler.run();
  if (known_.size() >= kMost) known_.clear();
  return known_
      .emplace(peeler.state().count(), Knot{peeler.state(), {}, std::vector<Goes>(from.all().size(), Goes::unknown)})
      ->second;
}

bool Knots::goes(Undoer& undoer, Knot& knot, ContactId c) {
  Goes& known = knot.goes[at(c)];
  if (known == Goes::unknown) {
    const bool stands = memory_.find(knot.state, c) != nullptr;
    known = !stands && undoer.try_briefly(knot.state, c).legal ? Goes::yes : Goes::no;
  }
  return known == Goes::yes;
}

std::vector<ContactId> Knots::tightened(Undoer& undoer, const State& state, const std::vector<ContactId>& hold) {
  const AnyRefusal will_do;
  Knot* knot = smallest_with(hold);
  const bool known = knot != nullptr && is_left_by(knot->kept, hold);
  if (!known) {
    const State from = knot != nullptr ? knot->state : state;
    knot = &peeled(undoer, from, hold);
  }
  std::vector<ContactId> breaking;
  std::copy_if(hold.begin(), hold.end(), std::back_inserter(breaking),
               [&](ContactId c) { return goes(undoer, *knot, c); });
  if (!known) knot->kept = breaking;
  return breaking;
}

}  // namespace dryfit::planner

#include "planner/order/lifts.hpp"

#include <algorithm>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"

namespace dryfit::planner {
namespace {

model::Bounds joined(model::Bounds a, const model::Bounds& b) {
  for (int i = 0; i < 3; ++i) {
    a.lo[i] = std::min(a.lo[i], b.lo[i]);
    a.hi[i] = std::max(a.hi[i], b.hi[i]);
  }
  return a;
}

model::Bounds bounds_of_parts(const model::Frame& frame, const std::vector<PartId>& parts) {
  model::Bounds box = bounds_of_part(frame.parts[static_cast<std::size_t>(parts.front())]);
  for (const PartId p : parts) box = joined(box, bounds_of_part(frame.parts[static_cast<std::size_t>(p)]));
  return box;
}

/// What hangs together after the steps so far, with the mass and the bounds of every piece. The room joins nothing.
class Pieces {
 public:
  explicit Pieces(const model::Frame& frame) : sets_(frame.parts.size()), count_(frame.parts.size(), 1) {
    for (const model::Part& part : frame.parts) {
      mass_.push_back(part.mass);
      bounds_.push_back(bounds_of_part(part));
    }
  }
  [[nodiscard]] PartId find(PartId p) const { return sets_.find(p); }
  void join(PartId a, PartId b) {
    const auto joined_now = sets_.join(a, b);
    if (!joined_now) return;
    const std::size_t kept = at(joined_now->kept), gone = at(joined_now->gone);
    count_[kept] += count_[gone];
    mass_[kept] += mass_[gone];
    bounds_[kept] = joined(bounds_[kept], bounds_[gone]);
  }
  [[nodiscard]] bool alone(PartId root) const { return count_[at(root)] == 1; }
  [[nodiscard]] double mass(PartId root) const { return mass_[at(root)]; }
  [[nodiscard]] Lift lift(PartId root) const { return lift_of(mass_[at(root)], bounds_[at(root)]); }

 private:
  DisjointSets sets_;
  std::vector<int> count_;
  std::vector<double> mass_;
  std::vector<model::Bounds> bounds_;
};

/// What one step lifts, before it makes its contacts.
Lift lift_in(const model::Frame& frame, const Contact& first, const Step& step, const Pieces& pieces) {
  if (step.action != Action::fasten) return lift_of(step.moving_mass, bounds_of_parts(frame, step.moving));
  const PartId a = pieces.find(first.a);
  // On its own it is held to the wall until the screws are in; what is made up stands or hangs there already.
  if (first.b == model::kRoom) return pieces.alone(a) ? pieces.lift(a) : Lift{};
  const PartId b = pieces.find(first.b);
  if (a == b) return {};
  const bool second = pieces.alone(a) != pieces.alone(b) ? pieces.alone(b) : pieces.mass(b) < pieces.mass(a);
  return pieces.lift(second ? b : a);
}

}  // namespace

Lift lift_of(const model::Frame& frame, const Move& undo) {
  if (undo.kind == MoveKind::unfasten) return {};
  return lift_of(undo.mass, bounds_of_parts(frame, undo.moving));
}

std::vector<Lift> lifts_of(const model::Frame& frame, const ContactList& list, const std::vector<Step>& steps) {
  std::vector<char> later(list.contacts.size(), 0);
  for (const Step& step : steps) {
    for (const ContactId c : step.contacts) later[static_cast<std::size_t>(c)] = 1;
  }
  Pieces pieces(frame);
  const auto make = [&](ContactId c) {
    const Contact& contact = list.contacts[static_cast<std::size_t>(c)];
    if (contact.b != model::kRoom) pieces.join(contact.a, contact.b);
  };
  for (ContactId c = 0; c < static_cast<ContactId>(later.size()); ++c) {
    if (later[static_cast<std::size_t>(c)] == 0) make(c);
  }
  std::vector<Lift> lifts;
  lifts.reserve(steps.size());
  for (const Step& step : steps) {
    lifts.push_back(lift_in(frame, list.contacts[static_cast<std::size_t>(step.contacts.front())], step, pieces));
    for (const ContactId c : step.contacts) make(c);
  }
  return lifts;
}

}  // namespace dryfit::planner

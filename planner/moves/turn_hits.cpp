#include "planner/moves/turn_hits.hpp"

#include <algorithm>

#include "model/geometry/at.hpp"
#include "model/geometry/turn.hpp"
#include "planner/moves/enters_surface.hpp"
#include "planner/moves/parting.hpp"

namespace dryfit::planner {

using model::Axis;
using model::Direction;

namespace {

constexpr double kNoSwing = -1.0;

}  // namespace

TurnHits::TurnHits(const model::Frame& frame, const ContactList& list, const BodyIndex& index)
    : frame_(frame), list_(list), index_(index), remembers_(list.contacts.size() <= kMostContacts) {
  if (!remembers_) return;
  known_.resize(3 * list.contacts.size());
  surfaces_.resize(2 * list.contacts.size());
  swing_.resize(list.contacts.size());
}

bool TurnHits::exempt(const Contact& thread, int body, int other) const {
  const PartId a = index_.bodies()[at(body)].part, b = index_.bodies()[at(other)].part;
  if ((a == thread.a && b == thread.b) || (a == thread.b && b == thread.a)) return true;
  return index_.on_hole_line(a, other, thread.line) || index_.on_hole_line(b, body, thread.line);
}

double TurnHits::shift(const Contact& thread, Direction way) const {
  const double engaged = frame_.joint(thread.joint).engaged;
  return way == thread.axis ? engaged : -engaged;
}

bool TurnHits::hit(const Contact& thread, Direction way, int body, int other) {
  return hit_shifted(thread, shift(thread, way), body, other);
}

bool TurnHits::hit_in_place(const Contact& thread, int body, int other) {
  return hit_shifted(thread, 0.0, body, other);
}

bool TurnHits::hit_shifted(const Contact& thread, double shift, int body, int other) {
  if (exempt(thread, body, other)) return false;
  ++tests;
  const Body& mine = index_.bodies()[at(body)];
  const Body& its = index_.bodies()[at(other)];
  return turn_hits(mine.thing(), its.thing(), Axis{thread.on_axis, thread.axis}, shift,
                   touch_between(frame_, list_, mine.part, its.part));
}

const std::vector<int>& TurnHits::of(ContactId thread, Direction way, int body) {
  const Contact& contact = list_.contact(thread);
  return kept(known_[3 * at(thread) + (way == contact.axis ? 0 : 1)], contact, shift(contact, way), body);
}

const std::vector<int>& TurnHits::in_place(ContactId thread, int body) {
  return kept(known_[3 * at(thread) + 2], list_.contact(thread), 0.0, body);
}

const std::vector<int>& TurnHits::kept(std::vector<int>& known, const Contact& thread, double shift, int body) {
  static const std::vector<int> kNobody;
  if (known.empty()) known.assign(index_.bodies().size(), kNotAsked);
  int& now = known[at(body)];
  if (now == kNotAsked) {
    std::vector<int> hits = found(thread, shift, body);
    now = hits.empty() ? kNothing : static_cast<int>(hits_.size());
    if (!hits.empty()) hits_.push_back(std::move(hits));
  }
  return now == kNothing ? kNobody : hits_[at(now)];
}

std::vector<int> TurnHits::found(const Contact& thread, double shift, int body) {
  const Body& mine = index_.bodies()[at(body)];
  std::vector<int> bodies;
  index_.find(turned_bounds(mine.solid, Axis{thread.on_axis, thread.axis}, shift), bodies);
  std::erase_if(
      bodies, [&](int k) { return index_.bodies()[at(k)].part == mine.part || !hit_shifted(thread, shift, body, k); });
  return bodies;
}

int TurnHits::surface(ContactId thread, Direction way, PartId part) {
  const Contact& contact = list_.contact(thread);
  if (!remembers_) return surface_of(contact, shift(contact, way), part);
  std::vector<int>& known = surfaces_[2 * at(thread) + (way == contact.axis ? 0 : 1)];
  if (known.empty()) known.assign(frame_.parts.size(), kNotAsked);
  int& now = known[at(part)];
  if (now == kNotAsked) now = surface_of(contact, shift(contact, way), part);
  return now;
}

int TurnHits::surface_of(const Contact& thread, double shift, PartId part) const {
  const Axis axis{thread.on_axis, thread.axis};
  for (int i = index_.first(part); i < index_.last(part); ++i) {
    const model::Solid& solid = index_.bodies()[at(i)].solid;
    for (std::size_t s = 0; s < frame_.surfaces.size(); ++s) {
      const model::Surface& surface = frame_.surfaces[s];
      const double reach = turn_reach(solid, axis, shift, -surface.normal.unit());
      if (depth_in(surface, reach) >= list_.touch) return static_cast<int>(s);
    }
  }
  return model::kNone;
}

double TurnHits::swing(ContactId thread, PartId part) {
  const Contact& contact = list_.contact(thread);
  if (!remembers_) return swing_of(contact, part);
  std::vector<double>& known = swing_[at(thread)];
  if (known.empty()) known.assign(frame_.parts.size(), kNoSwing);
  double& now = known[at(part)];
  if (now < 0.0) now = swing_of(contact, part);
  return now;
}

double TurnHits::swing_of(const Contact& thread, PartId part) const {
  const Axis axis{thread.on_axis, thread.axis};
  double r = 0.0;
  for (int i = index_.first(part); i < index_.last(part); ++i) {
    r = std::max(r, swing_radius(index_.bodies()[at(i)].solid, axis));
  }
  return r;
}

}  // namespace dryfit::planner

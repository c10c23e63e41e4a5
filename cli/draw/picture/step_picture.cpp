#include "cli/draw/picture/step_picture.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/draw/body/fixtures.hpp"
#include "model/geometry/at.hpp"
#include "planner/base/disjoint_sets.hpp"

namespace dryfit::cli {
namespace {

using model::Frame;
using model::PartId;
using planner::Contact;
using planner::ContactId;
using planner::Step;

const Contact& contact_of(const planner::ContactList& list, ContactId id) { return list.contact(id); }

void check_step(const std::vector<Step>& steps, int step) {
  if (step >= 1 && at(step) <= steps.size()) return;
  throw DrawError(
      fmt::format("there is no step {}: the order has {}, expected 1 to {}", step, steps.size(), steps.size()));
}

bool holds(const std::vector<int>& list, int wanted) {
  return std::find(list.begin(), list.end(), wanted) != list.end();
}

/// Fills in the fixtures: those that the steps up to now have fastened, and the floor under what stands.
void add_fixtures(const Frame& frame, const planner::ContactList& list, const std::vector<Step>& steps, int step,
                  bool stands, PictureOptions& out) {
  std::vector<int> made;
  std::vector<int> made_now;
  for (int k = 0; k < step; ++k) {
    for (const ContactId id : steps[at(k)].contacts) {
      const int fastening = contact_of(list, id).fastening;
      if (fastening == model::kNone) continue;
      made.push_back(fastening);
      if (k == step - 1) made_now.push_back(fastening);
    }
  }
  const std::vector<Fixture> fixtures = fixtures_of(frame);
  out.fixtures.emplace();
  for (const int index : fixtures_at(fixtures, out.shown)) {
    const Fixture& fixture = fixtures[at(index)];
    const auto among = [&fixture](const std::vector<int>& fastenings) {
      return std::any_of(fixture.fastenings.begin(), fixture.fastenings.end(),
                         [&](int f) { return holds(fastenings, f); });
    };
    const bool stood_on = stands && fixture.kind == Fixture::Kind::patch && fixture.patch.normal.z > 0.5;
    if (among(made) || stood_on) out.fixtures->push_back(index);
    if (among(made_now)) out.new_fixtures.push_back(index);
  }
}

/// A strap or a clip.
bool shown_by_fixture(const Frame& frame, const Contact& contact) {
  if (contact.fastening == model::kNone) return false;
  using Kind = model::Fastening::Kind;
  const Kind kind = frame.fastening(contact.fastening).kind;
  return kind == Kind::strap || kind == Kind::clip;
}

/// A board with a hole and slots is swung about the pipe of the hole, the way its slots open.
std::optional<Arrow> swing_arrow(const Frame& frame, const planner::ContactList& list, const Step& step) {
  for (const ContactId id : step.contacts) {
    const Contact& notch = contact_of(list, id);
    if (notch.kind != planner::ContactKind::notch) continue;
    const model::Board& board = frame.board_of(notch.a);
    for (const ContactId other : list.at[at(notch.a)]) {
      const Contact& hole = contact_of(list, other);
      if (hole.kind != planner::ContactKind::hole || hole.a != notch.a) continue;
      const Vec3 open = board.holes[at(notch.hole)].open.unit();
      const Vec3 axis = cross(notch.on_axis - hole.on_axis, open);  // the slot goes toward its opening, then home
      return Arrow{Arrow::Kind::turn, hole.on_axis, axis};
    }
  }
  return std::nullopt;
}

std::optional<Arrow> arrow_for(const Frame& frame, const planner::ContactList& list, const Step& step) {
  if (step.action == planner::Action::slide && norm(step.travel) < 1e-6) return swing_arrow(frame, list, step);
  if (step.action == planner::Action::screw && !step.contacts.empty()) {
    const Contact& contact = contact_of(list, step.contacts.front());
    if (!contact.axis.valid()) return std::nullopt;
    // The axis points from the fitting toward the pipe: the pipe goes home against it, the fitting along it.
    const Vec3 home = holds(step.moving, contact.a) ? -contact.axis.unit() : contact.axis.unit();
    return Arrow{Arrow::Kind::turn, contact.on_axis, home};
  }
  if (norm(step.travel) > 1e-6) return Arrow{Arrow::Kind::slide, {}, step.travel};
  return std::nullopt;
}

}  // namespace

std::vector<PartId> work_at(const Frame& frame, const planner::ContactList& list, const std::vector<Step>& steps,
                            int step) {
  check_step(steps, step);
  planner::DisjointSets clusters(list.at.size());
  const auto cluster_of = [&](PartId part) { return clusters.find(list.vertex(part)); };
  for (int k = 0; k < step; ++k) {
    for (const ContactId id : steps[at(k)].contacts) {
      clusters.join(list.vertex(contact_of(list, id).a), list.vertex(contact_of(list, id).b));
    }
  }
  const Step& now = steps[static_cast<std::size_t>(step) - 1];
  std::vector<int> at_work;
  for (const auto& parts : {now.moving, now.holding}) {
    for (const PartId part : parts) at_work.push_back(cluster_of(part));
  }
  for (const ContactId id : now.contacts) at_work.push_back(cluster_of(contact_of(list, id).a));
  std::vector<PartId> out;
  for (PartId part = 0; part < static_cast<PartId>(frame.parts.size()); ++part) {
    if (holds(at_work, cluster_of(part))) out.push_back(part);
  }
  return out;
}

PictureOptions step_picture(const Frame& frame, const planner::ContactList& list, const std::vector<Step>& steps,
                            int step, bool stands) {
  PictureOptions out;
  out.shown = work_at(frame, list, steps, step);
  add_fixtures(frame, list, steps, step, stands, out);
  const Step& now = steps[at(step) - 1];
  // A screw, a strap or a nut brings nothing new, however much hangs on it: what is handled is at its ends.
  const bool brings = now.action != planner::Action::fasten && now.action != planner::Action::join;
  for (const PartId part : now.moving) {
    if (part >= 0 && brings) out.emphasised.push_back(part);
  }
  if (out.emphasised.empty()) {
    for (const ContactId id : now.contacts) {
      const Contact& contact = contact_of(list, id);
      if (shown_by_fixture(frame, contact)) continue;  // the strap or clip is what is new
      if (contact.a >= 0) out.emphasised.push_back(contact.a);
      if (contact.kind == planner::ContactKind::nut) out.emphasised.push_back(contact.b);
    }
  }
  out.arrow = arrow_for(frame, list, now);
  out.labelled = out.emphasised;
  for (const PartId part : now.holding) {
    if (part >= 0) out.labelled.push_back(part);
  }
  for (const ContactId id : now.contacts) {
    for (const PartId part : {contact_of(list, id).a, contact_of(list, id).b}) {
      if (part >= 0) out.labelled.push_back(part);
    }
  }
  for (const PartId part : out.shown) {
    if (frame.part(part).kind == model::PartKind::board) out.labelled.push_back(part);
  }
  return out;
}

}  // namespace dryfit::cli

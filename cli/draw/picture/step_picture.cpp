#include "cli/draw/picture/step_picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numbers>

#include "cli/draw/body/block.hpp"
#include "cli/draw/body/fixtures.hpp"
#include "cli/draw/picture/step_help.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "planner/base/disjoint_sets.hpp"
#include "planner/shop/screws.hpp"

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
  throw DrawError(say("there is no step {}: the order has {}, expected 1 to {}", step, steps.size(), steps.size()));
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
  if (step.action == planner::Action::join) {  // the nut on the first half goes home over the second
    const Contact& nut = contact_of(list, step.contacts.front());
    const Vec3 first = frame.part(nut.a).centre;
    return Arrow{Arrow::Kind::turn, first, frame.part(nut.b).centre - first};
  }
  if (norm(step.travel) > 1e-6) return Arrow{Arrow::Kind::slide, {}, step.travel};
  return std::nullopt;
}

/// Joins what the steps before `step` (from 1) have made.
planner::DisjointSets clusters_before(const planner::ContactList& list, const std::vector<Step>& steps, int step) {
  planner::DisjointSets clusters(list.at.size());
  for (int k = 0; k + 1 < step; ++k) {
    for (const ContactId id : steps[at(k)].contacts) {
      clusters.join(list.vertex(contact_of(list, id).a), list.vertex(contact_of(list, id).b));
    }
  }
  return clusters;
}

/// What a nut or the screws of a flange bring to what is there, never what is screwed to the room: of a flange and a
/// board what is set from above, or the board where neither lies; of halves of a union the lighter side. Empty when the
/// two hang together already.
struct Brought {
  std::vector<PartId> parts;
  Vec3 from;  ///< the way that it comes from, length 1
};

Brought brought_to(const Frame& frame, const planner::ContactList& list, const std::vector<Step>& steps, int step,
                   const model::Attitude& lies) {
  const Contact& contact = contact_of(list, steps[at(step) - 1].contacts.front());
  Brought out;
  if (contact.a < 0 || contact.b < 0) return out;
  planner::DisjointSets clusters = clusters_before(list, steps, step);
  const int one = clusters.find(list.vertex(contact.a));
  const int other = clusters.find(list.vertex(contact.b));
  if (one == other) return out;
  Vec3 from;  // of the piece with contact.a, as seen from the other
  if (contact.kind == planner::ContactKind::nut) {
    from = frame.part(contact.a).centre - frame.part(contact.b).centre;
  } else if (!frame.part(contact.a).ports.empty()) {
    from = frame.part(contact.a).ports.front().facing.unit();  // a flange's opening looks away from the board
  }
  if (norm(from) < 1e-6) return out;
  const int room = clusters.find(list.room());
  double mass[2] = {0.0, 0.0};
  std::vector<PartId> parts[2];
  for (PartId id = 0; id < static_cast<PartId>(frame.parts.size()); ++id) {
    const int cluster = clusters.find(list.vertex(id));
    if (cluster != one && cluster != other) continue;
    const int side = cluster == one ? 0 : 1;
    mass[side] += frame.part(id).mass;
    parts[side].push_back(id);
  }
  // A part on its own is brought to what is made up.
  const bool alone = (parts[0].size() == 1) != (parts[1].size() == 1);
  bool lighter = alone ? parts[1].size() == 1 : mass[1] < mass[0];
  if (contact.kind == planner::ContactKind::fastening) lighter = lies(from).z < 0.5;  // the board, seen from the flange
  const bool second = one == room || (other != room && lighter);
  out.parts = std::move(parts[second ? 1 : 0]);
  out.from = from * ((second ? -1.0 : 1.0) / norm(from));
  return out;
}

double extent_of_parts(const Frame& frame, const std::vector<PartId>& parts) {
  Vec3 lo{1e300, 1e300, 1e300};
  Vec3 hi{-1e300, -1e300, -1e300};
  for (const PartId id : parts) {
    for (const model::Solid& solid : frame.part(id).solids) {
      const model::Bounds bounds = model::bounds_of(solid);
      for (int axis = 0; axis < 3; ++axis) {
        lo[axis] = std::min(lo[axis], bounds.lo[axis]);
        hi[axis] = std::max(hi[axis], bounds.hi[axis]);
      }
    }
  }
  return hi.x < lo.x ? 1.0 : norm(hi - lo);
}

/// Nothing but what the moving parts are being joined to is in the way of drawing them further off.
bool is_way_free(const Frame& frame, const planner::ContactList& list, const Step& step,
                 const std::vector<PartId>& moving, const std::vector<PartId>& shown, Vec3 by) {
  const auto joined = [&](PartId a, PartId b) {
    return std::any_of(step.contacts.begin(), step.contacts.end(), [&](ContactId id) {
      const Contact& c = contact_of(list, id);
      return (c.a == a && c.b == b) || (c.a == b && c.b == a);
    });
  };
  for (const PartId still : shown) {
    if (holds(moving, still)) continue;
    const model::Part& other = frame.part(still);
    model::Wood wood;
    if (other.board != model::kNone) wood = model::wood_of(frame.board(other.board));
    for (const PartId id : moving) {
      if (joined(id, still)) continue;
      model::Wood own;
      if (frame.part(id).board != model::kNone) own = model::wood_of(frame.board_of(id));
      for (const model::Solid& solid : frame.part(id).solids) {
        for (const model::Solid& against : other.solids) {
          if (model::hits(model::Thing{solid, &own}, model::Thing{against, &wood}, by)) return false;
        }
      }
    }
  }
  return true;
}

/// Where the moving parts are drawn: a thread out of its joint and a little further, a board beyond the ends of its
/// pipes or, where those are far away, on its way along them.
std::optional<Start> start_of(const Frame& frame, const planner::ContactList& list, const std::vector<Step>& steps,
                              int step, const std::vector<PartId>& shown, const Brought& brought) {
  const Step& now = steps[at(step) - 1];
  Start out;
  out.parts = brought.parts.empty() ? now.moving : brought.parts;
  std::erase_if(out.parts, [](PartId id) { return id < 0; });
  Vec3 from = brought.from;
  double least = 0.0;
  if (brought.parts.empty()) {
    if (norm(now.travel) < 1e-6) return std::nullopt;
    least = norm(now.travel);
    from = now.travel * (-1.0 / least);
  }
  if (out.parts.empty()) return std::nullopt;
  const double extent = extent_of_parts(frame, shown);
  const double most = 0.4 * extent;
  double reach = std::min(least, most);
  // Far enough that the gap is seen on paper; less where something is in the way.
  const double gap = std::clamp(0.09 * extent, 12.0, 90.0);
  for (const double share : {1.0, 0.6, 0.3, 0.15}) {
    const double further = (least > most ? 0.0 : least) + share * gap;
    if (further <= reach) break;
    if (!is_way_free(frame, list, now, out.parts, shown, from * further)) continue;
    reach = further;
    break;
  }
  if (reach < 1e-6) return std::nullopt;
  out.by = from * reach;
  for (const ContactId id : now.contacts) {
    const Contact& contact = contact_of(list, id);
    if (contact.kind == planner::ContactKind::thread || contact.kind == planner::ContactKind::hole ||
        contact.kind == planner::ContactKind::notch) {
      out.seats.push_back(contact.on_axis);
    } else if (contact.kind == planner::ContactKind::nut || contact.kind == planner::ContactKind::fastening) {
      out.seats.push_back(frame.part(contact.a).centre);
    } else {
      const model::Board& board = frame.board_of(contact.a);
      for (const double x : {board.lo.x, board.hi.x}) {
        for (const double y : {board.lo.y, board.hi.y}) out.seats.push_back({x, y, board.lo.z});
      }
    }
  }
  std::sort(out.seats.begin(), out.seats.end(), [](Vec3 a, Vec3 b) {
    return a.x != b.x ? a.x < b.x : a.y != b.y ? a.y < b.y : a.z < b.z;
  });
  out.seats.erase(std::unique(out.seats.begin(), out.seats.end()), out.seats.end());
  return out;
}

/// Halves of unions whose nut no step up to this one has closed.
std::vector<PartId> open_unions(const Frame& frame, const planner::ContactList& list, const std::vector<Step>& steps,
                                int step) {
  std::vector<PartId> open;
  for (PartId id = 0; id < static_cast<PartId>(frame.parts.size()); ++id) {
    if (frame.part(id).union_mate != model::kNone) open.push_back(id);
  }
  for (int k = 0; k < step && !open.empty(); ++k) {
    for (const ContactId id : steps[at(k)].contacts) {
      const Contact& contact = contact_of(list, id);
      if (contact.kind != planner::ContactKind::nut) continue;
      std::erase_if(open, [&](PartId half) { return half == contact.a || half == contact.b; });
    }
  }
  return open;
}

/// The screws that the step drives into flanges, each before its hole, and how many of what size.
void add_screws(const Frame& frame, const planner::ContactList& list, const Step& step, PictureOptions& out) {
  for (const ContactId id : step.contacts) {
    const Contact& contact = contact_of(list, id);
    if (contact.fastening == model::kNone) continue;
    const model::Fastening& fastening = frame.fastening(contact.fastening);
    const model::Part& flange = frame.part(fastening.part);
    if (flange.kind != model::PartKind::flange || flange.ports.empty()) continue;
    double hub = 1e300, plate = 0.0, thick = 0.0;
    for (const model::Solid& solid : flange.solids) {
      hub = std::min(hub, solid.radius);
      if (solid.radius <= plate) continue;
      plate = solid.radius;
      thick = norm(solid.b - solid.a);
    }
    const Vec3 facing = flange.ports.front().facing.unit();
    const Basis basis = basis_around(facing);
    constexpr int kDrawn = 4;  // as many holes as a flange is drawn with
    for (int k = 0; k < kDrawn; ++k) {
      const double angle = std::numbers::pi * (0.25 + 0.5 * k);
      const Vec3 outward = std::cos(angle) * basis.first + std::sin(angle) * basis.second;
      out.screws.push_back(
          {fastening.part, flange.centre + 0.5 * (plate + hub) * outward + (thick + 12.0) * facing, -facing});
    }
    const auto size = planner::screw_size(frame, fastening);
    const int screws = planner::screw_count(frame, fastening);
    out.notes[fastening.part] = size ? say_n(screws, "{0} screw {1}", "{0} screws {1}",
                                             screw_text(size->gauge(), size->length, Lengths(frame.units)))
                                     : say_n(screws, "{} screw", "{} screws");
  }
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
                            int step, const HowItStands& how) {
  PictureOptions out;
  out.lies = how.lies;
  out.signs = true;
  out.shown = work_at(frame, list, steps, step);
  add_fixtures(frame, list, steps, step, how.on_floor, out);
  const Step& now = steps[at(step) - 1];
  // A screw, a strap or a nut brings nothing new, however much hangs on it: what is handled is at its ends.
  const bool brings = now.action != planner::Action::fasten && now.action != planner::Action::join;
  for (const PartId part : now.moving) {
    if (part >= 0 && brings) out.emphasised.push_back(part);
  }
  const Brought brought = brings ? Brought{} : brought_to(frame, list, steps, step, how.lies);
  for (const PartId part : brought.parts) out.emphasised.push_back(part);
  if (out.emphasised.empty()) {
    for (const ContactId id : now.contacts) {
      const Contact& contact = contact_of(list, id);
      if (shown_by_fixture(frame, contact)) continue;  // the strap or clip is what is new
      if (contact.a >= 0) out.emphasised.push_back(contact.a);
      if (contact.kind == planner::ContactKind::nut) out.emphasised.push_back(contact.b);
    }
  }
  out.arrow = arrow_for(frame, list, now);
  out.start = start_of(frame, list, steps, step, out.shown, brought);
  if (out.start && !brought.parts.empty()) out.arrow = Arrow{Arrow::Kind::slide, {}, -out.start->by};
  out.open_unions = open_unions(frame, list, steps, step);
  add_screws(frame, list, now, out);
  // Of many parts that move as one, those that meet the rest are named.
  constexpr std::size_t kFew = 4;
  if (out.emphasised.size() <= kFew) out.labelled = out.emphasised;
  for (const PartId part : now.holding) {
    if (part < 0) continue;
    out.labelled.push_back(part);
    if (now.action == planner::Action::screw) out.held.push_back(part);
  }
  for (const ContactId id : now.contacts) {
    for (const PartId part : {contact_of(list, id).a, contact_of(list, id).b}) {
      if (part >= 0) out.labelled.push_back(part);
    }
  }
  for (const PartId part : out.shown) {
    if (frame.part(part).kind != model::PartKind::board) continue;
    out.labelled.push_back(part);
    // What a new board is to rest on is found by its name.
    if (!holds(brings ? now.moving : brought.parts, part)) continue;
    for (const PartId carrier : frame.board_of(part).carriers) {
      if (holds(out.shown, carrier)) out.labelled.push_back(carrier);
    }
    for (const model::Fastening& fastening : frame.fastenings) {
      const bool under = fastening.kind == model::Fastening::Kind::flange_to_board && fastening.other == part;
      if (under && holds(out.shown, fastening.part)) out.labelled.push_back(fastening.part);
    }
  }
  add_help(frame, now, how, out);
  return out;
}

}  // namespace dryfit::cli

#include "tests/support/naive/naive_effort.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <set>

#include "model/geometry/at.hpp"
#include "model/measure/mass_properties.hpp"
#include "tests/support/naive/naive_pieces.hpp"

namespace dryfit::test {
using model::PartId;
using planner::Contact;
using planner::ContactId;
using planner::ContactKind;
using planner::ContactList;
using planner::Move;
using planner::MoveKind;
namespace {

std::vector<NaiveWay> ways_to_slide(const model::Frame& frame, const ContactList& list, const std::vector<char>& made,
                                    const std::vector<char>& rest, const Move& move, int people) {
  const std::set<int> cluster = without_room(list, together(list, made, move.moving.front()));
  const auto side_of = [&](int part) { return without_room(list, together(list, rest, part)); };
  const auto one_piece = [&](const auto& parts) {
    return std::all_of(parts.begin(), parts.end(), [&](int p) { return side_of(*parts.begin()).count(p) != 0; });
  };
  const auto but = [&](const std::set<int>& parts) {
    std::set<int> others;
    std::set_difference(cluster.begin(), cluster.end(), parts.begin(), parts.end(),
                        std::inserter(others, others.end()));
    return others;
  };
  const std::set<int> mover =
      one_piece(move.moving) ? side_of(move.moving.front()) : but(side_of(move.holding.front()));
  const std::set<int> other = but(mover);
  const auto fixed = [&](const std::set<int>& parts) {
    return std::any_of(parts.begin(), parts.end(),
                       [&](int p) { return together(list, rest, p).count(list.room()) != 0; });
  };
  std::vector<NaiveWay> ways;
  if (!fixed(mover) || fixed(other)) {
    ways.push_back({carry(frame, mover, people), -move.travel});
  }
  if (!fixed(other)) {
    ways.push_back({carry(frame, other, people), move.travel});
  }
  return ways;
}

}  // namespace

double naive_extra(const model::Frame& frame, const ContactList& list, const std::vector<char>& made, const Move& move,
                   int people) {
  const Contact& first = contact(list, move.contacts.front());
  const auto all = [](const Contact&) { return true; };
  // What makes one piece of work: threads, nuts, flanges screwed to boards.
  const auto firmly = [&](const Contact& c) {
    if (c.kind == ContactKind::fastening) {
      return frame.fastening(c.fastening).kind == model::Fastening::Kind::flange_to_board;
    }
    return c.kind == ContactKind::thread || c.kind == ContactKind::nut;
  };
  const std::set<int> cluster = together(list, made, list.vertex(first.a), all);
  const bool room = cluster.count(list.room()) != 0;
  const std::set<int> moving(move.moving.begin(), move.moving.end());
  std::vector<char> rest = made;
  for (const ContactId c : move.contacts) rest[at(c)] = 0;

  const double aside = rate("hold-aside") * static_cast<double>(move.aside.size());
  if (move.kind == MoveKind::unfasten && !firmly(first)) return aside;
  if (move.kind != MoveKind::unscrew && move.kind != MoveKind::undo_nut && move.kind != MoveKind::unfasten) {
    if (move.kind != MoveKind::slide) return carry(frame, moving, people);
    double least = std::numeric_limits<double>::infinity();
    for (const NaiveWay& way : naive_ways(frame, list, made, move, people)) least = std::min(least, way.extra);
    return least;
  }

  double sum = aside + (room ? rate("held-by-room") : 0.0);
  const std::set<int> one = together(list, rest, first.a, firmly), two = together(list, rest, first.b, firmly);
  if (one.count(first.b) == 0 && one.size() > 1 && two.size() > 1) sum += rate("start-piece");
  if (move.kind != MoveKind::unscrew) {
    if (one.count(first.b) != 0 || one.size() == 1 || two.size() == 1) return sum;
    // The lesser burden is brought, but nothing that is screwed to the room.
    const bool one_fixed = together(list, rest, first.a, all).count(list.room()) != 0;
    const bool two_fixed = together(list, rest, first.b, all).count(list.room()) != 0;
    const double bring_one = carry(frame, one, people), bring_two = carry(frame, two, people);
    if (one_fixed == two_fixed) return sum + std::min(bring_one, bring_two);
    return sum + (one_fixed ? bring_two : bring_one);
  }
  // Turning.
  const model::Axis axis{first.on_axis, first.axis};
  if (first.axis.x != 0 || first.axis.y != 0) {
    const int near = moving.count(first.a) != 0 ? first.a : first.b;
    const model::Part& turned = frame.part(near);
    bool to_level = false, stands_off = false;
    for (const model::Port& port : turned.ports) to_level |= !model::parallel(port.facing, first.axis);
    for (const int p : without_room(list, cluster)) {
      if (moving.count(p) != 0) continue;
      const model::Bounds box = box_of(frame, {p});
      stands_off |= box.hi.z - axis.point.z > rate("in-the-air") || axis.point.z - box.lo.z > rate("in-the-air");
    }
    if (to_level && stands_off) sum += rate("fitting-in-the-air");
  }
  sum += rate("strap-before-turn") * static_cast<double>(move.strapped_first.size());
  for (std::size_t c = 0; c < made.size(); ++c) {
    const Contact& k = list.contacts[c];
    if (made[c] == 0 || !hole_like(k) || k.line != first.line) continue;
    sum += rate("turn-in-hole") * static_cast<double>(moving.count(k.a) + moving.count(k.b));
  }
  if (moving.size() > 1) {
    double inertia = 0.0;
    for (const int p : moving) inertia += inertia_about(model::mass_properties(frame, p), axis);
    double swing = move.turns * (rate("swing-inertia") * inertia +
                                 rate("swing-radius") * std::max(0.0, move.swing_radius - rate("hand-reach")) / 1000.0);
    if (move.swing_radius > rate("arm-length") && people == 1) swing *= rate("second-person");
    sum += swing + carry(frame, moving, people);
  }
  return sum;
}

std::vector<NaiveWay> naive_ways(const model::Frame& frame, const ContactList& list, const std::vector<char>& made,
                                 const Move& move, int people) {
  std::vector<char> rest = made;
  for (const ContactId c : move.contacts) rest[at(c)] = 0;
  if (move.kind == MoveKind::slide) return ways_to_slide(frame, list, made, rest, move, people);
  return {{naive_extra(frame, list, made, move, people), -move.travel}};
}

}  // namespace dryfit::test

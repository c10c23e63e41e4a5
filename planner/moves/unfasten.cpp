/// Undo move "unfasten": the screws come out where the driver gets at them.
#include <algorithm>

#include "model/geometry/convex.hpp"
#include "planner/moves/moves_impl.hpp"

namespace dryfit::planner {

using model::kNone;

/// One call of unfasten.
struct UnfastenCase {
  Undoer::Impl& impl;
  const State& state;
  const ScrewReach& reach;
  const PartId flange;

  /// Something that keeps the driver out.
  struct Obstacle {
    PartId part = kNone;            ///< over a screw; kNone: a surface
    PartId stop = kNone;            ///< what keeps that board from being pushed aside
    int surface = kNone;            ///< the same, or what is over the screw
    std::vector<PartId> between{};  ///< boards that are pushed on in between
    friend bool operator==(const Obstacle&, const Obstacle&) = default;
  };

  [[nodiscard]] bool there(PartId p) const { return state.cluster(p) == state.cluster(flange); }

  /// A made contact that keeps the board from being pushed along the screws, or kNone: nothing but holes along them
  /// holds it, and nothing lies on it.
  [[nodiscard]] ContactId tie_of(PartId p) const {
    for (const ContactId k : impl.contacts_at(p)) {
      if (!state.made(k)) continue;
      const Contact& held = impl.contact(k);
      if (hole_like(held.kind) && held.a == p && parallel(held.axis, reach.away)) continue;
      return k;
    }
    return kNone;
  }

  [[nodiscard]] const PushedAside* aside_of(PartId p) const {
    const auto found = std::find_if(reach.aside.begin(), reach.aside.end(),
                                    [&](const PushedAside& aside) { return aside.board == p; });
    return found == reach.aside.end() || tie_of(p) != kNone ? nullptr : &*found;
  }

  /// Why the part over a screw stays there, or nothing when it can be pushed aside.
  [[nodiscard]] std::optional<Obstacle> stays(PartId p) const {
    const PushedAside* aside = aside_of(p);
    if (aside == nullptr) return Obstacle{p, kNone, kNone, {}};
    return stopped(p, *aside);
  }

  /// What stops the board over a screw: what it meets, or what the boards meet that it pushes on.
  [[nodiscard]] std::optional<Obstacle> stopped(PartId p, const PushedAside& aside) const {
    if (aside.surface != kNone && state.holds_room(flange)) return Obstacle{p, kNone, aside.surface, {}};
    for (const PartId stop : aside.stops) {
      if (there(stop) && (!impl.is_board(stop) || tie_of(stop) != kNone)) return Obstacle{p, stop, kNone, {}};
    }
    for (const PushedAside& next : aside.pushes) {
      if (!there(next.board)) continue;
      std::optional<Obstacle> obstacle = stopped(p, next);
      if (!obstacle) continue;
      obstacle->between.push_back(next.board);
      return obstacle;
    }
    return std::nullopt;
  }

  /// The first obstacle in a position, or nothing; then `pushed` are the boards that are held aside.
  [[nodiscard]] std::optional<Obstacle> first_in(const ScrewReach::Position& position,
                                                 std::vector<PartId>& pushed) const {
    if (position.surface != kNone && state.holds_room(flange)) return Obstacle{kNone, kNone, position.surface, {}};
    for (const PartId p : position.over) {
      if (!there(p)) continue;
      if (std::optional<Obstacle> obstacle = stays(p)) return obstacle;
      pushed.push_back(p);
    }
    return std::nullopt;
  }

  /// What the obstacle rests on.
  void hold(const Obstacle& obstacle, std::vector<ContactId>& held) const {
    if (obstacle.part == kNone || obstacle.surface != kNone) impl.way(state, flange, impl.list.room(), {}, held);
    for (const PartId p : obstacle.between) impl.way(state, flange, p, {}, held);
    for (const PartId p : {obstacle.part, obstacle.stop}) {
      if (p == kNone) continue;
      impl.way(state, flange, p, {}, held);
      if (!impl.is_board(p)) continue;
      if (const ContactId tie = tie_of(p); tie != kNone) held.push_back(tie);
    }
  }

  /// How far over the plate a part begins, mm.
  [[nodiscard]] double height_of(PartId p) const {
    const model::Vec3 unit = reach.away.unit();
    double least = impl.frame.driver;
    for (int i = impl.index.first(p); i < impl.index.last(p); ++i) {
      const double low = -reach_along(impl.index.bodies()[at(i)].solid, -unit);
      least = std::min(least, low - dot(reach.plate, unit));
    }
    return std::max(0.0, least);
  }

  /// Boards held aside in the best position: the fewest. Nothing, and `refusal` filled, where no position will do.
  std::optional<std::vector<PartId>> fewest_aside(Refusal& refusal) const {
    std::optional<std::vector<PartId>> best;
    std::vector<Obstacle> obstacles;
    for (const ScrewReach::Position& position : reach.positions) {
      std::vector<PartId> pushed;
      if (const std::optional<Obstacle> obstacle = first_in(position, pushed)) {
        if (std::find(obstacles.begin(), obstacles.end(), *obstacle) == obstacles.end()) obstacles.push_back(*obstacle);
      } else if (!best || pushed.size() < best->size()) {
        best = std::move(pushed);
        if (best->empty()) break;
      }
    }
    if (best) return best;
    // What is nearest to the screws is told; a surface only where nothing else is in the way.
    const auto height = [&](const Obstacle& o) {
      return o.part == kNone ? 2.0 * impl.frame.driver : height_of(o.part);
    };
    tell(*std::min_element(obstacles.begin(), obstacles.end(),
                           [&](const Obstacle& a, const Obstacle& b) { return height(a) < height(b); }),
         refusal);
    for (const Obstacle& obstacle : obstacles) hold(obstacle, refusal.held_by);
    return std::nullopt;
  }

  void tell(const Obstacle& obstacle, Refusal& refusal) const {
    refusal.kind = MoveKind::unfasten;
    refusal.why = Refusal::Why::no_reach;
    refusal.moving = flange;
    refusal.blocking = obstacle.part;
    refusal.surface = obstacle.part == kNone ? obstacle.surface : kNone;
    refusal.wanted = impl.frame.driver;
    refusal.given = obstacle.part == kNone ? 0.0 : height_of(obstacle.part);
  }
};

const ScrewReach& Undoer::Impl::reach_of_screws(ContactId c) {
  const auto known = reach_.find(c);
  if (known != reach_.end()) return known->second;
  return reach_.emplace(c, reach_of(frame, list, index, contact(c))).first->second;
}

void Undoer::Impl::unfasten(const State& state, ContactId c, Attempt& attempt) {
  const ScrewReach& reach = reach_of_screws(c);
  std::vector<PartId> aside;
  if (!reach.positions.empty()) {
    Refusal refusal;
    std::optional<std::vector<PartId>> pushed = UnfastenCase{*this, state, reach, contact(c).a}.fewest_aside(refusal);
    if (!pushed) {
      attempt.refusals.push_back(std::move(refusal));
      return;
    }
    aside = std::move(*pushed);
  }
  attempt.legal = true;
  attempt.move.kind = MoveKind::unfasten;
  attempt.move.contacts = {c};
  attempt.move.aside = std::move(aside);
  finish(state, attempt.move, {list.vertex(contact(c).a)});
}

}  // namespace dryfit::planner

#include "planner/moves/reach.hpp"

#include <algorithm>
#include <cmath>
#include <numbers>

#include "model/geometry/convex.hpp"

namespace dryfit::planner {
namespace {

using model::Direction;
using model::kNone;
using model::Solid;
using model::Vec3;

constexpr double kBit = 3.5;      // mm, half of a long 1/4 in bit (common practice, no source)
constexpr double kOnAxis = 0.05;  // mm
constexpr int kScrews = 4;        // common practice: model/data/fittings.csv has no flange with another number
constexpr int kPositions = 12;    // of the flange, in the quarter turn from one screw to the next

/// A direction square to `d`, along an axis.
Vec3 square_to(Direction d) {
  const Vec3 unit = d.unit();
  for (int i = 2; i >= 0; --i) {
    if (unit[i] != 0.0) continue;
    Vec3 square;
    square[i] = 1.0;
    return square;
  }
  return {};
}

model::Bounds swept(const Solid& solid, Vec3 by) {
  model::Bounds box = bounds_of(solid);
  for (int i = 0; i < 3; ++i) (by[i] > 0 ? box.hi : box.lo)[i] += by[i];
  return box;
}

void sort_once_each(std::vector<PartId>& parts) {
  std::sort(parts.begin(), parts.end());
  parts.erase(std::unique(parts.begin(), parts.end()), parts.end());
}

class Site {
 public:
  Site(const model::Frame& frame, const ContactList& list, const BodyIndex& index, const Contact& fastening)
      : frame_(frame),
        list_(list),
        index_(index),
        flange_(frame.part(fastening.a)),
        part_(fastening.a),
        into_(fastening.b) {
    reach_.away = flange_.ports.front().facing;
    const Solid& plate = flange_.solids.back();
    reach_.plate = flange_.centre + reach_.away.unit() * norm(plate.b - plate.a);
  }

  ScrewReach look() {
    reach_.positions.resize(kPositions);
    for (int k = 0; k < kPositions; ++k) look_along(k);
    for (const ScrewReach::Position& position : reach_.positions) {
      for (const PartId p : position.over) push_aside(p);
    }
    std::sort(reach_.aside.begin(), reach_.aside.end(),
              [](const PushedAside& a, const PushedAside& b) { return a.board < b.board; });
    return std::move(reach_);
  }

 private:
  [[nodiscard]] const model::Board* board(PartId p) const {
    const int i = frame_.part(p).board;
    return i == kNone ? nullptr : &frame_.board(i);
  }

  [[nodiscard]] bool on_axis(const Solid& solid) const {
    return solid.shape == Solid::Shape::cylinder && parallel(solid.along, reach_.away) &&
           norm(cross(solid.a - flange_.centre, reach_.away.unit())) < kOnAxis;
  }
  /// Of the flange's own run: the driver leans out past the arms of a tee or an elbow. Only what goes all round counts.
  [[nodiscard]] bool is_own(PartId p) const {
    const std::vector<Solid>& solids = frame_.part(p).solids;
    return std::any_of(solids.begin(), solids.end(), [&](const Solid& solid) { return on_axis(solid); });
  }

  /// The ways of the four screws with the flange in position k.
  void look_along(int k) {
    ScrewReach::Position& position = reach_.positions[at(k)];
    const Vec3 u = square_to(reach_.away), v = cross(reach_.away.unit(), u);
    const double circle = flange_.screw_circle / 2.0;
    const double bit = std::min(kBit, (circle - flange_.solids.front().radius) / 2.0);  // the hub is not in the way
    for (int screw = 0; screw < kScrews; ++screw) {
      const double angle = 2.0 * std::numbers::pi * (k + kPositions * screw) / (kPositions * kScrews);
      const Vec3 head = reach_.plate + (u * std::cos(angle) + v * std::sin(angle)) * circle;
      const Solid way = model::cylinder(head, reach_.away, frame_.driver, bit);
      std::vector<int> near;
      index_.find(bounds_of(way), near);
      for (const int i : near) {
        const Body& body = index_.bodies()[at(i)];
        if (body.part == part_ || body.part == into_ || (is_own(body.part) && !on_axis(body.solid))) continue;
        if (model::hits({way}, body.thing(), {}, list_.touch)) position.over.push_back(body.part);
      }
      if (position.surface == kNone) position.surface = surface_in(way, {});
    }
    sort_once_each(position.over);
  }

  /// A surface that the solid gets into on its way, or kNone.
  [[nodiscard]] int surface_in(const Solid& solid, Vec3 sweep) const {
    for (std::size_t s = 0; s < frame_.surfaces.size(); ++s) {
      const model::Surface& surface = frame_.surfaces[s];
      const Vec3 in = -surface.normal.unit();
      const double reach = reach_along(solid, in) + std::max(0.0, dot(sweep, in));
      if (reach + surface.at * surface.normal.unit()[surface.normal.axis()] >= list_.touch) {
        return static_cast<int>(s);
      }
    }
    return kNone;
  }

  /// What stops a board with holes along the screws on its way out of the driver's.
  void push_aside(PartId p) {
    const model::Board* b = board(p);
    if (b == nullptr || b->laid() || !parallel(b->facing, reach_.away)) return;
    const auto same = [&](const PushedAside& known) { return known.board == p; };
    if (std::any_of(reach_.aside.begin(), reach_.aside.end(), same)) return;
    const Vec3 unit = reach_.away.unit();
    const double low = -reach_along(model::box(b->lo, b->hi), -unit);
    reach_.aside.push_back(pushed(*b, dot(reach_.plate, unit) + frame_.driver - low));
  }

  /// What the board meets when it goes so far along the screws, mm.
  [[nodiscard]] PushedAside pushed(const model::Board& b, double length) const {
    const Vec3 unit = reach_.away.unit(), way = unit * length;
    const Solid whole = model::box(b.lo, b.hi);
    PushedAside aside;
    aside.board = b.part;
    aside.surface = surface_in(whole, way);
    for (int own = index_.first(b.part); own < index_.last(b.part); ++own) {
      const Body& plank = index_.bodies()[at(own)];
      std::vector<int> near;
      index_.find(swept(plank.solid, way), near);
      for (const int i : near) {
        const Body& body = index_.bodies()[at(i)];
        if (body.part != b.part && stops(b, plank, body, i, way)) aside.stops.push_back(body.part);
      }
    }
    sort_once_each(aside.stops);
    for (const PartId stop : aside.stops) {
      const model::Board* other = board(stop);
      if (other == nullptr || other->laid() || !parallel(other->facing, reach_.away)) continue;
      const double gap = -reach_along(model::box(other->lo, other->hi), -unit) - reach_along(whole, unit);
      const double rest = length - std::max(0.0, gap);
      // Only what is ahead is pushed, so this ends.
      if (gap > -list_.touch && rest > list_.touch) aside.pushes.push_back(pushed(*other, rest));
    }
    return aside;
  }

  [[nodiscard]] bool stops(const model::Board& b, const Body& plank, const Body& body, int number, Vec3 way) const {
    const Vec3 unit = reach_.away.unit();
    if (const model::Hole* hole = hole_round(b, number)) {
      // Too wide for the hole, and ahead of the board: not what carries it from behind.
      const double ahead = -reach_along(body.solid, -unit) - reach_along(model::box(b.lo, b.hi), unit);
      const double end = reach_along(body.solid, unit) - reach_along(model::box(b.lo, b.hi), unit);
      return !list_.goes_through(2.0 * body.solid.radius, hole->diameter) && end > list_.touch &&
             std::max(0.0, ahead) < norm(way) - list_.touch;
    }
    const bool carrier = std::find(b.carriers.begin(), b.carriers.end(), body.part) != b.carriers.end();
    if (carrier && b.facing == reach_.away) return false;  // it is lifted off
    if (const model::Board* other = board(body.part); other != nullptr && other->facing == -reach_.away) {
      if (std::find(other->carriers.begin(), other->carriers.end(), b.part) != other->carriers.end()) return false;
    }
    return model::hits(plank.thing(), body.thing(), way, list_.touch);
  }

  /// The hole or slot of the board on whose axis the body lies.
  [[nodiscard]] const model::Hole* hole_round(const model::Board& b, int number) const {
    const int line = index_.line_of(number);
    if (line == kNone) return nullptr;
    for (const HoleOnLine& hole : index_.holes_on(line)) {
      if (hole.board == b.part) return &b.holes[at(hole.hole)];
    }
    return nullptr;
  }

  const model::Frame& frame_;
  const ContactList& list_;
  const BodyIndex& index_;
  const model::Part& flange_;
  PartId part_;
  PartId into_;  ///< what the screws go into is not over them, however wrong its place is drawn
  ScrewReach reach_;
};

}  // namespace

ScrewReach reach_of(const model::Frame& frame, const ContactList& list, const BodyIndex& index,
                    const Contact& fastening) {
  using Kind = model::Fastening::Kind;
  const Kind kind = frame.fastening(fastening.fastening).kind;
  if (kind != Kind::flange_to_surface && kind != Kind::flange_to_board) return {};
  return Site(frame, list, index, fastening).look();
}

}  // namespace dryfit::planner

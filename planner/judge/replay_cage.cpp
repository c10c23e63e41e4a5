#include "planner/judge/replay_cage.hpp"

#include <algorithm>

#include "planner/judge/replay_words.hpp"

namespace dryfit::planner::judge {

using model::Bounds;
using model::Direction;
using model::Solid;
using model::Vec3;

namespace {

constexpr double kFar = 1e7;  ///< surfaces are boxes as large as this, mm

/// A box that bars the way, and whose it is.
struct Bar {
  Solid box;
  Message name;
};

double upper(const Solid& box, Direction way) { return reach_along(box, way.unit()); }
double lower(const Solid& box, Direction way) { return -reach_along(box, -way.unit()); }

/// The two overlap along the direction by more than touching.
bool level_with(const Solid& a, const Solid& b, Direction way) {
  return std::min(upper(a, way), upper(b, way)) - std::max(lower(a, way), lower(b, way)) > model::kTouch;
}

/// The part of the box between two distances behind its end towards `way`.
Solid slice(const Solid& box, Direction way, double from, double to) {
  Vec3 lo = box.a, hi = box.b;
  const int axis = way.axis();
  const bool up = way.unit()[axis] > 0.0;
  lo[axis] = up ? box.b[axis] - to : box.a[axis] + from;
  hi[axis] = up ? box.b[axis] - from : box.a[axis] + to;
  return model::box(lo, hi);
}

Solid behind(const model::Surface& surface) {
  Vec3 lo{-kFar, -kFar, -kFar}, hi{kFar, kFar, kFar};
  const int axis = surface.normal.axis();
  (surface.normal.unit()[axis] > 0.0 ? hi : lo)[axis] = surface.at;
  return model::box(lo, hi);
}

struct Crate {
  Solid board;
  Direction up;
  std::vector<Direction> edges;  ///< the four ways out of the board in its plane
  double shorter = 0.0;
  std::vector<Bar> bars;

  [[nodiscard]] double middle() const { return 0.5 * (upper(board, up) + lower(board, up)); }

  /// The bar is over the rim at the edge, its underside no higher than that.
  [[nodiscard]] bool over(const Bar& bar, Direction edge, double most) const {
    const Solid rim = slice(board, edge, 0.0, 0.125 * (upper(board, edge) - lower(board, edge)));
    const double under = lower(bar.box, up);
    return under >= middle() && under <= most &&
           std::all_of(edges.begin(), edges.end(), [&](Direction way) { return level_with(bar.box, rim, way); });
  }
  [[nodiscard]] bool beside(const Bar& bar, Direction edge, Direction corner, double lid) const {
    const double gap = lower(bar.box, edge) - upper(board, edge), thick = upper(board, up) - lower(board, up);
    return gap >= -model::kTouch && gap <= shorter / 16.0 && lower(bar.box, up) <= upper(board, up) - 0.25 * thick &&
           upper(bar.box, up) >= lid - 0.5 * thick &&
           level_with(bar.box, slice(board, corner, 0.1 * shorter, 0.35 * shorter), corner);
  }
  /// With everything up to that height as the lid it is shut in.
  [[nodiscard]] bool shut_below(double lid) const {
    return std::all_of(edges.begin(), edges.end(), [&](Direction edge) {
      const auto some = [&](const auto& yes) { return std::any_of(bars.begin(), bars.end(), yes); };
      if (!some([&](const Bar& bar) { return over(bar, edge, lid); })) return false;
      return std::all_of(edges.begin(), edges.end(), [&](Direction corner) {
        return corner.axis() == edge.axis() || some([&](const Bar& bar) { return beside(bar, edge, corner, lid); });
      });
    });
  }
};

}  // namespace

std::optional<Message> lid_of_cage(const Scene& scene, PartId board, const std::vector<int>& carriers,
                                   const std::function<bool(PartId)>& stays, bool surfaces) {
  const model::Board& wood = *scene.board(board);
  Crate crate{model::box(wood.lo, wood.hi), wood.facing, {}, 0.0, {}};
  for (const Direction way : model::all_directions()) {
    if (way.along_axis() && way.axis() != wood.facing.axis()) crate.edges.push_back(way);
  }
  crate.shorter = kFar;
  for (const Direction way : crate.edges) {
    crate.shorter = std::min(crate.shorter, upper(crate.board, way) - lower(crate.board, way));
  }
  for (const Direction edge : crate.edges) {
    const Solid rim = slice(crate.board, edge, 0.0, 0.25 * (upper(crate.board, edge) - lower(crate.board, edge)));
    const bool borne = std::any_of(carriers.begin(), carriers.end(), [&](int carrier) {
      const auto bodies = scene.bodies_of(carrier);
      return std::any_of(bodies.begin(), bodies.end(), [&](const Body& body) {
        const Solid box = model::box(body.bounds.lo, body.bounds.hi);
        return upper(box, crate.up) > lower(crate.board, crate.up) - model::kTouch &&
               std::all_of(crate.edges.begin(), crate.edges.end(),
                           [&](Direction way) { return level_with(box, rim, way); });
      });
    });
    if (!borne) return std::nullopt;
  }
  Bounds place{wood.lo, wood.hi};
  const double wide = 0.25 * crate.shorter;
  place.lo = place.lo - Vec3{wide, wide, wide};
  place.hi = place.hi + Vec3{wide, wide, wide};
  for (const int index : scene.near(place)) {
    const Body& body = scene.body(index);
    const bool square = body.solid.shape == Solid::Shape::box || body.solid.along.along_axis();
    if (body.part == board || wood.lies_over(body.part) || !square || !stays(body.part)) continue;
    crate.bars.push_back({model::box(body.bounds.lo, body.bounds.hi), called(scene, body.part)});
  }
  const auto& all = scene.frame().surfaces;
  for (std::size_t s = 0; surfaces && s < all.size(); ++s) {
    crate.bars.push_back({behind(all[s]), surface_called(scene, static_cast<int>(s))});
  }
  for (const Bar& bar : crate.bars) {
    const double lid = lower(bar.box, crate.up);
    if (lid > upper(crate.board, crate.up) + wide || lid < crate.middle() || !crate.shut_below(lid)) continue;
    return bar.name;
  }
  return std::nullopt;
}

}  // namespace dryfit::planner::judge

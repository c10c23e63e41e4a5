/// What a turn takes along the axis: boards on it, and what those push or carry, must not run into what stays.
#include <algorithm>
#include <limits>
#include <queue>
#include <tuple>

#include "model/geometry/at.hpp"
#include "planner/judge/replay_turn.hpp"

namespace dryfit::planner::judge {

using model::Direction;
using model::Vec3;

namespace {

/// Where something met something on its way.
struct Meeting {
  double after = std::numeric_limits<double>::infinity();  ///< mm from the start
  PartId mover = model::kNone;
  PartId met = model::kNone;  ///< kNone: a surface, or nothing at all
  int surface = model::kNone;
  [[nodiscard]] bool found() const { return met != model::kNone || surface != model::kNone; }
};

/// A board against a cylinder on the line of one of its holes, the board moved along `way`: how far it goes.
std::optional<double> way_over(const Scene& scene, const model::Board& wood, const model::Solid& other, Direction way,
                               double limit) {
  if (!parallel(wood.facing, way)) return {};
  bool on_line = false;
  for (const model::Hole& hole : wood.holes) {
    if (!coaxial(other, hole.centre, wood.facing)) continue;
    on_line = true;
    if (scene.slips_through(2.0 * other.radius, hole)) return limit;
  }
  if (!on_line) return {};
  const model::Solid whole = model::box(wood.lo, wood.hi);
  const double front = reach_along(whole, way.unit());
  const double from = -reach_along(other, -way.unit()), to = reach_along(other, way.unit());
  if (to <= front + scene.list().touch) return limit;
  return std::clamp(from - front, 0.0, limit);
}

/// Follows pushes from part to part. Loads are what hangs rigidly together while holes along the axis let go.
class Pushes {
 public:
  Pushes(const Scene& scene, Pieces& loads, Cluster& cluster, const Contact& thread)
      : scene_(scene), loads_(loads), cluster_(cluster), thread_(thread) {}

  /// The least that `board` and what it pushes can be moved along `way` before one of `ends` is met; of a load that
  /// holds one of `ends` or `others` the board alone is moved. Loads of `others` are not pushed.
  Meeting first_met(PartId board, Direction way, const std::vector<int>& ends, const std::vector<int>& others,
                    double limit) {
    if (any_same(board, ends)) return {0.0, board, board, model::kNone};
    Meeting nearest;
    using Entry = std::tuple<double, int, bool>;  // how far the board went when this load was reached; one of its parts
    std::priority_queue<Entry, std::vector<Entry>, std::greater<>> open;
    std::vector<int> settled;
    open.emplace(0.0, board, any_same(board, others));
    while (!open.empty()) {
      const auto [start, part, alone] = open.top();
      open.pop();
      if (start >= std::min(limit, nearest.after)) break;
      if (any_same(part, settled)) continue;
      settled.push_back(part);
      for (const int member : alone ? std::vector<int>{part} : loads_.members(part)) {
        if (member == scene_.list().room()) continue;
        for (const Meeting& step : met_by(member, way, std::min(limit, nearest.after) - start)) {
          const double after = start + step.after;
          if (step.met == model::kNone || any_same(step.met, ends)) {
            if (after < nearest.after) nearest = {after, step.mover, step.met, step.surface};
          } else if (!any_same(step.met, others) && !loads_.same(step.met, part) && pushed_on(step.met)) {
            open.emplace(after, step.met, false);
          }
        }
      }
    }
    return nearest.after < limit ? nearest : Meeting{};
  }

  void meet_surfaces(bool yes) { surfaces_ = yes; }

  /// From now on only what a turn about the axis does not help against: bodies of which one is round about the axis,
  /// surfaces square to it. Of loads that are no ends only those of `pipes` are pushed.
  void keep_to_axis(const std::vector<int>& pipes) {
    axis_only_ = true;
    pipes_ = pipes;
  }

 private:
  bool any_same(int part, const std::vector<int>& parts) {
    return std::any_of(parts.begin(), parts.end(), [&](int other) { return loads_.same(part, other); });
  }

  bool pushed_on(int part) { return !axis_only_ || any_same(part, pipes_); }
  [[nodiscard]] bool round_axis(const Body& body) const { return coaxial(body.solid, thread_.on_axis, thread_.axis); }

  /// Everything of the same cluster that the part meets within `limit`.
  std::vector<Meeting> met_by(PartId part, Direction way, double limit) {
    std::vector<Meeting> met;
    for (const Body& body : scene_.bodies_of(part)) {
      for (const int index : scene_.near(swept(body.bounds, way.unit() * limit))) {
        const Body& other = scene_.body(index);
        if (other.part == part || !cluster_.holds(other.part)) continue;
        if (axis_only_ && !round_axis(body) && !round_axis(other)) continue;
        const double after = distance(body, other, way, limit);
        if (after < limit) met.push_back({after, part, other.part, model::kNone});
      }
      for (std::size_t s = 0; surfaces_ && s < scene_.frame().surfaces.size(); ++s) {
        const model::Surface& surface = scene_.frame().surfaces[s];
        const double toward = -dot(way.unit(), surface.normal.unit());
        if (toward < (axis_only_ ? 1.0 - 1e-9 : 1e-9)) continue;
        const double free = -depth_behind(surface, reach_along(body.solid, -surface.normal.unit())) / toward;
        if (free < limit) met.push_back({std::max(0.0, free), part, model::kNone, static_cast<int>(s)});
      }
    }
    return met;
  }

  double distance(const Body& mine, const Body& other, Direction way, double limit) {
    if ((mine.part == thread_.a && other.part == thread_.b) || (mine.part == thread_.b && other.part == thread_.a)) {
      return limit;
    }
    if (const model::Board* wood = scene_.board(mine.part)) {
      if (const auto over = way_over(scene_, *wood, other.solid, way, limit)) return *over;
    }
    if (const model::Board* wood = scene_.board(other.part)) {
      if (const auto over = way_over(scene_, *wood, mine.solid, -way, limit)) return *over;
    }
    if (draws_out(scene_, mine.part, other.part, way) || lies_on(scene_, mine.part, other.part, way)) return limit;
    const double touch = touch_of(scene_, mine.part, other.part);
    const double sprung = scene_.part(mine.part).union_mate == other.part ? kUnionTouch : 0.0;
    return std::min(limit, sprung + free_travel(mine.thing(), other.thing(), way, limit, touch));
  }

  const Scene& scene_;
  Pieces& loads_;
  Cluster& cluster_;
  const Contact& thread_;
  bool surfaces_ = false;
  bool axis_only_ = false;
  std::vector<int> pipes_;
};

}  // namespace

Obstacle Judge::float_missing(Turn& turn, int turning, int still) {
  const int room = scene_.list().room();
  const Direction way = turn.way(turning);
  const bool with_room = turn.cluster.holds_room();
  std::vector<int> staying{still};
  if (with_room) staying.push_back(room);
  Pieces loads(scene_, turn.made, {.contact = turn.contact, .along = turn.thread.axis}, load_marks_);
  Pushes pushes(scene_, loads, turn.cluster, turn.thread);
  const double needed = turn.engaged - scene_.list().touch;
  const model::Joint& joint = scene_.frame().joint(turn.thread.joint);
  const Vec3 face = scene_.part(joint.female).ports[at(joint.female_port)].at;
  for (const ContactId id : scene_.holes_on(turn.thread.line)) {
    const Contact& hole = scene_.contact(id);
    if (!turn.cluster.holds(hole.a)) continue;
    // What moves into a board farther on is stopped by it, even when its pipe is out.
    const bool farther_on = dot(scene_.part(hole.a).centre - face, way.unit()) > 0.0;
    if (!farther_on && !turn.pieces.same(hole.a, turning) && !turn.pieces.same(hole.b, turning)) continue;
    pushes.meet_surfaces(false);
    const Meeting behind = pushes.first_met(hole.a, -way, {turning}, staying, turn.engaged);
    if (behind.after >= needed) continue;
    pushes.meet_surfaces(with_room);
    const Meeting ahead = pushes.first_met(hole.a, way, staying, {turning}, turn.engaged);
    if (behind.after + ahead.after >= needed) continue;
    return gives_way(turn, turning, hole.a,
                     {behind.after + ahead.after, behind.mover, behind.met, ahead.mover, ahead.met, ahead.surface});
  }
  // A pipe that hangs loose on the axis can be turned aside about it, and yet stays on it.
  std::vector<int> loose;
  for (const ContactId id : scene_.holes_on(turn.thread.line)) {
    const int pipe = scene_.contact(id).b;
    if (!turn.cluster.holds(pipe) || loads.same(pipe, turning)) continue;
    if (std::none_of(staying.begin(), staying.end(), [&](int v) { return loads.same(pipe, v); })) loose.push_back(pipe);
  }
  pushes.keep_to_axis(loose);
  for (const int pipe : loose) {
    pushes.meet_surfaces(false);
    const Meeting behind = pushes.first_met(pipe, -way, {turning}, staying, turn.engaged);
    if (behind.after >= needed) continue;
    pushes.meet_surfaces(with_room);
    const Meeting ahead = pushes.first_met(pipe, way, staying, {turning}, turn.engaged);
    if (behind.after + ahead.after >= needed) continue;
    return message(
        "turning {} shifts it {} along its axis, but {}, which hangs loose in front of it, gives way only {}",
        called(scene_, turning), shop_length(turn.engaged, scene_), called(scene_, pipe),
        shop_length(behind.after + ahead.after, scene_));
  }
  return {};
}

Obstacle Judge::gives_way(const Turn& turn, int turning, PartId board, const Pushed& pushed) const {
  std::vector<Message> stops;
  Message further;
  const auto tell = [&](PartId mover, PartId met, int surface) {
    if (met == board && surface == model::kNone) return;  // the board is of that side itself
    const Message name = met == model::kNone ? surface_called(scene_, surface) : called(scene_, met);
    if (mover != board) {
      further += message("; {}, which it moves, meets {}", called(scene_, mover), name);
    } else {
      name_next(stops, name);
    }
  };
  tell(pushed.behind, pushed.behind_met, model::kNone);
  tell(pushed.ahead, pushed.ahead_met, pushed.surface);
  Message held;
  for (const ContactId id : scene_.at(board)) {
    if (turn.made[dryfit::at(id)] != 0 && scene_.contact(id).kind == ContactKind::fastening) {
      held = message(", held by {},", scene_.contact(id).id);
    }
  }
  const Message until = stops.empty() ? Message() : message(" before it meets {}", listed(stops));
  return message("turning {} shifts it {} along its axis, but {}{} gives way only {}{}{}", called(scene_, turning),
                 shop_length(turn.engaged, scene_), called(scene_, board), held, shop_length(pushed.given, scene_),
                 until, further);
}

}  // namespace dryfit::planner::judge

#include "planner/standing.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <numeric>

#include "planner/subassembly.hpp"

namespace dryfit::planner {

using model::Bounds;
using model::kNone;
using model::Solid;
using model::Vec3;

namespace {

double cross(Point2 o, Point2 a, Point2 b) { return (a.x - o.x) * (b.y - o.y) - (a.y - o.y) * (b.x - o.x); }

/// Where a body touches the floor: corners of a box, twelve points of an upright cylinder's end, else its bounds.
void add_foot(const Solid& solid, std::vector<Point2>& points) {
  if (solid.shape == Solid::Shape::cylinder && solid.along.axis() == 2) {
    for (int i = 0; i < 12; ++i) {
      const double t = 2.0 * std::numbers::pi * i / 12.0;
      points.push_back({solid.a.x + solid.radius * std::cos(t), solid.a.y + solid.radius * std::sin(t)});
    }
    return;
  }
  const Bounds box = bounds_of(solid);
  for (const double x : {box.lo.x, box.hi.x}) {
    for (const double y : {box.lo.y, box.hi.y}) points.push_back({x, y});
  }
}

constexpr double kFootBand = 5.0;  // mm: what is within it of the lowest point touches the floor
constexpr int kPoses = 3;
constexpr Pose kAllPoses[kPoses] = {Pose::standing, Pose::laid, Pose::over};

/// The steps as the one who builds sees them: the piece worked on after each step.
struct InHand {
  std::vector<PartId> parts;
  bool fastened = false;  ///< screwed to the room
  double mass = 0.0;
};

/// Parts connected with each other by the contacts made so far, the room left out.
class Growing {
 public:
  Growing(const model::Frame& frame, const ContactList& list)
      : list_(list), parent_(frame.parts.size()), members_(frame.parts.size()), fastened_(frame.parts.size(), 0) {
    std::iota(parent_.begin(), parent_.end(), 0);
    for (std::size_t p = 0; p < members_.size(); ++p) members_[p] = {static_cast<PartId>(p)};
  }
  void make(ContactId id) {
    const Contact& c = list_.contacts[static_cast<std::size_t>(id)];
    if (c.b == model::kRoom) {
      fastened_[at(find(c.a))] = 1;
      return;
    }
    PartId a = find(c.a), b = find(c.b);
    if (a == b) return;
    if (members_[at(a)].size() < members_[at(b)].size()) std::swap(a, b);
    members_[at(a)].insert(members_[at(a)].end(), members_[at(b)].begin(), members_[at(b)].end());
    members_[at(b)].clear();
    fastened_[at(a)] = static_cast<char>(fastened_[at(a)] | fastened_[at(b)]);
    parent_[at(b)] = a;
  }
  PartId find(PartId p) {
    while (parent_[at(p)] != p) p = parent_[at(p)] = parent_[at(parent_[at(p)])];
    return p;
  }
  const std::vector<PartId>& members(PartId p) { return members_[at(find(p))]; }
  bool fastened(PartId p) { return fastened_[at(find(p))] != 0; }

 private:
  static std::size_t at(PartId p) { return static_cast<std::size_t>(p); }
  const ContactList& list_;
  std::vector<PartId> parent_;
  std::vector<std::vector<PartId>> members_;
  std::vector<char> fastened_;
};

/// What working in a pose adds to a step, seconds.
double trouble(const model::Frame& frame, const ContactList& list, const EffortRates& rates, const Step& step,
               Pose pose) {
  constexpr double kImpossible = 1e6;
  const double up = pose == Pose::over ? -step.travel.z : step.travel.z;
  const double level = std::max(std::abs(step.travel.x), std::abs(step.travel.y));
  const bool upright = std::abs(step.travel.z) > level;
  switch (step.action) {
    case Action::screw: return pose != Pose::laid && upright && up > 0.0 ? rates.from_below : 0.0;
    case Action::slide:
    case Action::pass:
      if (pose == Pose::laid || !upright) return rates.board_level;
      return up > 0.0 ? rates.board_uphill : 0.0;
    case Action::lay: return pose == Pose::standing ? 0.0 : kImpossible;
    case Action::join: return 0.0;
    case Action::fasten: break;
  }
  const Contact& c = list.contacts[static_cast<std::size_t>(step.contacts.front())];
  static_cast<void>(frame);
  return c.b == model::kRoom && pose != Pose::standing ? kImpossible : 0.0;
}

double turning_cost(const EffortRates& rates, double mass, Pose from, Pose to) {
  return from == to ? 0.0 : rates.turn_work + rates.turn_work_mass * mass;
}

/// Coordinate of the surface that faces `normal`, if there is one.
const model::Surface* facing(const model::Frame& frame, model::Direction normal) {
  const auto found = std::find_if(frame.surfaces.begin(), frame.surfaces.end(),
                                  [&](const model::Surface& s) { return s.normal == normal; });
  return found == frame.surfaces.end() ? nullptr : &*found;
}

/// Room between two facing surfaces along an axis.
std::optional<double> room_along(const model::Frame& frame, model::Direction axis) {
  const model::Surface* low = facing(frame, axis);
  const model::Surface* high = facing(frame, -axis);
  if (low == nullptr || high == nullptr) return std::nullopt;
  return high->at - low->at;
}

/// Tilted about its longer lower edge a piece of height h and depth d rises to the diagonal of h and d.
void judge(const model::Frame& frame, const Effort& effort, Turning& turning) {
  Bounds box = effort.bounds(turning.parts.front());
  for (const PartId p : turning.parts) box = joined(box, effort.bounds(p));
  const Vec3 size = box.hi - box.lo;
  turning.room_height = room_along(frame, model::kUp);
  turning.fits = false;
  for (const int axis : size.x < size.y ? std::array{0, 1} : std::array{1, 0}) {
    const double diagonal = std::hypot(size.z, size[axis]);
    const auto across = room_along(frame, axis == 0 ? model::kRight : model::kBack);
    std::string obstacle;
    if (turning.room_height && diagonal > *turning.room_height) {
      obstacle = facing(frame, model::kDown)->id;
    } else if (across && size.z > *across) {
      obstacle = facing(frame, axis == 0 ? model::kLeft : model::kFront)->id;
    }
    if (turning.diagonal == 0.0 || (obstacle.empty() && !turning.fits)) {
      turning.diagonal = diagonal;
      turning.obstacle = obstacle;
      turning.fits = obstacle.empty();
    }
  }
}

/// What turning the work where there is no room for it adds: so much that it is done only where nothing else is left.
double strike_cost(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts) {
  constexpr double kStrikes = 1e4;
  if (frame.surfaces.size() < 2) return 0.0;
  Turning turning;
  turning.parts = parts;
  judge(frame, effort, turning);
  return turning.fits ? 0.0 : kStrikes;
}

std::vector<WayIn> ways_in(const model::Frame& frame) {
  std::vector<WayIn> ways;
  for (std::size_t s = 0; s < frame.surfaces.size(); ++s) {
    for (std::size_t t = s + 1; t < frame.surfaces.size(); ++t) {
      if (frame.surfaces[s].normal != -frame.surfaces[t].normal) continue;
      WayIn way;
      way.surfaces = {frame.surfaces[s].id, frame.surfaces[t].id};
      bool touches[2] = {false, false};
      for (const model::Fastening& f : frame.fastenings) {
        if (f.other != model::kRoom) continue;
        const auto surface = static_cast<std::size_t>(f.surface);
        if (surface != s && surface != t) continue;
        touches[surface == s ? 0 : 1] = true;
        if (f.kind != model::Fastening::Kind::flange_to_surface) continue;
        const model::Part& flange = frame.parts[static_cast<std::size_t>(f.part)];
        for (const model::Port& port : flange.ports) {
          if (port.joint == kNone || !parallel(port.facing, frame.surfaces[s].normal)) continue;
          const model::Joint& joint = frame.joints[static_cast<std::size_t>(port.joint)];
          const double spare = std::floor((joint.wrench - joint.engaged) / joint.pitch + 1e-6);
          if (spare < 1.0 || spare <= way.turns) continue;
          way.flange = f.part;
          way.turns = spare;
          way.gives = spare * joint.pitch;
        }
      }
      if (touches[0] && touches[1]) ways.push_back(std::move(way));
    }
  }
  return ways;
}

}  // namespace

const char* word_for(Pose pose) {
  switch (pose) {
    case Pose::standing: return "standing";
    case Pose::laid: return "laid";
    case Pose::over: return "over";
  }
  return "";
}

std::vector<Point2> convex_hull(std::vector<Point2> points) {
  std::sort(points.begin(), points.end(), [](Point2 a, Point2 b) { return a.x < b.x || (a.x == b.x && a.y < b.y); });
  points.erase(std::unique(points.begin(), points.end(), [](Point2 a, Point2 b) { return a.x == b.x && a.y == b.y; }),
               points.end());
  if (points.size() < 3) return points;
  std::vector<Point2> hull(2 * points.size());
  std::size_t n = 0;
  const auto add = [&](Point2 p, std::size_t least) {
    while (n >= least && cross(hull[n - 2], hull[n - 1], p) <= 0.0) --n;
    hull[n++] = p;
  };
  for (const Point2 p : points) add(p, 2);
  const std::size_t upper = n + 1;
  for (auto p = points.rbegin() + 1; p != points.rend(); ++p) add(*p, upper);
  hull.resize(n - 1);
  return hull;
}

double depth_inside(const std::vector<Point2>& hull, Point2 point) {
  if (hull.empty()) return -std::numeric_limits<double>::infinity();
  if (hull.size() < 3) {
    double nearest = std::numeric_limits<double>::infinity();
    for (const Point2 p : hull) nearest = std::min(nearest, std::hypot(p.x - point.x, p.y - point.y));
    return -nearest;
  }
  double depth = std::numeric_limits<double>::infinity();
  for (std::size_t i = 0; i < hull.size(); ++i) {
    const Point2 a = hull[i], b = hull[(i + 1) % hull.size()];
    depth = std::min(depth, cross(a, b, point) / std::hypot(b.x - a.x, b.y - a.y));
  }
  return depth;
}

Stand stand_of(const model::Frame& frame, const Effort& effort, const std::vector<PartId>& parts, Pose pose) {
  const double sign = pose == Pose::over ? -1.0 : 1.0;
  double lowest = std::numeric_limits<double>::infinity();
  for (const PartId p : parts) {
    const Bounds& box = effort.bounds(p);
    lowest = std::min(lowest, sign > 0.0 ? box.lo.z : -box.hi.z);
  }
  std::vector<Point2> feet;
  double mass = 0.0;
  Point2 middle;
  for (const PartId p : parts) {
    const model::MassProperties& body = effort.properties(p);
    mass += body.mass;
    middle.x += body.mass * body.centre.x;
    middle.y += body.mass * body.centre.y;
    for (const Solid& solid : frame.parts[static_cast<std::size_t>(p)].solids) {
      const Bounds box = bounds_of(solid);
      if ((sign > 0.0 ? box.lo.z : -box.hi.z) <= lowest + kFootBand) add_foot(solid, feet);
    }
  }
  if (mass <= 0.0) return {0.0};
  return {depth_inside(convex_hull(std::move(feet)), {middle.x / mass, middle.y / mass})};
}

StandingPlan plan_standing(const model::Frame& frame, const ContactList& list, const Effort& effort,
                           const std::vector<Step>& steps, PosePreference preference) {
  const EffortRates& rates = effort_rates();
  const Grouping grouping = subassemblies_of(frame, list, steps);
  StandingPlan plan;
  plan.pose_of_step.assign(steps.size(), Pose::laid);
  plan.ways_in = ways_in(frame);
  // In its place on a wall nothing bears it before it is screwed on.
  const bool in_the_air = !frame.surfaces.empty() && facing(frame, model::kUp) == nullptr;
  constexpr double kDisliked = 20.0;  // a preference outweighs any single trouble, not what cannot be done otherwise

  // Shortest way over (step of the main work, pose).
  struct Node {
    double cost = std::numeric_limits<double>::infinity();
    int from = -1;
  };
  std::vector<std::size_t> main_steps;
  std::vector<InHand> work;
  std::vector<std::array<bool, kPoses>> props;
  std::vector<std::array<double, kPoses>> handlings;  ///< without preferences
  std::vector<std::array<Node, kPoses>> nodes;
  Growing growing(frame, list);
  for (std::size_t i = 0; i < steps.size(); ++i) {
    for (const ContactId k : steps[i].contacts) growing.make(k);
    if (grouping.of_step[i] >= 0) continue;  // made up on the bench, turned in the hands
    const PartId part = list.contacts[static_cast<std::size_t>(steps[i].contacts.front())].a;
    InHand now{growing.members(part), growing.fastened(part), 0.0};
    now.mass = effort.mass_of(now.parts);
    // Who wants it laid is told where it strikes; who has no wish gets an order that need not be turned there.
    const double strikes =
        nodes.empty() || preference == PosePreference::laid ? 0.0 : strike_cost(frame, effort, work.back().parts);
    std::array<bool, kPoses> prop{};
    std::array<double, kPoses> handling{};
    std::array<Node, kPoses> node;
    for (int q = 0; q < kPoses; ++q) {
      const auto at = static_cast<std::size_t>(q);
      const Pose pose = kAllPoses[at];
      prop[at] =
          pose != Pose::laid && !now.fastened && (in_the_air || !stand_of(frame, effort, now.parts, pose).stands());
      double here = trouble(frame, list, rates, steps[i], pose) + (prop[at] ? rates.prop : 0.0);
      handling[at] = here;
      if (now.fastened && pose != Pose::standing) here += 1e6;
      if (preference == PosePreference::laid && pose != Pose::laid) here += kDisliked;
      if (preference == PosePreference::standing && pose != Pose::standing) here += kDisliked;
      if (nodes.empty()) {
        node[at] = {here, -1};
        continue;
      }
      for (int p = 0; p < kPoses; ++p) {
        const double cost = nodes.back()[static_cast<std::size_t>(p)].cost +
                            turning_cost(rates, work.back().mass, kAllPoses[p], pose) + (p == q ? 0.0 : strikes) + here;
        if (cost < node[at].cost - 1e-9) node[at] = {cost, p};
      }
    }
    main_steps.push_back(i);
    work.push_back(std::move(now));
    props.push_back(prop);
    handlings.push_back(handling);
    nodes.push_back(node);
  }
  if (nodes.empty()) return plan;
  // At the end it stands as the design has it, if there is a room for it to stand in.
  int at = 0;
  double best = std::numeric_limits<double>::infinity();
  const double strikes = preference == PosePreference::laid ? 0.0 : strike_cost(frame, effort, work.back().parts);
  for (int q = 0; q < kPoses; ++q) {
    double end = 0.0;
    if (!frame.surfaces.empty() && kAllPoses[q] != Pose::standing) {
      end = turning_cost(rates, work.back().mass, kAllPoses[q], Pose::standing) + strikes;
    }
    const double cost = nodes.back()[static_cast<std::size_t>(q)].cost + end;
    if (cost < best - 1e-9) {
      best = cost;
      at = q;
    }
  }
  std::vector<int> chosen(nodes.size());
  for (std::size_t n = nodes.size(); n-- > 0;) {
    chosen[n] = at;
    at = nodes[n][static_cast<std::size_t>(at)].from;
  }
  const auto turn = [&](std::size_t n, Pose to, int before) {
    Turning turning;
    turning.before_step = before;
    turning.from = kAllPoses[chosen[n]];
    turning.to = to;
    turning.parts = work[n].parts;
    std::sort(turning.parts.begin(), turning.parts.end());
    turning.mass = work[n].mass;
    plan.handling += turning_cost(rates, turning.mass, turning.from, to);
    judge(frame, effort, turning);
    plan.turnings.push_back(std::move(turning));
  };
  for (std::size_t n = 0; n < nodes.size(); ++n) {
    const Pose pose = kAllPoses[chosen[n]];
    plan.pose_of_step[main_steps[n]] = pose;
    plan.handling += handlings[n][static_cast<std::size_t>(chosen[n])];
    if (props[n][static_cast<std::size_t>(chosen[n])]) plan.propped.push_back(steps[main_steps[n]].number);
    if (n > 0 && chosen[n] != chosen[n - 1]) turn(n - 1, pose, steps[main_steps[n]].number);
  }
  if (!frame.surfaces.empty() && kAllPoses[chosen.back()] != Pose::standing) {
    turn(nodes.size() - 1, Pose::standing, static_cast<int>(steps.size()) + 1);
  }
  return plan;
}

}  // namespace dryfit::planner

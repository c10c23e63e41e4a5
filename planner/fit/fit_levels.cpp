#include "planner/fit/fit_levels.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <optional>

#include "model/geometry/at.hpp"
#include "planner/fit/fit_slopes.hpp"

namespace dryfit::planner {

using model::Closure;
using model::Frame;
using model::kNone;
using model::kRoom;
using model::Part;
using model::PartId;
using model::Vec3;

namespace {

constexpr double kSamePlace = 1.0;  ///< mm: points nearer than this carry as one

/// A point that carries: place across the normal and height along it.
struct Support {
  Vec3 where;
  double height = 0.0;
  double height_left = 0.0;
};

double across(Vec3 a, Vec3 b, int normal) {
  Vec3 d = a - b;
  d[normal] = 0.0;
  return norm(d);
}

/// Steepest pair of supports: difference, distance and slope.
void measure(const std::vector<Support>& supports, int normal, LevelFit& level) {
  for (std::size_t i = 0; i < supports.size(); ++i) {
    for (std::size_t j = i + 1; j < supports.size(); ++j) {
      const double distance = across(supports[i].where, supports[j].where, normal);
      const double fall = std::abs(supports[i].height - supports[j].height);
      const double fall_left = std::abs(supports[i].height_left - supports[j].height_left);
      level.gap = std::max(level.gap, fall);
      level.left = std::max(level.left, fall_left);
      if (distance < kSamePlace) continue;
      if (level.span == 0.0 || fall / distance * 1000.0 > level.slope) level.span = distance;
      level.slope = std::max(level.slope, fall / distance * 1000.0);
      level.slope_left = std::max(level.slope_left, fall_left / distance * 1000.0);
    }
  }
}

/// The supports as seen along `normal`, with their heights as made up or after the turns.
std::vector<FlatSupport> seen_along(int normal, const std::vector<Support>& supports, double Support::*height) {
  const int first = normal == 0 ? 1 : 0;
  const int second = normal == 2 ? 1 : 2;
  std::vector<FlatSupport> out;
  for (const Support& s : supports) out.push_back({s.where[first], s.where[second], s.*height});
  return out;
}

/// On three supports and more a board leans as the plane that it lies on, the steepest of those that it can lie on.
/// `spreads`: how far each support may stray, in their order.
void lean(const std::vector<Support>& supports, const std::vector<Spread>& spreads, int normal, LevelFit& level) {
  const std::vector<Resting> as_made_up = restings_of(seen_along(normal, supports, &Support::height));
  if (as_made_up.empty()) return;
  level.slope = level.slope_left = level.slope_worst = level.slope_likely = 0.0;
  for (const Resting& plane : as_made_up) {
    level.slope = std::max(level.slope, plane.slope);
    level.rock = std::max(level.rock, plane.rock);
    std::array<double, 3> worst{}, likely{};
    for (std::size_t i = 0; i < 3; ++i) {
      worst[i] = spreads[plane.on[i]].worst;
      likely[i] = spreads[plane.on[i]].likely;
    }
    level.slope_worst = std::max(level.slope_worst, plane.at_worst(worst));
    level.slope_likely = std::max(level.slope_likely, plane.likely(likely));
  }
  for (const Resting& plane : restings_of(seen_along(normal, supports, &Support::height_left))) {
    level.slope_left = std::max(level.slope_left, plane.slope);
    level.rock_left = std::max(level.rock_left, plane.rock);
  }
}

/// The same for leg `i` of the frame: the planes that it stands on with this leg among the three. What its own threads
/// do is counted alone, for every leg is told by itself.
void lean_on_leg(const std::vector<Support>& feet, std::size_t i, LevelFit& level) {
  bool stands = false;
  const auto steepest = [&](double Support::*height, double& slope, double& rock, bool spread) {
    double most = 0.0;
    bool found = false;
    for (const Resting& plane : restings_of(seen_along(2, feet, height))) {
      const std::size_t corner = plane.corner(i);
      if (corner == 3) continue;
      found = true;
      most = std::max(most, plane.slope);
      rock = std::max(rock, plane.rock);
      if (!spread) continue;
      if (!stands) level.slope_worst = level.slope_likely = 0.0;
      stands = true;
      const double per_mm = std::hypot(plane.per_mm[corner][0], plane.per_mm[corner][1]) * 1000.0;
      level.slope_worst = std::max(level.slope_worst, level.spread.worst * per_mm);
      level.slope_likely = std::max(level.slope_likely, level.spread.likely * per_mm);
    }
    if (found) slope = std::abs(feet[i].*height) > kExact ? most : 0.0;
  };
  steepest(&Support::height, level.slope, level.rock, true);
  steepest(&Support::height_left, level.slope_left, level.rock_left, false);
}

/// The slope that a spread over that distance makes, when it is steeper than what was found before.
void tilt(const Spread& spread, double distance, LevelFit& level) {
  level.slope_worst = std::max(level.slope_worst, spread.worst / distance * 1000.0);
  level.slope_likely = std::max(level.slope_likely, spread.likely / distance * 1000.0);
}

void merge_turns(std::vector<JointTurn>& into, const std::vector<JointTurn>& more) {
  std::map<int, double> all;
  for (const JointTurn& t : into) all[t.joint] = t.turns;
  for (const JointTurn& t : more) all[t.joint] = t.turns;
  into.clear();
  for (const auto& [joint, turns] : all) into.push_back({joint, turns});
}

bool carries(const Closure& closure, const model::Board& board) {
  if (closure.kind == Closure::Kind::carrier) return closure.part == board.part;
  if (closure.kind != Closure::Kind::flange_to_board) return false;
  return closure.part == board.part || closure.other == board.part;
}

std::optional<LevelFit> board_level(const Frame& frame, const Frame& after, const model::Board& board,
                                    const std::vector<ClosureFit>& closures) {
  LevelFit level;
  level.part = board.part;
  level.between = {frame.part(board.part).id};
  std::vector<Support> supports;
  std::vector<std::pair<PartId, Spread>> spreads;
  const auto centre = [&](PartId part) { return frame.part(part).centre; };
  for (std::size_t c = 0; c < frame.closures.size(); ++c) {
    const Closure& closure = frame.closures[c];
    if (!carries(closure, board) || !closure.binds[at(board.normal)]) continue;
    // Where what carries is, less where the board wants it; seen from the carrier the sign turns round.
    const bool from_board = closure.part == board.part;
    const PartId carrier = from_board ? closure.other : closure.part;
    if (carrier == kRoom) continue;
    const double sign = from_board ? 1.0 : -1.0;
    supports.push_back({centre(carrier), sign * closure.gap[board.normal], sign * after.closures[c].gap[board.normal]});
    level.between.push_back(frame.part(carrier).id);
    level.state = std::max(level.state, closures[c].state);
    level.from_memory = level.from_memory || closures[c].from_memory;
    merge_turns(level.turns, closures[c].turns);
    const Spread& spread = closures[c].spread[at(board.normal)];
    if (spread.worst > level.spread.worst) level.spread = spread;
    spreads.emplace_back(carrier, spread);
  }
  // What placed the board carries it without a gap.
  PartId first = kNone;
  if (!board.carriers.empty() && board.stands_on_carriers) first = board.carriers.front();
  if (first == kNone) {
    const PartId parent = frame.placed_by[at(board.part)].parent;
    if (parent != kNone && frame.part(parent).kind == model::PartKind::flange) first = parent;
  }
  if (first != kNone) {
    supports.insert(supports.begin(), Support{centre(first), 0.0, 0.0});
    level.between.insert(level.between.begin() + 1, frame.part(first).id);
  }
  if (supports.size() < 2) return std::nullopt;
  measure(supports, board.normal, level);
  for (const auto& [carrier, spread] : spreads) {
    const double distance = across(centre(carrier), supports.front().where, board.normal);
    if (first != kNone && distance >= kSamePlace) tilt(spread, distance, level);
  }
  std::vector<Spread> strays;
  if (first != kNone) strays.emplace_back();  // all others are counted from it
  for (const auto& [carrier, spread] : spreads) strays.push_back(spread);
  lean(supports, strays, board.normal, level);
  return level;
}

/// The root parts that stand on the surface: what every other leg is compared with.
std::vector<PartId> roots_on(const Frame& frame, int surface) {
  std::vector<PartId> out;
  const model::Surface& s = frame.surface(surface);
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
    const Part& part = frame.part(p);
    if (part.board != kNone || frame.placed_by[at(p)].parent != kNone) continue;
    double low = 1e30;
    for (const model::Solid& solid : part.solids) low = std::min(low, model::bounds_of(solid).lo[2]);
    for (const model::Port& port : part.ports) low = std::min(low, port.at.z);
    if (std::abs(low - s.at) < 0.1 || std::abs(part.centre.z - s.at) < 0.1) out.push_back(p);
  }
  return out;
}

void add_legs(const Frame& frame, const Frame& after, int surface, const std::vector<ClosureFit>& closures,
              const std::vector<Equation>& equations, std::vector<LevelFit>& out) {
  struct Leg {
    PartId part;
    int closure;
    Support foot;
  };
  std::vector<Leg> legs;
  for (const PartId p : roots_on(frame, surface)) legs.push_back({p, kNone, {frame.part(p).centre, 0.0, 0.0}});
  for (std::size_t c = 0; c < frame.closures.size(); ++c) {
    const Closure& closure = frame.closures[c];
    if (closure.kind != Closure::Kind::surface || closure.surface != surface || !closure.binds[2]) continue;
    // Above zero: the leg is too long, its foot would be under the surface.
    legs.push_back(
        {closure.part, static_cast<int>(c), {frame.part(closure.part).centre, closure.gap.z, after.closures[c].gap.z}});
  }
  if (legs.size() < 2) return;
  std::vector<Support> feet;
  for (const Leg& leg : legs) feet.push_back(leg.foot);
  // Threads that make legs longer or shorter, once each.
  std::map<int, double> threads;
  for (const Equation& e : equations) {
    const Closure& closure = frame.closure(e.closure);
    if (e.axis != 2 || closure.kind != Closure::Kind::surface || closure.surface != surface) continue;
    for (const TurnTerm& term : e.terms) threads[term.joint] = std::abs(term.mm_per_turn);
  }
  for (const Leg& leg : legs) {
    LevelFit level;
    level.part = leg.part;
    level.surface = surface;
    level.between = {frame.part(leg.part).id, frame.surface(surface).id};
    level.gap = leg.foot.height;
    level.left = leg.foot.height_left;
    if (leg.closure != kNone) {
      level.state = closures[at(leg.closure)].state;
      level.turns = closures[at(leg.closure)].turns;
      level.from_memory = closures[at(leg.closure)].from_memory;
    }
    for (const Leg& other : legs) {
      const double distance = across(leg.foot.where, other.foot.where, 2);
      if (&other == &leg || distance < kSamePlace) continue;
      if (level.span == 0.0 || distance < level.span) level.span = distance;
    }
    if (level.span > 0.0) {
      level.slope = std::abs(level.gap) / level.span * 1000.0;
      level.slope_left = std::abs(level.left) / level.span * 1000.0;
    }
    std::vector<TurnTerm> own;
    for (const auto& [joint, mm] : threads) {
      const model::Joint& j = frame.joint(joint);
      const Vec3 face = frame.part(j.female).ports[at(j.female_port)].at;
      if (across(face, leg.foot.where, 2) < kSamePlace) own.push_back({joint, mm});
    }
    level.spread = spread_of(own);
    if (level.span > 0.0) tilt(level.spread, level.span, level);
    lean_on_leg(feet, static_cast<std::size_t>(&leg - legs.data()), level);
    out.push_back(std::move(level));
  }
}

}  // namespace

Spread spread_of(const std::vector<TurnTerm>& terms) {
  Spread out;
  double squares = 0.0;
  for (const TurnTerm& term : terms) {
    out.worst += std::abs(term.mm_per_turn);
    squares += term.mm_per_turn * term.mm_per_turn;
    ++out.threads;
  }
  out.likely = std::sqrt(squares);
  return out;
}

std::vector<LevelFit> levels_of(const Frame& frame, const Frame& after, const std::vector<ClosureFit>& closures,
                                const std::vector<Equation>& equations) {
  std::vector<LevelFit> out;
  for (const model::Board& board : frame.boards) {
    if (auto level = board_level(frame, after, board, closures)) out.push_back(std::move(*level));
  }
  for (std::size_t s = 0; s < frame.surfaces.size(); ++s) {
    if (frame.surfaces[s].normal == model::kUp) {
      add_legs(frame, after, static_cast<int>(s), closures, equations, out);
    }
  }
  return out;
}

int spare_leg_of(const std::vector<LevelFit>& levels) {
  int most = kNone;
  bool differ = false;
  for (std::size_t i = 0; i < levels.size(); ++i) {
    if (levels[i].surface == kNone) continue;
    if (most == kNone) {
      most = static_cast<int>(i);
      continue;
    }
    const double apart = levels[i].spread.likely - levels[at(most)].spread.likely;
    if (std::abs(apart) > 1e-6) differ = true;
    if (apart > 1e-6) most = static_cast<int>(i);
  }
  return differ ? most : kNone;
}

}  // namespace dryfit::planner

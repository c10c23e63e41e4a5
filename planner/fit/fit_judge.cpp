#include "planner/fit/fit_judge.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "model/geometry/at.hpp"
#include "planner/fit/confidence.hpp"
#include "planner/fit/fit_clock.hpp"
#include "planner/fit/fit_equations.hpp"
#include "planner/fit/fit_levels.hpp"
#include "planner/fit/fit_program.hpp"
#include "planner/fit/fit_replace.hpp"

namespace dryfit::planner {

using model::Frame;
using model::Joint;
using model::kNone;
using model::kRoom;
using model::Vec3;

namespace {

/// The equations and the frame placed again must agree to this, mm.
constexpr double kAgree = 1e-6;

/// The threads' limits in quarter turns: one turn either way, and at most what a wrench does to it: no thread
/// under half of hand-tight or beyond wrench-tight.
TurnUnknown limits_of(const Joint& joint) {
  TurnUnknown u;
  const double quarter = joint.pitch / kQuarters;
  u.low = std::min(u.soft_low, static_cast<int>(std::ceil((joint.hand / 2 - joint.engaged) / quarter - 1e-9)));
  u.high = std::max(u.soft_high, static_cast<int>(std::floor((joint.wrench - joint.engaged) / quarter + 1e-9)));
  return u;
}

/// Order among equals that mirror images share: lowest joint first, then the one farthest from the middle.
std::vector<int> ranks_of(const Frame& frame) {
  Vec3 lo{1e30, 1e30, 1e30};
  Vec3 hi{-1e30, -1e30, -1e30};
  std::vector<Vec3> face;
  for (const Joint& joint : frame.joints) {
    const Vec3 p = frame.parts[at(joint.female)].ports[at(joint.female_port)].at;
    face.push_back(p);
    for (int axis = 0; axis < 3; ++axis) {
      lo[axis] = std::min(lo[axis], p[axis]);
      hi[axis] = std::max(hi[axis], p[axis]);
    }
  }
  const Vec3 middle = (lo + hi) * 0.5;
  std::vector<std::pair<long, long>> key;
  for (const Vec3& p : face) {
    Vec3 level = p - middle;
    level.z = 0.0;
    key.emplace_back(std::lround(p.z), -std::lround(norm(level)));
  }
  std::vector<std::pair<long, long>> sorted = key;
  std::sort(sorted.begin(), sorted.end());
  sorted.erase(std::unique(sorted.begin(), sorted.end()), sorted.end());
  std::vector<int> ranks;
  for (const auto& k : key) {
    ranks.push_back(static_cast<int>(std::lower_bound(sorted.begin(), sorted.end(), k) - sorted.begin()));
  }
  return ranks;
}

TurnProgram program_of(const Frame& frame, const std::vector<Equation>& equations, long long node_limit) {
  TurnProgram program;
  program.node_limit = node_limit;
  program.whole = clocked_chains(frame);
  std::vector<bool> bound(frame.joints.size(), false);
  for (const auto& chain : program.whole) {
    for (const int joint : chain) bound[at(joint)] = true;
  }
  const std::vector<int> ranks = ranks_of(frame);
  for (std::size_t j = 0; j < frame.joints.size(); ++j) {
    program.unknowns.push_back(limits_of(frame.joints[j]));
    program.unknowns.back().rank = ranks[j];
  }
  for (const Equation& e : equations) {
    TurnRow row;
    row.gap = e.gap;
    row.tolerance = kExact;
    bool all_bound = !e.terms.empty();
    double step = 1e30;
    for (const TurnTerm& term : e.terms) {
      row.terms.emplace_back(term.joint, term.mm_per_turn / kQuarters);
      all_bound = all_bound && bound[at(term.joint)];
      step = std::min(step, std::abs(term.mm_per_turn));
    }
    if (e.mm_per_shift != 0.0) {
      row.terms.emplace_back(static_cast<int>(frame.joints.size()) + e.axis, e.mm_per_shift);
      program.free_unknowns = 3;
    }
    // Only whole turns: nobody can do better than half of one.
    if (all_bound) row.tolerance = std::max(row.tolerance, step / 2);
    row.may_open = std::abs(row.gap) > kExact;
    program.rows.push_back(std::move(row));
  }
  return program;
}

ClosureFit judged(int closure, const Frame& frame, const Frame& after, const std::vector<Equation>& equations,
                  std::size_t from, std::size_t to, const TurnAnswer& answer) {
  ClosureFit out;
  out.closure = closure;
  out.gap = frame.closures[at(closure)].gap;
  out.left = after.closures[at(closure)].gap;
  out.from_memory = reach_from_memory(frame, frame.closures[at(closure)].part) ||
                    reach_from_memory(frame, frame.closures[at(closure)].other);
  std::map<int, double> turns;
  for (std::size_t e = from; e < to; ++e) {
    const Equation& equation = equations[e];
    out.spread[at(equation.axis)] = spread_of(equation.terms);
    out.from_memory = out.from_memory || rests_on_memory(frame, equation.terms);
    bool beyond = false;
    for (const TurnTerm& term : equation.terms) {
      const int quarters = answer.quarters[at(term.joint)];
      if (quarters == 0) continue;
      turns[term.joint] = static_cast<double>(quarters) / kQuarters;
      beyond = beyond || std::abs(quarters) > kQuarters;
    }
    FitState state = FitState::exact;
    if (answer.open[e]) {
      state = FitState::open;
    } else if (std::abs(equation.gap) > kExact) {
      state = beyond ? FitState::by_wrenching : FitState::by_turning;
    }
    out.state = std::max(out.state, state);
  }
  for (const auto& [joint, t] : turns) out.turns.push_back({joint, t});
  return out;
}

/// True when placing the frame again gives what the equations say.
bool agrees(const Frame& after, const std::vector<Equation>& equations, const TurnAnswer& answer) {
  for (const Equation& e : equations) {
    double gap = e.gap;
    for (const TurnTerm& term : e.terms) gap += term.mm_per_turn * answer.quarters[at(term.joint)] / kQuarters;
    if (e.mm_per_shift != 0.0) gap += e.mm_per_shift * answer.shifts[at(e.axis)];
    if (std::abs(gap - after.closures[at(e.closure)].gap[e.axis]) > kAgree) return false;
  }
  return true;
}

/// Where the file leaves the frame free, it stands so that the first closure along each such axis is nought.
Vec3 standing(const std::vector<Equation>& equations) {
  Vec3 shift;
  std::array<bool, 3> done{false, false, false};
  for (const Equation& e : equations) {
    if (e.mm_per_shift == 0.0 || done[at(e.axis)]) continue;
    done[at(e.axis)] = true;
    shift[e.axis] = -e.gap / e.mm_per_shift;
  }
  return shift;
}

}  // namespace

FitFindings judge_fit(const Frame& as_read, long long node_limit) {
  FitFindings found;
  Fit& fit = found.fit;
  const Vec3 stand = standing(equations_of(as_read, Lineage(as_read)));
  found.frame = stand == Vec3{} ? as_read : turned(as_read, {}, stand);
  const Frame& frame = found.frame;
  const Lineage lineage(frame);
  found.equations = equations_of(frame, lineage);
  const std::vector<Equation>& equations = found.equations;
  const TurnAnswer answer = least_turning(program_of(frame, equations, node_limit));
  fit.proven = answer.proven;
  fit.nodes = answer.nodes;
  for (std::size_t j = 0; j < frame.joints.size(); ++j) {
    if (answer.quarters[j] == 0) continue;
    fit.turns.push_back({static_cast<int>(j), static_cast<double>(answer.quarters[j]) / kQuarters});
  }
  Vec3 shift;
  for (std::size_t axis = 0; axis < answer.shifts.size(); ++axis) shift[static_cast<int>(axis)] = answer.shifts[axis];
  fit.shift = stand + shift;
  const Frame after = turned(as_read, fit.turns, fit.shift);
  fit.rechecked = agrees(after, equations, answer);
  std::size_t next = 0;  // equations come closure by closure
  for (std::size_t c = 0; c < frame.closures.size(); ++c) {
    const std::size_t from = next;
    while (next < equations.size() && equations[next].closure == static_cast<int>(c)) ++next;
    fit.closures.push_back(judged(static_cast<int>(c), frame, after, equations, from, next, answer));
    fit.state = std::max(fit.state, fit.closures.back().state);
    fit.from_memory = fit.from_memory || fit.closures.back().from_memory;
  }
  fit.levels = levels_of(frame, after, fit.closures, equations);
  fit.spare_leg = spare_leg_of(fit.levels);
  return found;
}

}  // namespace dryfit::planner

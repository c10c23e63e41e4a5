#include "planner/fit/fit_judge.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "model/geometry/at.hpp"
#include "planner/fit/confidence.hpp"
#include "planner/fit/fit_levels.hpp"
#include "planner/fit/fit_replace.hpp"
#include "planner/fit/fit_turning.hpp"

namespace dryfit::planner {

using model::Frame;
using model::Joint;
using model::kNone;
using model::kRoom;
using model::Vec3;

namespace {

/// The equations and the frame placed again must agree to this, mm.
constexpr double kAgree = 1e-6;

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
    } else if (!meets(equation.gap)) {
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

}  // namespace

FitFindings judge_fit(const Frame& as_read, const FitOptions& options) {
  FitFindings found;
  Fit& fit = found.fit;
  const Vec3 stand = standing(equations_of(as_read, Lineage(as_read)));
  found.frame = stand == Vec3{} ? as_read : turned(as_read, {}, stand);
  const Frame& frame = found.frame;
  const Lineage lineage(frame);
  found.equations = equations_of(frame, lineage);
  const std::vector<Equation>& equations = found.equations;
  const FitTurning turning(as_read, frame, stand, equations, lineage, options);
  const TurnAnswer& answer = turning.answer();
  fit.proven = answer.proven;
  fit.decided = answer.decided;
  fit.nodes = answer.nodes;
  fit.turns = turning.turns();
  fit.shift = turning.shift();
  const Frame& after = turning.after();
  fit.rechecked = agrees(after, equations, answer);
  std::size_t next = 0;  // equations come closure by closure
  for (std::size_t c = 0; c < frame.closures.size(); ++c) {
    const std::size_t from = next;
    bool lacks_room = false;
    for (; next < equations.size() && equations[next].closure == static_cast<int>(c); ++next) {
      lacks_room = lacks_room || turning.lacks_room(next);
    }
    fit.closures.push_back(judged(static_cast<int>(c), frame, after, equations, from, next, answer));
    if (lacks_room) fit.closures.back().in_the_way = turning.in_the_way();
    fit.state = std::max(fit.state, fit.closures.back().state);
    fit.from_memory = fit.from_memory || fit.closures.back().from_memory;
  }
  fit.levels = levels_of(frame, after, fit.closures, equations);
  fit.spare_leg = spare_leg_of(fit.levels);
  return found;
}

}  // namespace dryfit::planner

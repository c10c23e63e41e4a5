#include "planner/fit/fit_suspect.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/stock.hpp"
#include "planner/fit/fit_judge.hpp"
#include "planner/fit/fit_pieces.hpp"
#include "planner/fit/fit_turning.hpp"

namespace dryfit::planner {

using model::Frame;
using model::Part;
using model::PartId;
using model::PartKind;

namespace {

constexpr std::size_t kSuspectsTried = 16;  ///< pipes of another length judged by the whole program
constexpr double kNearStock = 6.0;          ///< mm: a length that is sold and as near as this is what was meant
constexpr double kSuspectLength = 0.1;      ///< mm
constexpr double kNoChange = 1e-9;          ///< mm
constexpr double kShortest = 12.0;          ///< mm: of a size that nobody sells

/// What a millimetre more of a pipe does to each equation: as much as a millimetre less of thread in either of its
/// joints.
using Effects = std::map<std::size_t, double>;

/// Where the file leaves the frame free, it stands so that the first closure along each axis is nought (see
/// standing()): a longer pipe there lifts all the rest.
void stand_again(const std::vector<Equation>& equations, Effects& effects) {
  std::vector<double> changes(equations.size(), 0.0);
  for (const auto& [e, mm] : effects) changes[e] = mm;
  changes = standing_again(equations, std::move(changes));
  effects.clear();
  for (std::size_t e = 0; e < changes.size(); ++e) {
    if (std::abs(changes[e]) >= kNoChange) effects[e] = changes[e];
  }
}

std::map<PartId, Effects> effects_of(const Frame& frame, const std::vector<Equation>& equations) {
  std::map<PartId, Effects> out;
  for (std::size_t e = 0; e < equations.size(); ++e) {
    for (const TurnTerm& term : equations[e].terms) {
      const model::Joint& joint = frame.joint(term.joint);
      if (frame.part(joint.male).kind != PartKind::pipe) continue;
      out[joint.male][e] = -term.mm_per_turn / joint.pitch;
    }
  }
  for (auto& [pipe, effects] : out) stand_again(equations, effects);
  return out;
}

/// How far turning can take a gap, mm.
double reach_of(const Equation& equation) {
  double reach = kExact;
  for (const TurnTerm& term : equation.terms) reach += std::abs(term.mm_per_turn);
  return reach;
}

/// A close nipple: a shorter pipe has no room for two threads.
double shortest_of(const Frame& frame, const Part& pipe) {
  const std::vector<double> sold = stock_lengths(frame.standard, pipe.size);
  return sold.empty() ? kShortest : sold.front() - kSuspectLength;
}

double near_stock(const Frame& frame, const Part& pipe, double length) {
  double best = length;
  double least = kNearStock;
  for (const double stock : stock_lengths(frame.standard, pipe.size)) {
    if (std::abs(stock - length) >= least) continue;
    least = std::abs(stock - length);
    best = stock;
  }
  return best;
}

/// Pipes of that size and direction that are so long, without `but`.
long alike(const Frame& frame, const Part& but, double length) {
  return std::count_if(frame.parts.begin(), frame.parts.end(), [&](const Part& other) {
    return &other != &but && other.kind == PartKind::pipe && other.size == but.size &&
           parallel(other.ports[1].facing, but.ports[1].facing) && std::abs(other.length - length) < kSuspectLength;
  });
}

class Search {
 public:
  Search(const Frame& frame, const std::vector<Equation>& equations, const FitOptions& options, const Fit& fit)
      : frame_(frame), equations_(equations), options_(options), fit_(fit) {
    options_.room = false;
  }

  std::vector<Suspect> run() {
    struct Ranked {
      std::pair<long, long> rank;
      Suspect suspect;
    };
    std::vector<Ranked> found;
    for (const auto& [pipe, effects] : effects_of(frame_, equations_)) {
      const Part& part = frame_.part(pipe);
      const double length = wanted(part, effects);
      if (length < shortest_of(frame_, part) || std::abs(length - part.length) < kSuspectLength) continue;
      found.push_back({{alike(frame_, part, part.length), -alike(frame_, part, length)}, {pipe, length}});
    }
    std::stable_sort(found.begin(), found.end(), [](const Ranked& a, const Ranked& b) { return a.rank < b.rank; });
    if (found.size() > kSuspectsTried) found.resize(kSuspectsTried);
    std::vector<Suspect> out;
    std::pair<long, long> best;
    for (const Ranked& one : found) {
      if (!out.empty() && one.rank != best) break;
      if (!closes_all(one.suspect)) continue;
      best = one.rank;
      out.push_back(one.suspect);
    }
    return out;
  }

 private:
  bool is_open(const Equation& e) const {
    return fit_.closures[at(e.closure)].state == FitState::open && !meets(e.gap);
  }

  /// The length that brings the widest open gap to nought and all others within reach of turning; 0 when none does.
  double wanted(const Part& part, const Effects& effects) const {
    std::size_t widest = equations_.size();
    for (std::size_t e = 0; e < equations_.size(); ++e) {
      if (!is_open(equations_[e])) continue;
      if (widest == equations_.size() || std::abs(equations_[e].gap) > std::abs(equations_[widest].gap)) widest = e;
    }
    const auto effect = effects.find(widest);
    if (effect == effects.end()) return 0.0;
    const double length = near_stock(frame_, part, part.length - equations_[widest].gap / effect->second);
    for (std::size_t e = 0; e < equations_.size(); ++e) {
      const auto own = effects.find(e);
      const double more = own == effects.end() ? 0.0 : own->second * (length - part.length);
      if (std::abs(equations_[e].gap + more) > reach_of(equations_[e])) return 0.0;
    }
    return length;
  }

  bool closes_all(const Suspect& suspect) const {
    const Fit now = judge_fit(with_pieces(frame_, suspect.pipe, {suspect.length}), options_).fit;
    return now.rechecked && now.state != FitState::open;
  }

  const Frame& frame_;
  const std::vector<Equation>& equations_;
  FitOptions options_;
  const Fit& fit_;
};

}  // namespace

std::vector<Suspect> suspects_of(const Frame& frame, const std::vector<Equation>& equations, const FitOptions& options,
                                 const Fit& fit) {
  return Search(frame, equations, options, fit).run();
}

}  // namespace dryfit::planner

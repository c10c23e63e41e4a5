#include "planner/fit/fit_cures.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <tuple>
#include <utility>

#include "model/geometry/at.hpp"
#include "planner/base/stock.hpp"
#include "planner/fit/fit_judge.hpp"
#include "planner/fit/fit_pieces.hpp"
#include "planner/fit/fit_turning.hpp"

namespace dryfit::planner {

using model::Frame;
using model::Joint;
using model::kNone;
using model::Part;
using model::PartId;
using model::PartKind;

namespace {

constexpr std::size_t kTriedPerPipe = 6;     ///< bags of stock looked at per pipe and row
constexpr std::size_t kTried = 24;           ///< cures placed again per closure and number of pieces
constexpr std::size_t kCuresPerClosure = 5;  ///< cures named per closure
constexpr int kClosuresCured = 12;           ///< open closures that cures are searched for; one cure may close many
constexpr std::size_t kPipesLooked = 60;     ///< pipes whose effect is measured per closure
constexpr std::size_t kPipesChanged = 3;     ///< pipes that one cure may change
constexpr std::size_t kChangedAlike = 8;     ///< pipes that stand for each other, which are all changed alike
constexpr int kNodes = 4000;                 ///< changes looked at per closure and number of pieces
constexpr int kDear = 6;                     ///< what three pieces for one pipe cost of them; four cost its square
constexpr long long kWork = 1000000;  ///< squares of the equations of all designs judged: for 12 closures no limit
constexpr double kSameLength = 0.1;   ///< mm
constexpr double kSameHeight = 1.0;   ///< mm
constexpr double kNoEffect = 1e-6;
/// A cut length is given to what people saw to: 1/16 in or a millimetre.
constexpr double kCutInches = 25.4 / 16;
constexpr double kCutMetric = 1.0;

int count_open(const Fit& fit) {
  return static_cast<int>(std::count_if(fit.closures.begin(), fit.closures.end(),
                                        [](const ClosureFit& c) { return c.state == FitState::open; }));
}

/// True when nothing that closed before is open now, and something that was open is not.
bool opens_nothing(const Fit& before, const Fit& now) {
  for (std::size_t c = 0; c < before.closures.size(); ++c) {
    if (before.closures[c].state != FitState::open && now.closures[c].state == FitState::open) return false;
  }
  return count_open(now) < count_open(before);
}

/// A pipe that can be changed, or twins that are changed alike (the same pipe of both posts), and what a millimetre
/// more of each does.
struct Pipe {
  std::vector<PartId> parts;
  double length = 0.0;
  std::vector<double> lengths;  ///< stock of its size
  ThreadOf thread;
  std::vector<std::pair<std::size_t, double>> per_mm;  ///< (equation, mm), equations ascending
  std::size_t kin = 0;  ///< pipes of one kin have the same size, length and effect: the first unused one stands for all

  [[nodiscard]] double effect(std::size_t equation) const {
    const auto it = std::lower_bound(per_mm.begin(), per_mm.end(), std::pair{equation, -1e30});
    return it != per_mm.end() && it->first == equation ? it->second : 0.0;
  }
};

struct Candidate {
  std::vector<PipeChange> changes;  ///< by pipe
  int couplings = 0;
  int off = 0;            ///< equations off before any turning
  double residual = 0.0;  ///< sum of what they are off by, mm

  [[nodiscard]] std::vector<std::pair<PartId, std::vector<double>>> key() const {
    std::vector<std::pair<PartId, std::vector<double>>> out;
    for (const PipeChange& change : changes) out.emplace_back(change.pipe, change.pieces);
    return out;
  }
};

/// Bags of stock for one closure, with exactly so many pieces: each row that is out of reach is given to one pipe after
/// the other, until none is left.
class BagSearch {
 public:
  /// `gaps` per equation, mm, and `reach`, what each has to come within.
  BagSearch(const std::vector<Pipe>& pipes, std::vector<double> gaps, std::vector<double> reach)
      : pipes_(pipes), gaps_(std::move(gaps)), reach_(std::move(reach)) {}

  std::vector<Candidate> run(int pieces) {
    found_.clear();
    nodes_ = kNodes;
    extend(pieces, false);
    std::vector<Candidate> out;
    for (auto& [key, candidate] : found_) out.push_back(std::move(candidate));
    std::stable_sort(out.begin(), out.end(), [](const Candidate& a, const Candidate& b) {
      if (a.couplings != b.couplings) return a.couplings < b.couplings;
      if (a.off != b.off) return a.off < b.off;
      if (std::abs(a.residual - b.residual) > 1e-6) return a.residual < b.residual;
      return a.changes.size() < b.changes.size();
    });
    return out;
  }

 private:
  /// The first row that is out of reach, or the number of rows.
  std::size_t worst_row() const {
    for (std::size_t e = 0; e < gaps_.size(); ++e) {
      if (std::abs(gaps_[e]) > reach_[e]) return e;
    }
    return gaps_.size();
  }

  void extend(int left, bool halved) {
    if (--nodes_ < 0) return;
    const std::size_t row = worst_row();
    if (row == gaps_.size()) {
      if (left == 0) note();
      return;
    }
    if (left == 0 || changes_.size() >= kPipesChanged) return;
    std::set<std::size_t> kins;  // one pipe of each
    for (std::size_t p = 0; p < pipes_.size(); ++p) {
      const Pipe& pipe = pipes_[p];
      const double per_mm = pipe.effect(row);
      if (std::abs(per_mm) < kNoEffect || in_use(pipe) || !kins.insert(pipe.kin).second) continue;
      const int most = left / static_cast<int>(pipe.parts.size());
      if (most == 0) continue;
      const double wanted = pipe.length - gaps_[row] / per_mm;
      const double reach = reach_[row] / std::abs(per_mm);
      nodes_ -= most < 3 ? 1 : most == 3 ? kDear : kDear * kDear;
      std::vector<std::size_t> tried(at(most) + 1, 0);
      for (const StockSum& sum : stock_sums(pipe.lengths, pipe.thread.coupling_gap, wanted - reach, wanted + reach,
                                            2 * pipe.thread.pitch, most)) {
        if (tried[sum.pieces.size()]++ < kTriedPerPipe) change(p, sum, left, halved);
      }
      // Half the way with this pipe, the rest with another.
      if (halved || left < 2 || pipe.parts.size() > 1) continue;
      for (const double length : pipe.lengths) {
        const double now = gaps_[row] + per_mm * (length - pipe.length);
        if (std::abs(now) <= reach_[row] || std::abs(now) >= std::abs(gaps_[row])) continue;
        change(p, {{length}, length}, left, true);
      }
    }
  }

  bool in_use(const Pipe& pipe) const {
    return std::any_of(pipe.parts.begin(), pipe.parts.end(), [&](PartId part) { return used_.count(part) > 0; });
  }

  void change(std::size_t p, const StockSum& sum, int left, bool halved) {
    const Pipe& pipe = pipes_[p];
    if (sum.pieces.size() == 1 && std::abs(sum.length - pipe.length) < kSameLength) return;
    const double longer = sum.length - pipe.length;
    const double threads = 2.0 * static_cast<double>(sum.pieces.size() - 1) * pipe.thread.pitch;
    for (const auto& [e, mm] : pipe.per_mm) {
      gaps_[e] += mm * longer;
      reach_[e] += std::abs(mm) * threads;
    }
    for (const PartId part : pipe.parts) {
      used_.insert(part);
      changes_.push_back({part, sum.pieces, sum.length});
    }
    extend(left - static_cast<int>(sum.pieces.size() * pipe.parts.size()), halved);
    changes_.resize(changes_.size() - pipe.parts.size());
    for (const PartId part : pipe.parts) used_.erase(part);
    for (const auto& [e, mm] : pipe.per_mm) {
      gaps_[e] -= mm * longer;
      reach_[e] -= std::abs(mm) * threads;
    }
  }

  void note() {
    Candidate out;
    out.changes = changes_;
    std::sort(out.changes.begin(), out.changes.end(),
              [](const PipeChange& a, const PipeChange& b) { return a.pipe < b.pipe; });
    for (const PipeChange& c : out.changes) out.couplings += static_cast<int>(c.pieces.size()) - 1;
    for (std::size_t e = 0; e < gaps_.size(); ++e) {
      if (meets(gaps_[e])) continue;
      ++out.off;
      out.residual += std::abs(gaps_[e]);
    }
    auto key = out.key();
    found_.emplace(std::move(key), std::move(out));
  }

  const std::vector<Pipe>& pipes_;
  std::vector<double> gaps_;
  std::vector<double> reach_;
  std::set<PartId> used_;
  std::vector<PipeChange> changes_;
  std::map<std::vector<std::pair<PartId, std::vector<double>>>, Candidate> found_;
  int nodes_ = kNodes;
};

class CureSearch {
 public:
  CureSearch(const Frame& frame, const std::vector<Equation>& equations, const FitOptions& options, Fit& fit)
      : frame_(frame), equations_(equations), options_(options), fit_(fit) {
    options_.room = false;
    for (const Equation& e : equations) gaps_.push_back(e.gap);
  }

  void run() {
    int searched = 0;
    for (ClosureFit& closure : fit_.closures) {
      if (closure.state != FitState::open || !closure.cures.empty() || searched == kClosuresCured) continue;
      ++searched;
      cure(closure);
    }
    for (ClosureFit& closure : fit_.closures) {
      std::stable_sort(closure.cures.begin(), closure.cures.end(), [](const Cure& a, const Cure& b) {
        if (a.cut != b.cut) return b.cut;
        if ((a.still_open == 0) != (b.still_open == 0)) return a.still_open == 0;
        if (a.pieces() != b.pieces()) return a.pieces() < b.pieces();
        if (a.still_open != b.still_open) return a.still_open < b.still_open;
        if (a.couplings() != b.couplings()) return a.couplings() < b.couplings();
        if (a.state != b.state) return a.state < b.state;
        if (a.turning != b.turning) return a.turning < b.turning;
        if (std::abs(a.left - b.left) > 1e-6) return a.left < b.left;
        for (std::size_t i = 0; i < a.changes.size() && i < b.changes.size(); ++i) {
          if (a.changes[i].pipe != b.changes[i].pipe) return a.changes[i].pipe < b.changes[i].pipe;
        }
        return a.changes.size() < b.changes.size();
      });
      drop_worse(closure.cures);
    }
  }

 private:
  /// What leaves more open than another of as few pieces does is no advice, nor is a part of another that leaves less.
  static void drop_worse(std::vector<Cure>& cures) {
    if (cures.empty()) return;
    const std::vector<Cure> all = cures;
    std::erase_if(cures, [&](const Cure& c) {
      return std::any_of(all.begin(), all.end(), [&](const Cure& more) {
        return more.still_open < c.still_open && std::all_of(c.changes.begin(), c.changes.end(), [&](const auto& one) {
                 return std::any_of(more.changes.begin(), more.changes.end(), [&](const PipeChange& other) {
                   return other.pipe == one.pipe && other.pieces == one.pieces;
                 });
               });
      });
    });
    const int fewest = cures.front().pieces();
    const int open = cures.front().still_open;
    std::erase_if(cures, [&](const Cure& c) { return c.pieces() >= fewest && c.still_open > open; });
    if (cures.size() > kCuresPerClosure) cures.resize(kCuresPerClosure);
  }

  void cure(ClosureFit& closure) {
    const std::vector<Pipe> pipes = pipes_for(closure.closure);
    if (pipes.empty()) return;
    std::vector<double> reach;
    for (const Equation& e : equations_) {
      double sum = 0.0;
      for (const TurnTerm& term : e.terms) sum += std::abs(term.mm_per_turn);
      const bool own = e.closure == closure.closure;
      reach.push_back(e.mm_per_shift == 0.0 ? sum + kExact : 1e30);
      // Nothing else gets worse than it is.
      if (!own) reach.back() = std::max(reach.back(), std::abs(e.gap));
    }
    BagSearch search(pipes, gaps_, reach);
    for (int pieces = 1; pieces <= options_.max_pieces && closure.cures.empty(); ++pieces) {
      std::vector<Candidate> candidates = search.run(pieces);
      if (candidates.size() > kTried) candidates.resize(kTried);
      for (const Candidate& candidate : candidates) {
        if (closure.cures.size() < kCuresPerClosure) try_out(candidate.changes, false);
      }
    }
    if (closure.cures.empty()) cut_to_length(closure, pipes);
    change_alike(closure);
  }

  /// Where a change of one pipe leaves something else open, the same change in all that stand for it: in both posts.
  void change_alike(const ClosureFit& closure) {
    const std::vector<Cure> found = closure.cures;
    if (std::any_of(found.begin(), found.end(), [](const Cure& cure) { return cure.still_open == 0; })) return;
    for (const Cure& cure : found) {
      if (cure.changes.size() != 1) continue;
      const PipeChange& one = cure.changes.front();
      std::vector<PipeChange> changes;
      for (const PartId twin : twins_of(one.pipe)) changes.push_back({twin, one.pieces, one.made_up});
      if (changes.size() > 1 && changes.size() <= kChangedAlike) try_out(changes, cure.cut);
    }
  }

  using Effect = std::vector<std::pair<std::size_t, long>>;  ///< (equation, nanometres), ascending

  /// What a millimetre more of each of its parts does, by placing the frame again.
  Effect measure(Pipe& pipe) const {
    const std::vector<double> after = gaps_with(pipe.parts, pipe.length + 1.0);
    Effect effect;
    for (std::size_t e = 0; e < after.size(); ++e) {
      const double mm = after[e] - gaps_[e];
      if (std::abs(mm) < kNoEffect) continue;
      pipe.per_mm.emplace_back(e, mm);
      effect.emplace_back(e, std::lround(mm * 1e6));
    }
    return effect;
  }

  /// The same pipe of other posts or rails, and itself, ascending: as long, parallel, beginning or ending at one
  /// height.
  std::vector<PartId> twins_of(PartId pipe) const {
    const Part& own = frame_.part(pipe);
    const model::Vec3 along = own.ports[1].facing.unit();
    // A pair of values: std::minmax gives references, to what ends with the call.
    const auto span = [&](const Part& part) -> std::pair<double, double> {
      return std::minmax({dot(part.ports[0].at, along), dot(part.ports[1].at, along)});
    };
    const auto [low, high] = span(own);
    std::vector<PartId> twins;
    for (PartId p = 0; p < static_cast<PartId>(frame_.parts.size()); ++p) {
      const Part& part = frame_.part(p);
      if (part.kind != PartKind::pipe || part.size != own.size || std::abs(part.length - own.length) > kSameLength)
        continue;
      if (!parallel(part.ports[1].facing, own.ports[1].facing)) continue;
      const auto [its_low, its_high] = span(part);
      if (std::abs(its_low - low) < kSameHeight || std::abs(its_high - high) < kSameHeight) twins.push_back(p);
    }
    return twins;
  }

  /// Pipes along the axes that are open, in file order, each with what it does to every equation, found by placing
  /// the frame again with the pipe a millimetre longer.
  std::vector<Pipe> pipes_for(int closure) const {
    std::set<PartId> parts;
    for (const Equation& e : equations_) {
      if (e.closure != closure || meets(e.gap)) continue;
      for (const TurnTerm& term : e.terms) parts.insert(frame_.joint(term.joint).male);
    }
    // Rows that a change would open want their own pipes too: legs beside the one that is changed.
    for (const Equation& e : equations_) {
      const bool shares = std::any_of(e.terms.begin(), e.terms.end(), [&](const TurnTerm& term) {
        return parts.count(frame_.joint(term.joint).male) > 0;
      });
      if (!shares || parts.size() > kPipesLooked) continue;
      for (const TurnTerm& term : e.terms) parts.insert(frame_.joint(term.joint).male);
    }
    std::vector<Pipe> out;
    std::map<std::tuple<int, long, std::size_t, Effect>, std::size_t> kins;
    std::set<std::vector<PartId>> taken;
    for (const PartId p : parts) {
      const Part& part = frame_.part(p);
      const auto thread = thread_of(frame_.standard, frame_.make_up, part.size);
      if (part.kind != PartKind::pipe || !thread || out.size() == kPipesLooked) continue;
      for (const std::vector<PartId>& which : {std::vector<PartId>{p}, twins_of(p)}) {
        if (which.size() > kPipesChanged || !taken.insert(which).second) continue;
        Pipe pipe{which, part.length, stock_lengths(frame_.standard, part.size), *thread, {}, 0};
        const auto effect = measure(pipe);
        if (pipe.per_mm.empty()) continue;
        const std::tuple kin{part.size, std::lround(part.length * 100), which.size(), effect};
        pipe.kin = kins.emplace(kin, kins.size()).first->second;
        out.push_back(std::move(pipe));
      }
    }
    return out;
  }

  /// Gaps with pipes of another length, the frame standing again where its first closures are nought.
  std::vector<double> gaps_with(const std::vector<PartId>& pipes, double length) const {
    Frame changed = frame_;
    for (const PartId pipe : pipes) changed = with_pieces(changed, pipe, {length});
    std::vector<double> gaps;
    for (const Equation& e : equations_) gaps.push_back(changed.closures[at(e.closure)].gap[e.axis]);
    return standing_again(equations_, std::move(gaps));
  }

  /// One pipe cut and threaded so that the widest open row of the closure comes out.
  void cut_to_length(ClosureFit& closure, const std::vector<Pipe>& pipes) {
    std::size_t row = equations_.size();
    for (std::size_t e = 0; e < equations_.size(); ++e) {
      if (equations_[e].closure != closure.closure || meets(gaps_[e])) continue;
      if (row == equations_.size() || std::abs(gaps_[e]) > std::abs(gaps_[row])) row = e;
    }
    if (row == equations_.size()) return;
    const double step = frame_.units == model::Units::in ? kCutInches : kCutMetric;
    for (const Pipe& pipe : pipes) {
      const double per_mm = pipe.effect(row);
      if (std::abs(per_mm) < kNoEffect) continue;
      const double length = std::round((pipe.length - gaps_[row] / per_mm) / step) * step;
      if (length < pipe.lengths.front() || length > pipe.lengths.back()) continue;
      std::vector<PipeChange> changes;
      for (const PartId part : pipe.parts) changes.push_back({part, {length}, length});
      try_out(changes, true);
      if (closure.cures.size() == kCuresPerClosure) return;
    }
  }

  /// Builds it, judges the whole frame, and notes the cure at every closure that it closes.
  void try_out(const std::vector<PipeChange>& changes, bool cut) {
    if (work_ <= 0 || !may_go_on(options_.foreman, kWork - work_, kWork)) return;
    work_ -= static_cast<long long>(equations_.size() * equations_.size());
    const Fit now = judge_fit(with_changes(frame_, changes), options_).fit;
    if (!opens_nothing(fit_, now) || !now.rechecked) return;
    if (options_.accept && !options_.accept(changes)) return;
    for (std::size_t c = 0; c < fit_.closures.size(); ++c) {
      const ClosureFit& result = now.closures[c];
      if (fit_.closures[c].state != FitState::open || result.state > FitState::by_turning) continue;
      Cure cure{changes, result.state, 0.0, 0.0, count_open(now), cut};
      for (int axis = 0; axis < 3; ++axis) cure.left = std::max(cure.left, std::abs(result.left[axis]));
      for (const JointTurn& turn : result.turns) cure.turning += std::abs(turn.turns);
      fit_.closures[c].cures.push_back(std::move(cure));
    }
  }

  const Frame& frame_;
  const std::vector<Equation>& equations_;
  FitOptions options_;
  Fit& fit_;
  std::vector<double> gaps_;  ///< per equation as made up
  long long work_ = kWork;    ///< see there
};

}  // namespace

void find_cures(const Frame& frame, const std::vector<Equation>& equations, const FitOptions& options, Fit& fit) {
  CureSearch(frame, equations, options, fit).run();
}

}  // namespace dryfit::planner

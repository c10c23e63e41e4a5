#include "planner/fit_cures.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "planner/stock.hpp"

namespace dryfit::planner {

using model::Closure;
using model::Frame;
using model::Joint;
using model::kNone;
using model::Part;
using model::PartId;
using model::PartKind;
using model::Port;
using model::Vec3;

namespace {

constexpr int kTriedPerPipe = 8;             ///< bags of stock looked at per pipe and axis
constexpr std::size_t kTried = 24;           ///< bags placed again per closure and number of pieces
constexpr std::size_t kCuresPerClosure = 5;  ///< cures named per closure
constexpr int kClosuresCured = 12;           ///< open closures that cures are searched for; one cure may close many

std::size_t at(int index) { return static_cast<std::size_t>(index); }

Vec3 direction_of(const Part& pipe) { return pipe.ports[1].facing.unit(); }

/// Adds a part with two ports in line, `length` apart, beginning at `from`.
PartId add_in_line(Frame& frame, Part like, const std::string& id, PartKind kind, double length, Vec3 from) {
  like.id = id;
  like.label = id;
  like.kind = kind;
  like.length = length;
  like.solids.clear();
  like.ports[0].at = from;
  like.ports[1].at = from + like.ports[1].facing.unit() * length;
  like.centre = (like.ports[0].at + like.ports[1].at) * 0.5;
  for (Port& port : like.ports) {
    port.male = kind == PartKind::pipe;
    port.threaded = true;
    port.joint = kNone;
    port.turns_given = 0.0;
  }
  const PartId part = static_cast<PartId>(frame.parts.size());
  frame.parts.push_back(std::move(like));
  frame.placed_by.push_back({});
  frame.index[id] = part;
  return part;
}

int add_joint(Frame& frame, Joint like, PartId male, int male_port, PartId female, int female_port) {
  like.male = male;
  like.male_port = male_port;
  like.female = female;
  like.female_port = female_port;
  like.closing = false;
  const int joint = static_cast<int>(frame.joints.size());
  frame.parts[at(male)].ports[at(male_port)].joint = joint;
  frame.parts[at(female)].ports[at(female_port)].joint = joint;
  frame.joints.push_back(std::move(like));
  return joint;
}

/// A joint of the frame's own make-up in the pipe's size, or nothing when the tables have none.
bool made_up(const Frame& frame, int size, Joint& out, double& coupling_length) {
  const auto hand = thread_of(frame.standard, model::MakeUp::hand, size);
  const auto wrench = thread_of(frame.standard, model::MakeUp::wrench, size);
  if (!hand || !wrench) return false;
  const ThreadOf& thread = frame.make_up == model::MakeUp::hand ? *hand : *wrench;
  out.pitch = thread.pitch;
  out.engaged = thread.engaged;
  out.hand = hand->engaged;
  out.wrench = wrench->engaged;
  coupling_length = thread.coupling_gap + 2 * thread.engaged;
  return true;
}

struct Candidate {
  PartId pipe = kNone;
  StockSum stock;
  int off = 0;            ///< equations off before any turning, the whole frame over
  double residual = 0.0;  ///< of the equation in hand before any turning, mm
};

int count_open(const Fit& fit) {
  return static_cast<int>(std::count_if(fit.closures.begin(), fit.closures.end(),
                                        [](const ClosureFit& c) { return c.state == FitState::open; }));
}

/// True when nothing that closed before is open now.
bool opens_nothing(const Fit& before, const Fit& now) {
  for (std::size_t c = 0; c < before.closures.size(); ++c) {
    if (before.closures[c].state != FitState::open && now.closures[c].state == FitState::open) return false;
  }
  return count_open(now) < count_open(before);
}

}  // namespace

Frame with_pieces(const Frame& frame, PartId pipe, const std::vector<double>& pieces) {
  Frame out = frame;
  const Part original = frame.parts[at(pipe)];
  const Vec3 along = direction_of(original);
  const int far_joint = original.ports[1].joint;
  out.parts[at(pipe)].length = pieces.front();
  out.parts[at(pipe)].ports[1].at = original.ports[0].at + along * pieces.front();

  std::vector<PartId> chain{pipe};  // pipe, coupling, pipe, ...
  std::vector<int> links;           // joints between neighbours of the chain
  Joint like;
  double coupling_length = 0.0;
  if (pieces.size() > 1 && made_up(frame, original.size, like, coupling_length)) {
    out.parts[at(pipe)].ports[1].joint = kNone;
    for (std::size_t i = 1; i < pieces.size(); ++i) {
      const std::string number = std::to_string(i);
      const PartId before = chain.back();
      const Vec3 tip = out.parts[at(before)].ports[1].at;
      const PartId coupling = add_in_line(out, original, original.id + "~C" + number, PartKind::coupling,
                                          coupling_length, tip - along * like.engaged);
      links.push_back(add_joint(out, like, before, 1, coupling, 0));
      const PartId next = add_in_line(out, original, original.id + "~" + std::to_string(i + 1), PartKind::pipe,
                                      pieces[i], out.parts[at(coupling)].ports[1].at - along * like.engaged);
      links.push_back(add_joint(out, like, next, 0, coupling, 1));
      chain.push_back(coupling);
      chain.push_back(next);
    }
    const PartId last = chain.back();
    if (far_joint != kNone) {
      Joint& joint = out.joints[at(far_joint)];
      joint.male = last;
      joint.male_port = 1;
      out.parts[at(last)].ports[1].joint = far_joint;
    }
    // Whoever placed the pipe from its far end now places the last piece, and the pieces place each other.
    const model::PlacedBy by = frame.placed_by[at(pipe)];
    const bool from_far = far_joint != kNone && by.joint == far_joint;
    for (std::size_t i = 1; i < chain.size(); ++i) {
      if (from_far) {
        out.placed_by[at(chain[i - 1])] = {chain[i], links[i - 1]};
      } else {
        out.placed_by[at(chain[i])] = {chain[i - 1], links[i - 1]};
      }
    }
    if (from_far) out.placed_by[at(last)] = by;
    if (far_joint != kNone && !from_far) {
      const Joint& joint = out.joints[at(far_joint)];
      if (frame.placed_by[at(joint.female)].joint == far_joint) out.placed_by[at(joint.female)].parent = last;
    }
    for (Closure& closure : out.closures) {
      if (closure.joint != far_joint || closure.kind != Closure::Kind::joint) continue;
      if (closure.part == pipe) closure.part = last;
      if (closure.other == pipe) closure.other = last;
    }
  }
  // A pipe that stands on a surface with its far end has its foot elsewhere now.
  const Vec3 grown = out.parts[at(chain.back())].ports[1].at - original.ports[1].at;
  for (Closure& closure : out.closures) {
    if (closure.kind != Closure::Kind::surface || closure.part != pipe || far_joint != kNone) continue;
    for (int axis = 0; axis < 3; ++axis) {
      if (closure.binds[at(axis)]) closure.gap[axis] -= grown[axis];
    }
  }
  return turned(out, {});
}

namespace {

class CureSearch {
 public:
  CureSearch(const Frame& frame, const std::vector<Equation>& equations, const FitOptions& options, Fit& fit)
      : frame_(frame), equations_(equations), options_(options), fit_(fit), of_joint_(frame.joints.size()) {
    options_.cures = false;
    for (std::size_t e = 0; e < equations.size(); ++e) {
      for (const TurnTerm& term : equations[e].terms) of_joint_[at(term.joint)].emplace_back(e, term.mm_per_turn);
      if (std::abs(equations[e].gap) > kExact) ++off_;
    }
  }

  void run() {
    int searched = 0;
    for (ClosureFit& closure : fit_.closures) {
      if (closure.state != FitState::open || !closure.cures.empty() || searched == kClosuresCured) continue;
      ++searched;
      for (int pieces = 1; pieces <= options_.max_pieces && closure.cures.empty(); ++pieces) {
        std::vector<Candidate> candidates = candidates_for(closure.closure, pieces);
        if (candidates.size() > kTried) candidates.resize(kTried);
        for (const Candidate& candidate : candidates) try_out(candidate);
      }
    }
    for (ClosureFit& closure : fit_.closures) {
      std::stable_sort(closure.cures.begin(), closure.cures.end(), [](const Cure& a, const Cure& b) {
        if (a.pieces.size() != b.pieces.size()) return a.pieces.size() < b.pieces.size();
        if (a.state != b.state) return a.state < b.state;
        if (std::abs(a.left - b.left) > 1e-6) return a.left < b.left;
        return a.pipe < b.pipe;
      });
      if (closure.cures.size() > kCuresPerClosure) closure.cures.resize(kCuresPerClosure);
    }
  }

 private:
  /// Bags of stock that bring an open axis of the closure within reach of turning, the most promising first.
  std::vector<Candidate> candidates_for(int closure, int pieces) const {
    std::vector<Candidate> out;
    std::set<std::pair<PartId, std::vector<double>>> seen;
    for (const Equation& e : equations_) {
      if (e.closure != closure || std::abs(e.gap) <= kExact) continue;
      double reach = kExact;
      for (const TurnTerm& term : e.terms) reach += std::abs(term.mm_per_turn);
      for (const TurnTerm& term : e.terms) {
        const Joint& joint = frame_.joints[at(term.joint)];
        const Part& pipe = frame_.parts[at(joint.male)];
        if (pipe.kind != PartKind::pipe || std::abs(direction_of(pipe)[e.axis]) < 0.99) continue;
        const auto thread = thread_of(frame_.standard, frame_.make_up, pipe.size);
        if (!thread) continue;
        // A longer pipe acts like turns backed out at one of its ends.
        const double per_mm = -term.mm_per_turn / joint.pitch;
        const double wanted = pipe.length - e.gap / per_mm;
        int count = 0;
        for (StockSum& sum : stock_sums(stock_lengths(pipe.size), thread->coupling_gap, wanted - reach, wanted + reach,
                                        2 * thread->pitch, pieces)) {
          if (static_cast<int>(sum.pieces.size()) != pieces || count == kTriedPerPipe) continue;
          if (!seen.emplace(joint.male, sum.pieces).second) continue;
          ++count;
          Candidate candidate{joint.male, std::move(sum), 0, 0.0};
          const double longer = candidate.stock.length - pipe.length;
          candidate.residual = std::abs(e.gap + per_mm * longer);
          candidate.off = off_after(term.joint, joint.pitch, longer);
          out.push_back(std::move(candidate));
        }
      }
    }
    std::stable_sort(out.begin(), out.end(), [](const Candidate& a, const Candidate& b) {
      if (a.off != b.off) return a.off < b.off;
      if (std::abs(a.residual - b.residual) > 1e-6) return a.residual < b.residual;
      return a.pipe < b.pipe;
    });
    return out;
  }

  /// Equations off when the pipe at that joint is longer by so much.
  int off_after(int joint, double pitch, double longer) const {
    int off = off_;
    for (const auto& [e, mm_per_turn] : of_joint_[at(joint)]) {
      const double before = equations_[e].gap;
      const double after = before - mm_per_turn / pitch * longer;
      off += (std::abs(after) > kExact ? 1 : 0) - (std::abs(before) > kExact ? 1 : 0);
    }
    return off;
  }

  /// Builds it, judges the whole frame, and notes the cure at every closure that it closes.
  void try_out(const Candidate& candidate) {
    const Fit now = find_fit(with_pieces(frame_, candidate.pipe, candidate.stock.pieces), options_);
    if (!opens_nothing(fit_, now) || !now.rechecked) return;
    for (std::size_t c = 0; c < fit_.closures.size(); ++c) {
      const ClosureFit& result = now.closures[c];
      if (fit_.closures[c].state != FitState::open || result.state > FitState::by_turning) continue;
      double left = 0.0;
      for (int axis = 0; axis < 3; ++axis) left = std::max(left, std::abs(result.left[axis]));
      fit_.closures[c].cures.push_back(
          {candidate.pipe, candidate.stock.pieces, candidate.stock.length, result.state, left});
    }
  }

  const Frame& frame_;
  const std::vector<Equation>& equations_;
  FitOptions options_;
  Fit& fit_;
  std::vector<std::vector<std::pair<std::size_t, double>>> of_joint_;  ///< per joint: equation and mm per turn
  int off_ = 0;                                                        ///< equations off as made up
};

}  // namespace

void find_cures(const Frame& frame, const std::vector<Equation>& equations, const FitOptions& options, Fit& fit) {
  CureSearch(frame, equations, options, fit).run();
}

}  // namespace dryfit::planner

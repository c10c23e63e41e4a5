#include "planner/fit/fit_turning.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "model/geometry/at.hpp"
#include "planner/fit/fit_clock.hpp"
#include "planner/fit/fit_program.hpp"
#include "planner/fit/fit_replace.hpp"
#include "planner/fit/fit_room.hpp"

namespace dryfit::planner {

using model::Frame;
using model::Joint;
using model::Vec3;

namespace {

constexpr int kRounds = 12;  ///< what room was made for may meet something else

/// The threads' limits in quarter turns: one turn either way, but none that leaves less than half of hand-tight.
/// Farther home as far as a wrench goes, farther back no more than to hand-tight: what is backed off more is loose.
TurnUnknown limits_of(const Joint& joint) {
  TurnUnknown u;
  const double quarter = joint.pitch / kQuarters;
  const auto back_to = [&](double engaged) {
    return static_cast<int>(std::ceil((engaged - joint.engaged) / quarter - 1e-9));
  };
  u.soft_low = std::max(u.soft_low, std::min(0, back_to(joint.hand / 2)));
  u.low = std::min(u.soft_low, back_to(joint.hand));
  u.high = std::max(u.soft_high, static_cast<int>(std::floor((joint.wrench - joint.engaged) / quarter + 1e-9)));
  return u;
}

/// Order among equals that mirror images share: lowest joint first, then the one farthest from the middle.
std::vector<int> ranks_of(const Frame& frame) {
  Vec3 lo{1e30, 1e30, 1e30};
  Vec3 hi{-1e30, -1e30, -1e30};
  std::vector<Vec3> face;
  for (const Joint& joint : frame.joints) {
    const Vec3 p = frame.part(joint.female).ports[at(joint.female_port)].at;
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

TurnProgram program_of(const Frame& frame, const std::vector<Equation>& equations, const FitOptions& options) {
  TurnProgram program;
  program.node_limit = options.node_limit;
  program.foreman = options.foreman;
  program.whole = clocked_chains(frame);
  const std::vector<int> ranks = ranks_of(frame);
  for (std::size_t j = 0; j < frame.joints.size(); ++j) {
    program.unknowns.push_back(limits_of(frame.joints[j]));
    program.unknowns.back().rank = ranks[j];
  }
  for (const Equation& e : equations) {
    TurnRow row;
    row.gap = e.gap;
    row.tolerance = kExact;
    for (const TurnTerm& term : e.terms) row.terms.emplace_back(term.joint, term.mm_per_turn / kQuarters);
    if (e.mm_per_shift != 0.0) {
      row.terms.emplace_back(static_cast<int>(frame.joints.size()) + e.axis, e.mm_per_shift);
      program.free_unknowns = 3;
    }
    row.may_open = !meets(row.gap);
    program.rows.push_back(std::move(row));
  }
  return program;
}

TurnRow row_of(const RoomRow& room, std::size_t joints) {
  TurnRow row;
  row.gap = room.gap;
  row.tolerance = 0.0;
  row.above_only = true;
  for (const TurnTerm& term : room.terms) row.terms.emplace_back(term.joint, term.mm_per_turn / kQuarters);
  for (std::size_t axis = 0; axis < room.per_shift.size(); ++axis) {
    if (room.per_shift[axis] == 0.0) continue;
    row.terms.emplace_back(static_cast<int>(joints + axis), room.per_shift[axis]);
  }
  row.may_open = is_off(row);
  return row;
}

Vec3 standing_by(const std::vector<Equation>& equations, const std::vector<double>& gaps) {
  Vec3 shift;
  std::array<bool, 3> done{false, false, false};
  for (std::size_t i = 0; i < equations.size(); ++i) {
    const Equation& e = equations[i];
    if (e.mm_per_shift == 0.0 || done[at(e.axis)]) continue;
    done[at(e.axis)] = true;
    shift[e.axis] = -gaps[i] / e.mm_per_shift;
  }
  return shift;
}

}  // namespace

Vec3 standing(const std::vector<Equation>& equations) {
  std::vector<double> gaps;
  for (const Equation& e : equations) gaps.push_back(e.gap);
  return standing_by(equations, gaps);
}

std::vector<double> standing_again(const std::vector<Equation>& equations, std::vector<double> gaps) {
  const Vec3 shift = standing_by(equations, gaps);
  for (std::size_t i = 0; i < gaps.size(); ++i) {
    const Equation& e = equations[i];
    if (e.mm_per_shift != 0.0) gaps[i] += e.mm_per_shift * shift[e.axis];
  }
  return gaps;
}

FitTurning::FitTurning(const Frame& as_read, const Frame& frame, Vec3 stand, const std::vector<Equation>& equations,
                       const Lineage& lineage, const FitOptions& options)
    : as_read_(as_read),
      frame_(frame),
      stand_(stand),
      equations_(equations),
      lineage_(lineage),
      memory_(options.memory ? options.memory : std::make_shared<TurnMemory>()),
      program_(program_of(frame, equations, options)) {
  give(least_turning(program_, *memory_));
  if (options.room && !turns_.empty()) make_room();
}

void FitTurning::give(TurnAnswer answer) {
  answer_ = std::move(answer);
  turns_.clear();
  for (std::size_t j = 0; j < frame_.joints.size(); ++j) {
    if (answer_.quarters[j] == 0) continue;
    turns_.push_back({static_cast<int>(j), static_cast<double>(answer_.quarters[j]) / kQuarters});
  }
  shift_ = stand_;
  for (std::size_t axis = 0; axis < answer_.shifts.size(); ++axis) {
    shift_[static_cast<int>(axis)] += answer_.shifts[axis];
  }
  after_ = turned(as_read_, turns_, shift_);
  if (first_open_.empty()) first_open_ = answer_.open;
}

/// Turns, and rows for what they bring together, until they bring nothing together.
void FitTurning::make_room() {
  for (int round = 0; round < kRounds && add_rows(); ++round) {
    TurnAnswer next = least_turning(program_, *memory_);
    next.proven = next.proven && answer_.proven;
    next.nodes += answer_.nodes;
    give(std::move(next));
  }
}

/// False when nothing has to be kept apart that is not kept apart already.
bool FitTurning::add_rows() {
  const bool all_closed = std::none_of(first_open_.begin(), first_open_.end(), [](bool open) { return open; });
  bool any = false;
  for (const RoomRow& room : room_rows(frame_, lineage_, after_, overlaps_of(after_, contacts_of(after_)))) {
    TurnRow row = row_of(room, frame_.joints.size());
    // What stands in something because a closure is open is told with that closure.
    if (!turned_in(row) || (row.may_open && !all_closed)) continue;
    note(room.overlap);
    if (known(row)) continue;
    if (room.per_shift != std::array<double, 3>{}) program_.free_unknowns = 3;
    program_.rows.push_back(std::move(row));
    any = true;
  }
  return any;
}

void FitTurning::note(const Overlap& overlap) {
  const bool noted = std::any_of(in_the_way_.begin(), in_the_way_.end(), [&](const Overlap& other) {
    return other.a == overlap.a && other.b == overlap.b && other.surface == overlap.surface;
  });
  if (!noted) in_the_way_.push_back(overlap);
}

bool FitTurning::turned_in(const TurnRow& row) const {
  return std::any_of(row.terms.begin(), row.terms.end(), [&](const auto& term) {
    return term.first >= static_cast<int>(frame_.joints.size()) || answer_.quarters[at(term.first)] != 0;
  });
}

bool FitTurning::known(const TurnRow& row) const {
  const auto first = program_.rows.begin() + static_cast<std::ptrdiff_t>(equations_.size());
  return std::any_of(first, program_.rows.end(),
                     [&](const TurnRow& other) { return other.terms == row.terms && other.gap == row.gap; });
}

}  // namespace dryfit::planner

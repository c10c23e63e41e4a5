#include "planner/fit/confidence.hpp"

#include <algorithm>
#include <cmath>
#include <set>
#include <string>
#include <tuple>
#include <utility>

#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "planner/base/remark.hpp"

namespace dryfit::planner {

using model::Confidence;
using model::Dimension;
using model::Frame;
using model::Joint;
using model::kNone;
using model::Part;
using model::PartId;
using model::PartKind;
using model::Port;
using model::Vec3;

namespace {

constexpr double kTableValue = 1e-6;  ///< mm: the tables' own value

/// The part's length is this row of the tables, and the row is from memory.
bool is_row(const Frame& frame, int size, Dimension which, double length) {
  const auto datum = model::dimension(frame.standard, size, which);
  return datum && datum->confidence == Confidence::memory && std::abs(datum->value - length) < kTableValue;
}

/// The same for a mean of two sizes' rows, which no table gives at all.
bool is_mean(const Frame& frame, int size, int other, Dimension which, double length) {
  const auto a = model::dimension(frame.standard, size, which);
  const auto b = model::dimension(frame.standard, other, which);
  return a && b && std::abs((a->value + b->value) / 2 - length) < kTableValue;
}

double far(const Part& part, const Port& port) { return norm(port.at - part.centre); }

Dimension arm_dimension(PartKind kind) {
  switch (kind) {
    case PartKind::elbow45: return Dimension::centre_to_end_45;
    case PartKind::side_elbow:
    case PartKind::side_tee: return Dimension::side_outlet_centre_to_end;
    default: return Dimension::centre_to_end;
  }
}

bool arms_from_memory(const Frame& frame, const Part& part) {
  if (part.own.centre_to_end) return false;
  const Dimension which = arm_dimension(part.kind);
  const double length = far(part, part.ports.front());
  for (const Port& port : part.ports) {
    if (port.size != part.size && is_mean(frame, part.size, port.size, which, length)) return true;
  }
  return is_row(frame, part.size, which, length);
}

bool street_from_memory(const Frame& frame, const Part& part) {
  return std::any_of(part.ports.begin(), part.ports.end(), [&](const Port& port) {
    const double length = far(part, port);
    if (port.male ? part.own.length : part.own.centre_to_end) return false;
    return port.male ? is_row(frame, part.size, Dimension::street_male, length) ||
                           is_row(frame, part.size, Dimension::street45_male, length)
                     : is_row(frame, part.size, Dimension::street_female, length) ||
                           is_row(frame, part.size, Dimension::street45_female, length);
  });
}

/// A male part and a head: sure once it was measured over all, whatever the table says of where the head begins.
bool head_from_memory(const Frame& frame, const Part& part, Dimension male, Dimension head) {
  const auto from_memory = [&](Dimension which) {
    const auto datum = model::dimension(frame.standard, part.size, which);
    return datum && datum->confidence == Confidence::memory;
  };
  return !part.own.length && !part.own.height && (from_memory(male) || from_memory(head));
}

bool height_from_memory(const Frame& frame, const Part& part, Dimension which) {
  return !part.own.height && is_row(frame, part.size, which, far(part, part.ports[0]));
}

const char* what_to_measure(PartKind kind) {
  switch (kind) {
    case PartKind::coupling:
    case PartKind::union_half: return remarked("length");
    case PartKind::cap:
    case PartKind::flange:
    case PartKind::foot:
    case PartKind::caster: return remarked("height");
    case PartKind::plug:
    case PartKind::bushing: return remarked("length and height");
    case PartKind::street_elbow: return remarked("centre-to-end and length");
    default: return remarked("centre-to-end");
  }
}

}  // namespace

bool reach_from_memory(const Frame& frame, PartId id) {
  if (id < 0) return false;
  const Part& part = frame.part(id);
  if (!part.from_memory || part.ports.empty()) return false;
  switch (part.kind) {
    case PartKind::pipe:
    case PartKind::board: return false;
    case PartKind::coupling: {
      if (part.own.length) return false;
      int size = part.size;
      for (const Port& port : part.ports) size = std::max(size, port.size);
      return is_row(frame, size, Dimension::coupling_length, part.length);
    }
    case PartKind::union_half:
      return !part.own.length && is_row(frame, part.size, Dimension::union_length, 2 * part.length);
    case PartKind::cap: return height_from_memory(frame, part, Dimension::cap_height);
    case PartKind::flange: return height_from_memory(frame, part, Dimension::flange_height);
    case PartKind::foot: return height_from_memory(frame, part, Dimension::foot_height);
    case PartKind::caster: return height_from_memory(frame, part, Dimension::caster_height);
    case PartKind::plug: return head_from_memory(frame, part, Dimension::plug_male, Dimension::plug_head);
    case PartKind::bushing: return head_from_memory(frame, part, Dimension::bushing_male, Dimension::bushing_head);
    case PartKind::street_elbow: return street_from_memory(frame, part);
    default: return arms_from_memory(frame, part);
  }
}

bool band_from_memory(const Frame& frame, PartId id) {
  if (id < 0) return false;
  const Part& part = frame.part(id);
  if (!part.from_memory || part.own.band) return false;
  const Dimension which = part.kind == PartKind::pipe ? Dimension::pipe_od : Dimension::band;
  std::set<int> sizes{part.size};
  for (const Port& port : part.ports) sizes.insert(port.size);
  for (const model::Solid& solid : part.solids) {
    for (const int size : sizes) {
      // A union is 1.25 bands across, which is an estimate in any case.
      if (part.kind == PartKind::union_half || is_row(frame, size, which, 2 * solid.radius)) return true;
    }
  }
  return false;
}

bool engagement_from_memory(const Frame& frame, int joint) {
  const Joint& j = frame.joint(joint);
  const Port& end = frame.part(j.male).ports[at(j.male_port)];
  if (end.turns_given > 0.0) return false;
  return is_row(frame, end.size,
                frame.make_up == model::MakeUp::hand ? Dimension::hand_engagement : Dimension::wrench_engagement,
                j.engaged);
}

bool rests_on_memory(const Frame& frame, const std::vector<TurnTerm>& terms) {
  return std::any_of(terms.begin(), terms.end(), [&](const TurnTerm& term) {
    const Joint& joint = frame.joint(term.joint);
    return reach_from_memory(frame, joint.male) || reach_from_memory(frame, joint.female) ||
           engagement_from_memory(frame, term.joint);
  });
}

std::vector<WorthMeasuring> worth_measuring(const Frame& frame) {
  std::set<std::pair<int, PartKind>> found;
  for (PartId p = 0; p < static_cast<PartId>(frame.parts.size()); ++p) {
    const Part& part = frame.part(p);
    if (reach_from_memory(frame, p)) found.insert({part.size, part.kind});
  }
  std::vector<WorthMeasuring> out;
  for (const auto& [size, kind] : found) out.push_back(worth_measuring(size, kind));
  return out;
}

WorthMeasuring worth_measuring(int size, PartKind kind) {
  return {model::nominal_sizes()[at(size)], kind, what_to_measure(kind)};
}

std::vector<WorthMeasuring> worth_measuring_for_fit(const Frame& frame) {
  std::set<std::pair<std::string, PartKind>> counts;
  const auto count = [&](PartId id) {
    const Part& part = frame.part(id);
    counts.emplace(model::nominal_sizes()[at(part.size)], part.kind);
  };
  for (const Equation& equation : equations_of(frame, Lineage(frame))) {
    for (const TurnTerm& term : equation.terms) {
      count(frame.joint(term.joint).male);
      count(frame.joint(term.joint).female);
    }
  }
  std::vector<WorthMeasuring> out = worth_measuring(frame);
  std::erase_if(out, [&](const WorthMeasuring& worth) { return !counts.contains({worth.size, worth.kind}); });
  return out;
}

}  // namespace dryfit::planner

#include "planner/shop/span.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "model/frame/message.hpp"
#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "planner/base/stock.hpp"
#include "planner/fit/confidence.hpp"
#include "planner/fit/fit_answer.hpp"
#include "planner/fit/fit_clock.hpp"

namespace dryfit::planner {

using model::Dimension;
using model::Frame;
using model::kNone;
using model::Part;
using model::PartId;
using model::PartKind;
using model::Port;
using model::Vec3;

namespace {

struct EndKind {
  const char* word;
  Dimension reach;  ///< from the measuring point to the port's face
  double share;     ///< of that dimension: half a coupling
  bool clocked;
};

/// What a flange is measured from is its mounting face, a cap its closed end, a coupling or union its middle.
constexpr std::array<EndKind, 11> kEnds{{
    {"coupling", Dimension::coupling_length, 0.5, false},
    {"elbow", Dimension::centre_to_end, 1.0, true},
    {"elbow45", Dimension::centre_to_end_45, 1.0, true},
    {"street-elbow", Dimension::street_female, 1.0, true},
    {"tee", Dimension::centre_to_end, 1.0, true},
    {"cross", Dimension::centre_to_end, 1.0, true},
    {"side-elbow", Dimension::side_outlet_centre_to_end, 1.0, true},
    {"side-tee", Dimension::side_outlet_centre_to_end, 1.0, true},
    {"cap", Dimension::cap_height, 1.0, false},
    {"flange", Dimension::flange_height, 1.0, false},
    {"union", Dimension::union_length, 0.5, false},
}};

double price_key_length(double length) { return std::round(length * 10); }

std::optional<double> cost_of(const SpanQuery& query, const std::vector<double>& pieces) {
  if (query.prices == nullptr) return std::nullopt;
  double sum = 0.0;
  for (const double piece : pieces) {
    const auto price = query.prices->of(query.size, "pipe", piece);
    if (!price) return std::nullopt;
    sum += *price;
  }
  if (pieces.size() > 1) {
    const auto price = query.prices->of(query.size, "coupling");
    if (!price) return std::nullopt;
    sum += *price * static_cast<double>(pieces.size() - 1);
  }
  return sum;
}

bool before(const SpanWay& a, const SpanWay& b) {
  if (a.joints != b.joints) return a.joints < b.joints;
  if (a.pieces.size() != b.pieces.size()) return a.pieces.size() < b.pieces.size();
  if (a.cost && b.cost && *a.cost != *b.cost) return *a.cost < *b.cost;
  if (a.cost.has_value() != b.cost.has_value()) return a.cost.has_value();
  if (std::abs(a.off) != std::abs(b.off)) return std::abs(a.off) < std::abs(b.off);
  return a.pieces > b.pieces;
}

}  // namespace

std::optional<double> PriceList::of(int size, const std::string& item, double length) const {
  const auto it = prices.find({size, item, static_cast<long>(price_key_length(length))});
  if (it == prices.end()) return std::nullopt;
  return it->second;
}

const std::vector<std::string>& span_end_words() {
  static const std::vector<std::string> words = [] {
    std::vector<std::string> out;
    for (const EndKind& kind : kEnds) out.emplace_back(kind.word);
    out.emplace_back("end");
    return out;
  }();
  return words;
}

std::optional<SpanEnd> span_end(model::Standard standard, model::MakeUp make_up, int size, std::string_view word,
                                Measure measure, model::Message* why) {
  SpanEnd end;
  end.kind = word;
  if (word == "end") return end;
  const auto kind = std::find_if(kEnds.begin(), kEnds.end(), [&](const EndKind& k) { return word == k.word; });
  if (kind == kEnds.end()) {
    if (why != nullptr) {
      *why = model::message("unknown end '{}', expected one of {}", word,
                            fmt::format("{}", fmt::join(span_end_words(), ", ")));
    }
    return std::nullopt;
  }
  const auto reach = model::dimension(standard, size, kind->reach);
  const auto engaged = model::dimension(
      standard, size, make_up == model::MakeUp::hand ? Dimension::hand_engagement : Dimension::wrench_engagement);
  if (!reach || !engaged) {
    if (why != nullptr) {
      *why = model::message("no table has '{}' in size {}", word, model::nominal_sizes()[at(size)]);
    }
    return std::nullopt;
  }
  end.threaded = true;
  end.counts = measure != Measure::end;
  end.clocked = kind->clocked;
  end.from_memory = measure == Measure::centre && reach->confidence == model::Confidence::memory;
  end.from_memory = end.from_memory || (measure != Measure::end && engaged->confidence == model::Confidence::memory);
  switch (measure) {
    case Measure::centre: end.take_off = reach->value * kind->share - engaged->value; break;
    case Measure::face: end.take_off = -engaged->value; break;
    case Measure::end: end.take_off = 0.0; break;
  }
  return end;
}

std::vector<SpanWay> span(const SpanQuery& query) {
  std::vector<SpanWay> out;
  const auto thread = thread_of(query.standard, query.make_up, query.size);
  if (!thread) return out;
  const double take_off = query.ends[0].take_off + query.ends[1].take_off;
  const int end_joints = (query.ends[0].counts ? 1 : 0) + (query.ends[1].counts ? 1 : 0);
  const double wanted = query.length - take_off;
  // Between two ends that point somewhere the turns add up to whole ones, unless a joint outside the length makes it
  // up.
  const bool whole =
      std::all_of(query.ends.begin(), query.ends.end(), [](const SpanEnd& end) { return end.clocked && end.counts; });
  const double step = whole ? 1.0 : 0.25;
  // n pieces make 2 (n - 1) joints between themselves, so the window grows by two turns a piece.
  // What whole turns leave is told with the way: it is for the builder to say whether that will do.
  const double most = std::max(kExact, step * thread->pitch / 2) + 1e-9;
  const double reach = (end_joints - 2) * thread->pitch + most;
  for (StockSum& sum : stock_sums(stock_lengths(query.standard, query.size), thread->coupling_gap, wanted - reach,
                                  wanted + reach, 2 * thread->pitch, query.max_pieces)) {
    SpanWay way;
    way.joints = end_joints + 2 * (static_cast<int>(sum.pieces.size()) - 1);
    way.end_to_end = sum.length;
    way.length = sum.length + take_off;
    way.off = way.length - query.length;
    way.turns = meets(way.off) ? 0.0 : std::round(way.off / thread->pitch / step) * step;
    if (std::abs(way.turns) > way.joints) continue;
    way.left = way.off - way.turns * thread->pitch;
    if (std::abs(way.left) > most) continue;
    way.cost = cost_of(query, sum.pieces);
    way.from_memory = query.from_memory || query.ends[0].from_memory || query.ends[1].from_memory ||
                      (sum.pieces.size() > 1 && thread->from_memory);
    way.pieces = std::move(sum.pieces);
    out.push_back(std::move(way));
  }
  std::stable_sort(out.begin(), out.end(), before);
  return out;
}

namespace {

/// Parts in line with a pipe, from one end of the straight chain to the other.
std::vector<PartId> chain_round(const Frame& frame, PartId pipe) {
  const auto in_line = [&](PartId p) {
    const PartKind kind = frame.part(p).kind;
    return kind == PartKind::pipe || kind == PartKind::coupling || kind == PartKind::union_half;
  };
  std::vector<PartId> chain{pipe};
  for (const bool forward : {true, false}) {
    PartId p = pipe;
    PartId from = kNone;
    bool first = true;
    while (in_line(p)) {
      const Part& part = frame.part(p);
      PartId next = kNone;
      for (std::size_t i = 0; i < part.ports.size(); ++i) {
        if (first && (i == 1) != forward) continue;
        if (part.ports[i].joint == kNone) continue;
        const model::Joint& joint = frame.joint(part.ports[i].joint);
        const PartId other = joint.male == p ? joint.female : joint.male;
        if (other != from) next = other;
      }
      if (next == kNone && part.union_mate != from) next = part.union_mate;
      first = false;
      if (next == kNone) break;
      from = p;
      p = next;
      if (forward) {
        chain.push_back(p);
      } else {
        chain.insert(chain.begin(), p);
      }
    }
  }
  return chain;
}

/// Parts of a run and the parts it starts and ends at.
std::vector<PartId> whole_run(const Frame& frame, const model::Run& run) {
  std::vector<PartId> chain = run.parts;
  const auto beyond = [&](PartId end) {
    const Part& part = frame.part(end);
    for (const Port& port : part.ports) {
      if (port.joint == kNone) continue;
      const model::Joint& joint = frame.joint(port.joint);
      const PartId other = joint.male == end ? joint.female : joint.male;
      // A run ends at a port of another run; a branch of its own end fitting belongs to those that branch off.
      if (std::find(run.parts.begin(), run.parts.end(), other) == run.parts.end() &&
          frame.part(end).kind == PartKind::pipe) {
        return other;
      }
    }
    return kNone;
  };
  const PartId first = beyond(run.parts.front());
  const PartId last = beyond(run.parts.back());
  if (run.parts.size() == 1) {
    return chain_round(frame, run.parts.front());
  }
  if (first != kNone) chain.insert(chain.begin(), first);
  if (last != kNone && last != first) chain.push_back(last);
  return chain;
}

/// The measuring point of an end part, and the end as the span sees it.
std::pair<Vec3, SpanEnd> end_of(const Frame& frame, PartId p, Vec3 inward) {
  const Part& part = frame.part(p);
  SpanEnd end;
  if (part.kind == PartKind::pipe) {
    end.kind = "end";
    const Port& tip = dot(part.ports[0].facing.unit(), inward) < 0 ? part.ports[0] : part.ports[1];
    return {tip.at, end};
  }
  end.kind = model::word_for(part.kind);
  end.clocked = is_clocked(part.kind);
  end.from_memory = reach_from_memory(frame, p);
  for (const Port& port : part.ports) {
    if (port.joint == kNone || dot(port.facing.unit(), inward) < 0.99) continue;
    end.threaded = true;
    end.counts = true;
    const model::Joint& joint = frame.joint(port.joint);
    end.take_off = dot(port.at - part.centre, inward) - joint.engaged;
    break;
  }
  return {part.centre, end};
}

}  // namespace

std::optional<SpanQuery> span_of(const Frame& frame, std::string_view name, model::Message* why) {
  std::vector<PartId> chain;
  int size = 0;
  for (const model::Run& run : frame.runs) {
    if (run.id == name && !run.parts.empty()) chain = whole_run(frame, run);
  }
  if (chain.empty()) {
    const PartId pipe = frame.find(std::string(name));
    if (pipe != kNone && frame.part(pipe).kind == PartKind::pipe) chain = chain_round(frame, pipe);
  }
  if (chain.empty()) {
    if (why != nullptr) *why = model::message("no run or pipe is called '{}'", name);
    return std::nullopt;
  }
  const auto pipe =
      std::find_if(chain.begin(), chain.end(), [&](PartId p) { return frame.part(p).kind == PartKind::pipe; });
  if (pipe == chain.end()) {
    if (why != nullptr) *why = model::message("'{}' has no pipe", name);
    return std::nullopt;
  }
  size = frame.part(*pipe).size;
  const Vec3 start = frame.part(chain.front()).centre;
  Vec3 along = frame.part(chain.back()).centre - start;
  if (norm(along) < 1e-6) along = frame.part(*pipe).ports[1].facing.unit();
  along = along * (1.0 / norm(along));
  for (const PartId p : chain) {
    const Vec3 from = frame.part(p).centre - start;
    if (norm(from - along * dot(from, along)) < 1.0) continue;
    if (why != nullptr) {
      *why = model::message("'{}' is not straight ({} is out of line): name one of its pipes instead", name,
                            frame.part(p).id);
    }
    return std::nullopt;
  }
  SpanQuery query;
  query.standard = frame.standard;
  query.make_up = frame.make_up;
  query.size = size;
  const auto [a, first] = end_of(frame, chain.front(), along);
  const auto [b, last] = end_of(frame, chain.back(), -along);
  query.ends = {first, last};
  query.length = norm(b - a);
  query.from_memory = std::any_of(chain.begin(), chain.end(), [&](PartId p) { return reach_from_memory(frame, p); });
  return query;
}

}  // namespace dryfit::planner

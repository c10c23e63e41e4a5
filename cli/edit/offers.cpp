#include "cli/edit/offers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "cli/edit/connect.hpp"
#include "cli/edit/end_alone.hpp"
#include "cli/edit/put_on.hpp"
#include "cli/io/usage_error.hpp"
#include "model/editing/outline.hpp"
#include "model/text/typed_length.hpp"
#include "planner/base/stock.hpp"
#include "planner/shop/span.hpp"

namespace dryfit::cli {
namespace {

constexpr double kBeside = 0.5;  ///< mm off the line at which two ends still face each other

enum class Takes { nothing, square, at_45, run };
struct KindTried {
  const char* word;
  Takes takes;
};
constexpr std::array<KindTried, 8> kOnMale{{{"coupling", Takes::nothing},
                                            {"elbow", Takes::square},
                                            {"tee", Takes::square},
                                            {"union", Takes::nothing},
                                            {"cap", Takes::nothing},
                                            {"flange", Takes::nothing},
                                            {"elbow45", Takes::at_45},
                                            {"cross", Takes::run}}};
constexpr std::array<KindTried, 2> kOnFemale{{{"pipe", Takes::run}, {"plug", Takes::nothing}}};

std::vector<std::string> directions_for(Takes takes, model::Direction facing) {
  std::vector<std::string> names;
  for (const model::Direction d : model::all_directions()) {
    const bool fits =
        takes == Takes::square ? d.along_axis() && square(d, facing) : takes == Takes::at_45 && at_45(facing, d);
    if (fits) names.push_back(d.name());
  }
  return names;
}

/// The value that a kind is tried with.
std::string tried_value(const KindTried& kind, const std::vector<std::string>& directions, model::Direction facing) {
  if (std::string(kind.word) == "pipe") return "pipe: 150 mm";
  if (std::string(kind.word) == "cross") {
    const int other = facing.axis() == 2 ? 0 : 2;
    std::string plane;
    for (int axis = 0; axis < 3; ++axis) {
      if (axis == facing.axis() || axis == other) plane += "xyz"[axis];
    }
    return "{cross: , plane: " + plane + "}";
  }
  return directions.empty() ? kind.word : std::string(kind.word) + ": " + directions.front();
}

bool can_be_put_on(const EndAlone& tried, const std::string& what) {
  try {
    return read_if_sound(put_on(tried.text, "an end", tried.end, what).text, "an end").has_value();
  } catch (const UsageError&) {
    return false;
  }
}

/// Open ports ahead of an open port, in line with it and facing it, nearest first.
std::vector<PartEnd> ports_ahead(const model::Frame& frame, PartEnd from) {
  const model::Port& port = port_of(frame, from);
  const model::Vec3 way = port.facing.unit();
  std::vector<std::pair<double, PartEnd>> found;
  for (const PartEnd other : open_ends(frame)) {
    const model::Port& there = port_of(frame, other);
    if (there.male || there.size != port.size || there.facing != -port.facing) continue;
    const model::Vec3 apart = there.at - port.at;
    const double along = dot(apart, way);
    if (along <= 0.0 || norm(apart - way * along) > kBeside) continue;
    found.emplace_back(along, other);
  }
  std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
  std::vector<PartEnd> ends;
  for (const auto& [along, end] : found) ends.push_back(end);
  return ends;
}

std::vector<planner::SpanWay> ways_between(const model::Frame& frame, PartEnd from, PartEnd to) {
  planner::SpanQuery query;
  query.standard = frame.standard;
  query.make_up = frame.make_up;
  query.size = port_of(frame, from).size;
  query.max_pieces = 3;
  const model::Port& port = port_of(frame, from);
  query.length = dot(port_of(frame, to).at - port.at, port.facing.unit());
  for (std::size_t i = 0; i < 2; ++i) {
    // Between faces only the thread counts, and that is the same in any of these.
    const auto end =
        planner::span_end(frame.standard, frame.make_up, query.size, "coupling", planner::Measure::face, nullptr);
    if (!end) return {};
    query.ends[i] = *end;
  }
  return planner::span(query);
}

/// Where the pipe's own end would be level with another that looks the same way.
std::string level_with(const model::Frame& frame, PartEnd from, model::PartId own, double tip) {
  const model::Port& port = port_of(frame, from);
  const model::Vec3 way = port.facing.unit();
  for (const PartEnd other : open_ends(frame)) {
    const model::Port& there = port_of(frame, other);
    if (other.part == from.part || other.part == own || !there.male || there.facing != port.facing) continue;
    if (std::abs(dot(there.at, way) - tip) < kBeside) return end_name(frame, other);
  }
  return "";
}

/// The nearest open port ahead, and what reaches it.
struct Ahead {
  std::optional<PartEnd> port;
  std::vector<planner::SpanWay> ways;
};
Ahead ahead_of(const model::Frame& frame, PartEnd from) {
  const std::vector<PartEnd> ports = ports_ahead(frame, from);
  if (ports.empty()) return {};
  return {ports.front(), ways_between(frame, from, ports.front())};
}

void offer_ways(const model::Frame& frame, const Ahead& ahead, Offers& offers) {
  constexpr std::size_t kMost = 3;
  for (const planner::SpanWay& way : ahead.ways) {
    if (way.pieces.size() < 2 || offers.ways.size() == kMost) continue;
    WayOffered one{end_name(frame, *ahead.port), {}, way.off, way.turns};
    for (const double piece : way.pieces) one.pieces.push_back(model::typed_length(piece, frame.units));
    offers.ways.push_back(std::move(one));
  }
}

std::vector<LengthOffered> lengths_toward(const model::Frame& frame, PartEnd from, model::PartId own,
                                          const Ahead& ahead) {
  std::vector<LengthOffered> lengths;
  const model::Port& port = port_of(frame, from);
  const auto thread = planner::thread_of(frame.standard, frame.make_up, port.size);
  if (!thread) return lengths;
  const double face = ahead.port ? dot(port_of(frame, *ahead.port).at - port.at, port.facing.unit()) : 0.0;
  for (const double length : planner::stock_lengths(frame.standard, port.size)) {
    LengthOffered one;
    one.length = length;
    one.text = model::typed_length(length, frame.units);
    const double tip = dot(port.at, port.facing.unit()) - thread->engaged + length;
    one.level_with = level_with(frame, from, own, tip);
    if (ahead.port) one.off = length - 2.0 * thread->engaged - face;
    for (const planner::SpanWay& way : ahead.ways) {
      if (way.pieces.size() != 1 || std::abs(way.pieces.front() - length) > 0.01) continue;
      one.closes = end_name(frame, *ahead.port);
      one.turns = way.turns;
    }
    lengths.push_back(std::move(one));
  }
  const auto rank = [](const LengthOffered& one) { return !one.closes.empty() ? 0 : !one.level_with.empty() ? 1 : 2; };
  std::stable_sort(lengths.begin(), lengths.end(),
                   [&](const LengthOffered& a, const LengthOffered& b) { return rank(a) < rank(b); });
  return lengths;
}

/// Runs, by number, at whose parts others begin.
std::set<int> branched_off(const std::string& text, const model::Frame& frame) {
  std::set<int> runs;
  const model::Written root = model::outline_of(text);
  const model::Written* all = root.find("runs");
  if (all == nullptr) return runs;
  for (const model::Written& run : all->items) {
    const model::Written* from = run.find("from");
    if (from == nullptr || from->text.find('.') == std::string::npos) continue;
    const model::PartId part = frame.find(from->text.substr(0, from->text.find_first_of(".~")));
    if (part != model::kNone) runs.insert(frame.part(part).run);
  }
  return runs;
}

/// Runs that stand on a surface and have a port for this end, and runs that began at an end of the same kind.
void offer_copies(const LoadedFrame& loaded, const std::string& name, Offers& offers) {
  constexpr std::size_t kMost = 6;
  const model::Frame& frame = loaded.frame;
  const std::set<int> branched = branched_off(loaded.text, frame);
  for (const model::Run& run : frame.runs) {
    if (offers.copies.size() == kMost) return;
    try {
      const RunCopy copy = copy_of_run(frame, loaded.text, name, run.id, offers.end, false);
      if (!read_if_sound(copy.made.text, name)) continue;
      offers.copies.push_back(run.id);
      if (branched.contains(frame.part(run.parts.front()).run)) offers.branching.push_back(run.id);
    } catch (const UsageError&) {
      continue;  // it cannot be copied there
    }
  }
}

}  // namespace

std::vector<LengthOffered> lengths_from(const model::Frame& frame, PartEnd from, model::PartId own) {
  return lengths_toward(frame, from, own, ahead_of(frame, from));
}

Offers offers_at(const LoadedFrame& loaded, const std::string& name, const std::string& place) {
  const model::Frame& frame = loaded.frame;
  const PartEnd end = open_end_named(frame, place);
  const model::Port& port = port_of(frame, end);
  Offers offers;
  offers.end = place;
  offers.facing = port.facing;
  offers.male = port.male;
  const EndAlone tried = end_alone(frame, port).value_or(EndAlone{loaded.text, place});
  const auto try_kind = [&](const KindTried& kind) {
    KindOffered one{kind.word, directions_for(kind.takes, port.facing), ""};
    const bool turns = kind.takes == Takes::square || kind.takes == Takes::at_45;
    if (turns && one.directions.empty()) return;
    const std::string value = tried_value(kind, one.directions, port.facing);
    if (value.front() == '{') one.value = value;
    if (can_be_put_on(tried, value)) offers.kinds.push_back(std::move(one));
  };
  if (port.male) {
    for (const KindTried& kind : kOnMale) try_kind(kind);
  } else {
    for (const KindTried& kind : kOnFemale) try_kind(kind);
    const Ahead ahead = ahead_of(frame, end);
    offers.lengths = lengths_toward(frame, end, model::kNone, ahead);
    offer_ways(frame, ahead, offers);
  }
  if (run_going_on(frame, end) != model::kNone) {
    if (const auto reached = reached_by(frame, end)) offers.joins.push_back(end_name(frame, *reached));
  }
  offer_copies(loaded, name, offers);
  return offers;
}

}  // namespace dryfit::cli

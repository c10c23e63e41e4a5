#include "cli/check/hole_report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/check/fit_report.hpp"
#include "cli/words/say.hpp"
#include "cli/words/told.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using planner::DrillHole;
using planner::DrillPair;
using planner::DrillSheet;
using planner::Drop;

constexpr std::size_t kPairsTold = 6;  ///< all pairs of four holes

const std::string& id_of(const model::Frame& frame, model::PartId part) {
  return frame.part(part).id;
}

/// What a hole of `sheet` has that rests on table rows from memory, by field.
std::vector<std::string> memory_fields(const DrillHole& hole, const std::vector<std::string>& places) {
  std::vector<std::string> fields;
  if (hole.place_from_memory) fields = places;
  if (hole.pipe_from_memory) fields.insert(fields.end(), {"pipe_mm", "clearance_mm"});
  if (hole.carrier_from_memory) fields.insert(fields.end(), {"carrier_mm", "bearing_mm"});
  return fields;
}

Json carrier_json(const DrillHole& hole, double value) {
  return hole.carrier == model::kNone ? Json(nullptr) : Json(rounded(value));
}

Json hole_json(const model::Frame& frame, const DrillSheet& sheet, const DrillHole& hole) {
  const std::vector<std::string> places = {"from_" + sheet.low_edges[0] + "_mm", "from_" + sheet.high_edges[0] + "_mm",
                                           "from_" + sheet.low_edges[1] + "_mm", "from_" + sheet.high_edges[1] + "_mm"};
  return {{"pipe", id_of(frame, hole.pipe)},
          {"kind", hole.notch ? "notch" : "hole"},
          {"open", hole.notch ? Json(hole.open.name()) : Json(nullptr)},
          {places[0], rounded(hole.from_low[0])},
          {places[1], rounded(hole.from_high[0])},
          {places[2], rounded(hole.from_low[1])},
          {places[3], rounded(hole.from_high[1])},
          {"hole_mm", rounded(hole.hole)},
          {"bit", hole.bit.empty() ? Json(nullptr) : Json(hole.bit)},
          {"pipe_mm", rounded(hole.pipe_od)},
          {"clearance_mm", rounded(hole.clearance)},
          {"carrier", hole.carrier == model::kNone ? Json(nullptr) : Json(id_of(frame, hole.carrier))},
          {"carrier_mm", carrier_json(hole, hole.carrier_od)},
          {"bearing_mm", carrier_json(hole, hole.bearing)},
          {"to_edge_mm", rounded(hole.to_edge)},
          {"to_hole_mm", sheet.holes.size() > 1 ? Json(rounded(hole.to_hole)) : Json(nullptr)},
          {"rests_on_memory", memory_fields(hole, places)},
          {"warnings", told(hole.warnings, frame.units)}};
}

std::string width_of(const DrillHole& hole, const Lengths& lengths) {
  return hole.bit.empty() ? lengths(hole.hole) : bit_text(hole.bit);
}

bool alike(const DrillHole& a, const DrillHole& b) {
  const auto same = [](double x, double y) { return std::abs(x - y) < 1e-6; };
  return a.notch == b.notch && same(a.hole, b.hole) && same(a.pipe_od, b.pipe_od) &&
         (a.carrier == model::kNone) == (b.carrier == model::kNone) && same(a.bearing, b.bearing) && a.bit == b.bit;
}

/// "P3 on C1" for each hole of a kind.
std::string posts_of(const model::Frame& frame, const std::vector<const DrillHole*>& holes) {
  std::vector<std::string> words;
  for (const DrillHole* hole : holes) {
    words.push_back(hole->carrier == model::kNone
                        ? name_of(frame, hole->pipe)
                        : say("{0} on {1}", name_of(frame, hole->pipe), name_of(frame, hole->carrier)));
  }
  return listed(words);
}

std::string verdict_of(Drop drop) {
  switch (drop) {
    case Drop::free: return say("drops on freely");
    case Drop::measure_first: return say("measure the posts before you drill");
    case Drop::binds: break;
  }
  return say("BINDS");
}

std::string hole_text(const model::Frame& frame, const DrillSheet& sheet, const DrillHole& hole,
                      const Lengths& lengths) {
  const std::string pipe = name_of(frame, hole.pipe), u = lengths(hole.from_low[0]), v = lengths(hole.from_low[1]);
  const std::string from_u = from_edge(side_named(sheet.low_edges[0])),
                    from_v = from_edge(side_named(sheet.low_edges[1]));
  const char* mark = memory_mark(hole.place_from_memory);
  std::vector<std::string> clauses;
  clauses.push_back(hole.notch ? say("slot for {0}: {1} {2}, {3} {4}{5}", pipe, u, from_u, v, from_v, mark)
                               : say("hole for {0}: {1} {2}, {3} {4}{5}", pipe, u, from_u, v, from_v, mark));
  std::string width = hole.bit.empty() ? say("{} wide, for which there is no stock bit", lengths(hole.hole))
                                       : say("bit {}", bit_text(hole.bit));
  if (hole.notch) width = say("{0}, sawn out to the {1}", width, edge(hole.open));
  clauses.push_back(std::move(width));
  std::string clearance = say("clearance {0}{1}", lengths.fine(hole.clearance), memory_mark(hole.pipe_from_memory));
  if (hole.carrier != model::kNone) {
    clearance = say("{0}, ring of {1} on {2}{3}", clearance, lengths.fine(hole.bearing), name_of(frame, hole.carrier),
                    memory_mark(hole.carrier_from_memory));
  }
  clauses.push_back(std::move(clearance));
  return fmt::format("{}.", fmt::join(clauses, "; "));
}

std::string pair_text(const model::Frame& frame, const DrillSheet& sheet, const DrillPair& pair,
                      const Lengths& lengths) {
  const auto pipe = [&](int hole) { return name_of(frame, sheet.holes[at(hole)].pipe); };
  const std::string one = pipe(pair.first), other = pipe(pair.second), apart = lengths(pair.spacing);
  const char* mark = memory_mark(pair.from_memory);
  const std::string text =
      std::abs(pair.posts - pair.spacing) < 0.05
          ? say("{0} to {1}: holes {2} apart, as the posts{3}; slack {4}", one, other, apart, mark,
                lengths.fine(pair.slack))
          : say("{0} to {1}: holes {2} apart, posts {3}{4}, {5} off; slack {6}", one, other, apart, lengths(pair.posts),
                mark, lengths.fine(std::abs(pair.posts - pair.spacing)), lengths.fine(pair.slack));
  const std::string stray =
      pair.spread.threads == 0
          ? say("no thread between them")
          : say("threads may stray {0}, likely {1}", lengths.fine(pair.spread.worst), lengths.fine(pair.spread.likely));
  return fmt::format("{}, {}: {}.", text, stray, verdict_of(pair.drop));
}

/// Worst first among equals in the order of the holes; all of them when there are few.
std::vector<const DrillPair*> pairs_told(const DrillSheet& sheet) {
  std::vector<const DrillPair*> told;
  for (const DrillPair& pair : sheet.pairs) told.push_back(&pair);
  if (told.size() <= kPairsTold) return told;
  std::stable_sort(told.begin(), told.end(), [](const DrillPair* a, const DrillPair* b) {
    const auto over = [](const DrillPair& p) { return std::abs(p.posts - p.spacing) + p.spread.worst - p.slack; };
    if (a->drop != b->drop) return a->drop > b->drop;
    return over(*a) > over(*b) + 1e-6;
  });
  told.resize(kPairsTold);
  return told;
}

}  // namespace

Json holes_json(const model::Frame& frame, const std::vector<DrillSheet>& sheets) {
  Json list = Json::array();
  for (const DrillSheet& sheet : sheets) {
    for (const DrillHole& hole : sheet.holes) {
      list.push_back({{"board", id_of(frame, sheet.board)},
                      {"pipe", id_of(frame, hole.pipe)},
                      {"hole_mm", rounded(hole.hole)},
                      {"pipe_mm", rounded(hole.pipe_od)},
                      {"clearance_mm", rounded(hole.clearance)},
                      {"carrier_mm", carrier_json(hole, hole.carrier_od)},
                      {"bearing_mm", carrier_json(hole, hole.bearing)},
                      {"rests_on_memory", memory_fields(hole, {})}});
    }
  }
  return list;
}

Json sheet_json(const model::Frame& frame, const DrillSheet& sheet) {
  Json holes = Json::array();
  for (const DrillHole& hole : sheet.holes) holes.push_back(hole_json(frame, sheet, hole));
  Json pairs = Json::array();
  for (const DrillPair& pair : sheet.pairs) {
    const auto pipe = [&](int hole) { return id_of(frame, sheet.holes[at(hole)].pipe); };
    pairs.push_back({{"between", {pipe(pair.first), pipe(pair.second)}},
                     {"spacing_mm", rounded(pair.spacing)},
                     {"posts_mm", rounded(pair.posts)},
                     {"slack_mm", rounded(pair.slack)},
                     {"worst_mm", rounded(pair.spread.worst)},
                     {"likely_mm", rounded(pair.spread.likely)},
                     {"drop", planner::word_for(pair.drop)},
                     {"rests_on_memory", pair.from_memory ? Json({"spacing_mm", "posts_mm"}) : Json::array()}});
  }
  return {{"board", id_of(frame, sheet.board)},
          {"size_mm", {rounded(sheet.size[0]), rounded(sheet.size[1]), rounded(sheet.thickness)}},
          {"drop", planner::word_for(sheet.drop)},
          {"lean_mm_per_m", rounded(sheet.lean)},
          {"lean_takes_mm", rounded(sheet.lean_takes)},
          {"holes", std::move(holes)},
          {"pairs", std::move(pairs)},
          {"warnings", told(sheet.warnings, frame.units)}};
}

std::string holes_text(const model::Frame& frame, const DrillSheet& sheet, const Lengths& lengths) {
  std::string out;
  std::vector<bool> told(sheet.holes.size(), false);
  for (std::size_t i = 0; i < sheet.holes.size(); ++i) {
    if (told[i]) continue;
    const DrillHole& first = sheet.holes[i];
    std::vector<const DrillHole*> same;
    for (std::size_t j = i; j < sheet.holes.size(); ++j) {
      if (told[j] || !alike(first, sheet.holes[j])) continue;
      told[j] = true;
      same.push_back(&sheet.holes[j]);
    }
    std::string text = say("{0}: {1} wide for {2}; pipe {3}, clearance {4}{5}", name_of(frame, sheet.board),
                           width_of(first, lengths), posts_of(frame, same), lengths.fine(first.pipe_od),
                           lengths.fine(first.clearance), memory_mark(first.pipe_from_memory));
    if (first.carrier != model::kNone) {
      text =
          say("{0}, ring of bearing {1}{2}", text, lengths.fine(first.bearing), memory_mark(first.carrier_from_memory));
    }
    out += "  " + wrapped(text + ".", 4) + "\n";
  }
  if (sheet.drop != Drop::free) {
    const std::string board = name_of(frame, sheet.board);
    out += fmt::format("    {}\n", sheet.drop == Drop::binds
                                       ? say("{}: BINDS on its posts; see `dryfit drill`.", board)
                                       : say("{}: measure the posts before you drill; see `dryfit drill`.", board));
  }
  return out;
}

std::string sheet_text(const model::Frame& frame, const DrillSheet& sheet, const Lengths& lengths) {
  std::string out = say("{0}: {1} by {2}, {3} thick", name_of(frame, sheet.board), lengths(sheet.size[0]),
                        lengths(sheet.size[1]), lengths(sheet.thickness)) +
                    "\n";
  for (const DrillHole& hole : sheet.holes) {
    out += "  " + wrapped(hole_text(frame, sheet, hole, lengths), 4) + "\n";
    for (const std::string& warning : told(hole.warnings, frame.units)) out += "    ! " + wrapped(warning, 6) + "\n";
  }
  for (const DrillPair* pair : pairs_told(sheet)) {
    out += "  " + wrapped(pair_text(frame, sheet, *pair, lengths), 4) + "\n";
  }
  if (sheet.pairs.size() > kPairsTold) {
    out += "  " + say("and {} more pairs that are no worse, all listed by --json.", sheet.pairs.size() - kPairsTold) +
           "\n";
  }
  for (const std::string& warning : told(sheet.warnings, frame.units)) out += "  ! " + wrapped(warning, 4) + "\n";
  return out;
}

}  // namespace dryfit::cli

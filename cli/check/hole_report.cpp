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

const std::string& id_of(const model::Frame& frame, model::PartId part) { return frame.part(part).id; }

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
  if (hole.notch) width = say("{0}, sawn open to the {1}", width, edge(hole.open));
  clauses.push_back(std::move(width));
  std::string clearance =
      say("{0} wider than the pipe{1}", lengths.fine(hole.clearance), memory_mark(hole.pipe_from_memory));
  if (hole.carrier != model::kNone) {
    clearance = say("{0}, {1} rests on {2}{3}", clearance, lengths.fine(hole.bearing), name_of(frame, hole.carrier),
                    memory_mark(hole.carrier_from_memory));
  }
  clauses.push_back(std::move(clearance));
  return fmt::format("{}.", fmt::join(clauses, "; "));
}

/// The threads can put the posts where the holes do not let them through.
bool strays_too_far(const DrillPair& pair) {
  return !pair.measured && pair.spread.threads > 0 && pair.spread.worst > pair.slack;
}

/// Two posts against their two holes, without the posts' names: what is alike is told once.
std::string pair_text(const DrillPair& pair, const Lengths& lengths) {
  if (pair.measured) {
    const std::string apart = lengths(pair.spacing), slack = lengths.fine(pair.slack);
    return say("{0} centre to centre, as measured. The holes allow {1}.", apart, slack);
  }
  const std::string apart = lengths(pair.spacing) + memory_mark(pair.from_memory), slack = lengths.fine(pair.slack);
  std::string text = std::abs(pair.posts - pair.spacing) < 0.05
                         ? say("{} centre to centre", apart)
                         : say("{0} centre to centre, the posts {1}: {2} off", apart, lengths(pair.posts),
                               lengths.fine(std::abs(pair.posts - pair.spacing)));
  if (pair.spread.threads == 0) {
    text = say("{0}. The holes allow {1}. You set the posts that far apart yourself.", text, slack);
  } else {
    const std::string stray = lengths.fine(pair.spread.worst);
    text = strays_too_far(pair)
               ? say("{0}. The holes allow {1}, but thread make-up can shift the posts {2}: measure first.", text,
                     slack, stray)
               : say("{0}. The holes allow {1}; thread make-up can shift the posts {2}.", text, slack, stray);
  }
  return pair.drop == Drop::binds ? text + " " + say("BINDS.") : text;
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
    if (pair.measured) pairs.back()["measured_mm"] = rounded(*pair.measured);
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

std::string holes_text(const model::Frame& frame, const std::vector<DrillSheet>& sheets, const Lengths& lengths) {
  struct Kind {
    const DrillHole* hole;
    std::vector<std::string> where;  // "P3 and P8 in S1"
  };
  std::vector<Kind> kinds;
  for (const DrillSheet& sheet : sheets) {
    std::vector<bool> seen(sheet.holes.size(), false);
    for (std::size_t i = 0; i < sheet.holes.size(); ++i) {
      if (seen[i]) continue;
      std::vector<std::string> pipes;
      for (std::size_t j = i; j < sheet.holes.size(); ++j) {
        if (seen[j] || !alike(sheet.holes[i], sheet.holes[j])) continue;
        seen[j] = true;
        pipes.push_back(name_of(frame, sheet.holes[j].pipe));
      }
      const auto known =
          std::find_if(kinds.begin(), kinds.end(), [&](const Kind& kind) { return alike(*kind.hole, sheet.holes[i]); });
      const std::string where = say("{0} in {1}", listed(pipes), name_of(frame, sheet.board));
      if (known == kinds.end()) {
        kinds.push_back({&sheet.holes[i], {where}});
      } else {
        known->where.push_back(where);
      }
    }
  }
  std::string out;
  for (const Kind& kind : kinds) {
    const DrillHole& hole = *kind.hole;
    const std::string wider = lengths.fine(hole.clearance) + memory_mark(hole.pipe_from_memory);
    std::string text =
        hole.notch
            ? say("Slots {0} wide for {1}: {2} wider than the pipe", width_of(hole, lengths), listed(kind.where), wider)
            : say("Holes of {0} for {1}: {2} wider than the pipe", width_of(hole, lengths), listed(kind.where), wider);
    if (hole.carrier != model::kNone) {
      text = say("{0}; {1} of board rests on the fitting all round", text,
                 lengths.fine(hole.bearing) + memory_mark(hole.carrier_from_memory));
    }
    out += "  " + wrapped(text + ".", 4) + "\n";
  }
  return out;
}

std::string drops_text(const model::Frame& frame, const std::vector<DrillSheet>& sheets) {
  std::string out;
  std::vector<std::string> measure;
  for (const DrillSheet& sheet : sheets) {
    const std::string board = name_of(frame, sheet.board);
    if (sheet.drop == Drop::binds) {
      out += "  " + wrapped(say("{} BINDS on its posts as drawn (see `dryfit drill`).", board), 4) + "\n";
    }
    if (sheet.drop == Drop::measure_first) measure.push_back(board);
  }
  if (!measure.empty()) {
    out += "  " + wrapped(say("Measure post spacing before you drill {}.", listed(measure)), 4) + "\n";
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
  std::vector<std::pair<std::string, std::vector<std::string>>> told_pairs;  // what holds of them, and of which
  for (const DrillPair* pair : pairs_told(sheet)) {
    const auto pipe = [&](int hole) { return name_of(frame, sheet.holes[at(hole)].pipe); };
    const std::string text = pair_text(*pair, lengths),
                      posts = say("{0} to {1}", pipe(pair->first), pipe(pair->second));
    const auto known =
        std::find_if(told_pairs.begin(), told_pairs.end(), [&](const auto& t) { return t.first == text; });
    if (known == told_pairs.end()) {
      told_pairs.push_back({text, {posts}});
    } else {
      known->second.push_back(posts);
    }
  }
  for (const auto& [text, posts] : told_pairs) {
    out += "  " + wrapped(fmt::format("{}: {}", listed(posts), text), 4) + "\n";
  }
  if (sheet.pairs.size() > kPairsTold) {
    out += "  " + say("and {} more pairs that are no worse (--json lists them all).", sheet.pairs.size() - kPairsTold) +
           "\n";
  }
  const std::vector<const DrillPair*> pairs = pairs_told(sheet);
  const bool said =
      std::any_of(pairs.begin(), pairs.end(), [](const DrillPair* pair) { return strays_too_far(*pair); });
  if (sheet.drop == Drop::measure_first && !said) out += "  " + say("Measure post spacing before you drill.") + "\n";
  for (const std::string& warning : told(sheet.warnings, frame.units)) out += "  ! " + wrapped(warning, 4) + "\n";
  return out;
}

}  // namespace dryfit::cli

#include "cli/check/evidence.hpp"

#include <algorithm>
#include <nlohmann/json.hpp>
#include <numeric>
#include <utility>
#include <vector>

#include "cli/check/cure_report.hpp"
#include "cli/sentences/frame_notes.hpp"
#include "cli/sentences/knot_text.hpp"
#include "cli/sentences/refusal_text.hpp"
#include "cli/words/lengths.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"
#include "model/geometry/solid.hpp"
#include "planner/base/lifting.hpp"
#include "planner/state/lying_board.hpp"

namespace dryfit::cli {
namespace {

/// Overlaps that one sentence tells: of one board, and the same way.
struct Told {
  planner::Overlap first;
  planner::OverlapExtent extent;           ///< the deepest
  model::PartId would_lie = model::kNone;  ///< a board
  bool pierced = false;                    ///< the second one is a board, and pipes go through it without a hole
  std::vector<model::PartId> short_pipes;  ///< the second one is a board, and these in its holes are too short for it
  std::vector<model::PartId> parts;        ///< beside the second one, or on which the board would lie
};

/// How far the parts reach under the board along an axis, mm.
double under_board(const model::Frame& frame, const model::Board& board, const std::vector<model::PartId>& parts,
                   int axis) {
  double lo = board.hi[axis], hi = board.lo[axis];
  for (const model::PartId part : parts) {
    for (const model::Solid& solid : frame.part(part).solids) {
      const model::Bounds bounds = model::bounds_of(solid);
      lo = std::min(lo, std::max(bounds.lo[axis], board.lo[axis]));
      hi = std::max(hi, std::min(bounds.hi[axis], board.hi[axis]));
    }
  }
  return hi - lo;
}

/// Whether the board would lie on these, where it is drawn, about as firmly as on what carries it now: each has its
/// middle under it, and it does not rock on a line through them.
bool would_carry(const model::Frame& frame, const model::Board& board, const std::vector<model::PartId>& parts) {
  constexpr double kShare = 2.0 / 3.0;
  for (int axis = 0; axis < 3; ++axis) {
    if (axis == board.normal) continue;
    const auto is_under = [&](model::PartId part) {
      const double middle = frame.part(part).centre[axis];
      return middle >= board.lo[axis] && middle <= board.hi[axis];
    };
    if (!std::all_of(parts.begin(), parts.end(), is_under)) return false;
    if (under_board(frame, board, parts, axis) < kShare * under_board(frame, board, board.carriers, axis)) return false;
  }
  return true;
}

/// "TOP can't lie on P3 and P8: E1 stands 13/64 in higher. ..."
std::string would_lie_text(const model::Frame& frame, const Told& told, const std::string& by) {
  const model::Board& board = frame.board_of(told.would_lie);
  const std::string name = name_of(frame, board.part);
  const std::string on = listed(labels_of(frame, board.carriers)), parts = listed(labels_of(frame, told.parts));
  std::string word;
  for (const std::string& label : labels_of(frame, told.parts)) word += (word.empty() ? "" : ", ") + label;
  // On one alone the board would tip.
  if (told.parts.size() == 1) {
    return say(
        "{0} can't lie on {1}: {2} is under it too and stands {3} higher. Keep {0} clear of {2}: move it or make "
        "it smaller.",
        name, on, parts, by);
  }
  if (!would_carry(frame, board, told.parts)) {
    return say(
        "{0} can't lie on {1}: {2} are under it too and stand up to {3} higher. Keep {0} clear of them: move it or make "
        "it smaller.",
        name, on, parts, by);
  }
  std::string text = say(
      "{0} can't lie on {1}: {2} are under it too and stand up to {3} higher. Write `rests-on: [{4}]`, or keep {0} clear "
      "of them.",
      name, on, parts, by, word);
  // Which part comes first in `rests-on` decides what `reach` is measured from.
  if (board.holes.empty() && board.given_by[at(board.normal == 0 ? 1 : 0)] == board.carriers.front()) {
    text += " " + say("Its `reach` then counts from the middle of {}.", labels_of(frame, told.parts).front());
  }
  return text;
}

/// A pipe square to the board that goes through its whole thickness: there it is to be drilled.
bool pierces(const model::Frame& frame, const planner::Overlap& overlap) {
  if (overlap.surface != model::kNone || frame.part(overlap.b).board == model::kNone) return false;
  const model::Part& pipe = frame.part(overlap.a);
  const model::Board& board = frame.board_of(overlap.b);
  if (pipe.kind != model::PartKind::pipe || !model::parallel(pipe.ports.front().facing, board.facing)) return false;
  const model::Bounds bounds = model::bounds_of(pipe.solids.front());
  return bounds.lo[board.normal] < board.lo[board.normal] && bounds.hi[board.normal] > board.hi[board.normal];
}

std::string pierced_text(const model::Frame& frame, const Told& told) {
  const std::string board = name_of(frame, told.first.b);
  const std::vector<std::string> pipes = labels_of(frame, told.parts);
  return pipes.size() == 1
             ? say("{0} would go through {1}, which has no hole for it. Name it in the board's `through`, or keep {1} "
                   "clear of it.",
                   pipes.front(), board)
             : say("{0} would go through {1}, which has no holes for them. Name them in the board's `through`, or keep "
                   "{1} clear of them.",
                   listed(pipes), board);
}

/// The pipe in a hole of the board is too short: what is screwed on beyond the board, as seen from what carries it,
/// reaches into it.
struct ShortPipe {
  model::PartId pipe = model::kNone;  ///< kNone: it is not that
  double by = 0.0;                    ///< mm
};
ShortPipe short_pipe(const model::Frame& frame, const planner::Overlap& overlap) {
  if (overlap.surface != model::kNone || frame.part(overlap.b).board == model::kNone) return {};
  const model::Board& board = frame.board_of(overlap.b);
  if (board.carriers.empty()) return {};
  const model::Bounds part = planner::bounds_of_part(frame.part(overlap.a));
  const model::Bounds carrier = planner::bounds_of_part(frame.part(board.carriers.front()));
  const double lo = part.lo[board.normal], hi = part.hi[board.normal];
  const double middle = board.lo[board.normal] + board.hi[board.normal];
  const bool above = lo + hi > middle;
  if (above == (carrier.lo[board.normal] + carrier.hi[board.normal] > middle)) return {};
  for (const model::Hole& hole : board.holes) {
    const bool joined = std::any_of(frame.joints.begin(), frame.joints.end(), [&](const model::Joint& joint) {
      return std::minmax(joint.male, joint.female) == std::minmax(hole.pipe, overlap.a);
    });
    if (joined) return {hole.pipe, above ? board.hi[board.normal] - lo : hi - board.lo[board.normal]};
  }
  return {};
}

std::string short_pipe_text(const model::Frame& frame, const Told& told, const std::string& by) {
  const std::string board = name_of(frame, told.first.b), pipes = listed(labels_of(frame, told.short_pipes));
  const std::string parts = listed(labels_of(frame, told.parts));
  return told.parts.size() == 1
             ? say("{0} reaches {1} into {2}: {3}, which goes through it, is too short. Make it at least that much "
                   "longer.",
                   parts, by, board, pipes)
             : say("{0} reach up to {1} into {2}: {3}, which go through it, are too short. Make them at least that much "
                   "longer.",
                   parts, by, board, pipes);
}

/// The surface that all of them are screwed to, where it keeps them from being moved out of the board; else kNone.
int surface_behind(const model::Frame& frame, const Told& told) {
  int behind = model::kNone;
  for (const model::PartId part : told.parts) {
    const auto screwed = std::find_if(frame.fastenings.begin(), frame.fastenings.end(), [&](const auto& fastening) {
      return fastening.kind == model::Fastening::Kind::flange_to_surface && fastening.part == part &&
             frame.surface(fastening.surface).normal == told.extent.too_far;
    });
    if (screwed == frame.fastenings.end()) return model::kNone;
    if (behind != model::kNone && behind != screwed->surface) return model::kNone;
    behind = screwed->surface;
  }
  return behind;
}

/// How the parts and what they are in come apart.
std::string moved_apart_text(const model::Frame& frame, const Told& told, const std::string& by) {
  const std::string a = name_of(frame, told.first.a), b = name_of(frame, told.first.b);
  const std::string too_far = going(told.extent.too_far), back = going(-told.extent.too_far);
  const std::string parts = listed(labels_of(frame, told.parts));
  if (const int behind = surface_behind(frame, told); behind != model::kNone) {
    const std::string on = the_surface(frame.surface(behind).id);
    return told.parts.size() == 1
               ? say("{0}, on {4}, and {1} are in the same place, and nothing joins them. Move {1} {3} by {2}.", a, b,
                     by, too_far, on)
               : say("{0}, on {4}, are in the same place as {1}, and nothing joins them. Move {1} {3} by {2}.", parts,
                     b, by, too_far, on);
  }
  return told.parts.size() == 1
             ? say("{0} and {1} are in the same place, and nothing joins them: {0} is {2} too far {3}. Move {0} {4}, or "
                   "{1} {3}, by that much.",
                   a, b, by, too_far, back)
             : say("{0} are in the same place as {1}, and nothing joins them: they are up to {2} too far {3}. Move them "
                   "{4}, or {1} {3}, by that much.",
                   parts, b, by, too_far, back);
}

/// "FLT and TOP are in the same place ...": by how much, on which side, and what ends it.
std::string overlap_text(const model::Frame& frame, const Told& told) {
  const Lengths lengths(frame.units);
  const std::string a = name_of(frame, told.first.a), by = lengths.fine(told.extent.depth);
  if (told.first.surface != model::kNone) {
    const model::Surface& surface = frame.surfaces[at(told.first.surface)];
    const std::string from = the_surface(surface.id);
    if (surface.normal == model::kUp) return say("{0} reaches {1} under {2}.", a, by, from);
    if (surface.normal == -model::kUp) return say("{0} reaches {1} above {2}.", a, by, from);
    return say("{0} reaches {1} behind {2}.", a, by, from);
  }
  const std::string b = name_of(frame, told.first.b);
  if (told.extent.depth <= 0.0) {  // only once joints are turned to close the frame
    return say("{0} and {1} are in the same place, and nothing joins them.", a, b);
  }
  if (told.would_lie != model::kNone) return would_lie_text(frame, told, by);
  if (told.pierced) return pierced_text(frame, told);
  if (!told.short_pipes.empty()) return short_pipe_text(frame, told, by);
  std::string text = moved_apart_text(frame, told, by);
  const bool in_plane = frame.part(told.first.b).board != model::kNone &&
                        frame.board_of(told.first.b).normal != told.extent.too_far.axis();
  if (in_plane) text += " " + say("Or make {} smaller there.", b);
  return text;
}

/// Overlaps, those of one board that are told by one sentence together.
std::vector<Told> gathered(const Finding& finding, const model::Frame& frame) {
  std::vector<Told> all;
  for (const planner::Overlap& overlap : finding.overlaps) {
    planner::OverlapExtent extent = planner::extent_of(frame, overlap);
    const ShortPipe too_short = extent.depth > 0.0 ? short_pipe(frame, overlap) : ShortPipe();
    const bool is_short = too_short.pipe != model::kNone;
    if (is_short) extent.depth = too_short.by;
    const model::PartId lies =
        overlap.surface == model::kNone ? planner::would_lie(frame, overlap.a, overlap.b) : model::kNone;
    const bool first_lies = lies != model::kNone && lies == overlap.a, pierced = pierces(frame, overlap);
    const model::PartId part = first_lies ? overlap.b : overlap.a;
    const bool of_board = overlap.surface == model::kNone && extent.depth > 0.0 &&
                          (first_lies || frame.part(overlap.b).board != model::kNone);
    const auto same = std::find_if(all.begin(), all.end(), [&](const Told& told) {
      if (!of_board || told.first.surface != model::kNone || told.would_lie != lies) return false;
      if (lies != model::kNone) return true;
      if (told.pierced || pierced) return told.pierced && pierced && told.first.b == overlap.b;
      if (is_short || !told.short_pipes.empty()) {
        return is_short && !told.short_pipes.empty() && told.first.b == overlap.b;
      }
      return told.first.b == overlap.b && told.extent.too_far == extent.too_far && told.extent.depth > 0.0;
    });
    if (same == all.end()) {
      all.push_back({overlap, extent, lies, pierced, {}, {part}});
      if (is_short) all.back().short_pipes = {too_short.pipe};
      continue;
    }
    same->parts.push_back(part);
    if (is_short) same->short_pipes.push_back(too_short.pipe);
    same->extent.depth = std::max(same->extent.depth, extent.depth);
  }
  return all;
}

std::string overlaps_text(const Finding& finding, const model::Frame& frame) {
  std::string text;
  const std::vector<planner::BareEnd> bare = planner::bare_ends(frame);
  constexpr std::size_t kMost = 8;  // sentences; the first few show what is wrong, --json has them all
  std::size_t number = 0;
  const std::vector<Told> all = gathered(finding, frame);
  for (const Told& told : all) {
    if (++number > kMost && all.size() > kMost + 1) {
      text += "  " + say("and {} more (--json lists them all).", all.size() - kMost) + "\n";
      break;
    }
    const auto left_out = std::find_if(bare.begin(), bare.end(), [&](const planner::BareEnd& end) {
      return std::minmax(end.pipe, end.fitting) == std::minmax(told.first.a, told.first.b);
    });
    const bool joint = told.first.surface == model::kNone && left_out != bare.end();
    text += "  " + wrapped(joint ? bare_end_note(frame, *left_out) : overlap_text(frame, told), 4) + "\n";
  }
  return text;
}

/// Places of the knot's contacts in its list: threads as they stand in the file, then the others. A list for people is
/// read beside the file; nothing is worked out from it.
std::vector<std::size_t> as_in_the_file(const model::Frame& frame, const planner::ContactList& list,
                                        const std::vector<planner::ContactId>& knot) {
  std::vector<std::size_t> order(knot.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto line = [&](std::size_t i) {
    const int joint = list.contact(knot[i]).joint;
    return joint == model::kNone ? std::pair(1, model::SourcePos{}) : std::pair(0, frame.joint(joint).where);
  };
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) { return line(a) < line(b); });
  return order;
}

}  // namespace

void add_evidence(Json& document, const Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  if (!finding.overlaps.empty()) {
    Json overlaps = Json::array();
    for (const planner::Overlap& overlap : finding.overlaps) {
      Json between = Json::array({frame.part(overlap.a).id});
      between.push_back(overlap.surface != model::kNone ? frame.surfaces[at(overlap.surface)].id
                                                        : frame.part(overlap.b).id);
      const planner::OverlapExtent extent = planner::extent_of(frame, overlap);
      overlaps.push_back(
          {{"between", std::move(between)}, {"depth_mm", rounded(extent.depth)}, {"too_far", extent.too_far.name()}});
    }
    document["overlaps"] = std::move(overlaps);
  }
  if (finding.verdict == Verdict::locked) {
    Json knot = Json::array();
    Json reasons = Json::array();
    for (const std::size_t i : as_in_the_file(frame, list, finding.order.knot)) {
      knot.push_back(list.contact(finding.order.knot[i]).id);
      reasons.push_back(
          {{"contact", knot.back()}, {"why", refusal_texts(frame, list, finding.order.knot_refusals[i])}});
    }
    document["knot"] = std::move(knot);
    document["knot_reasons"] = std::move(reasons);
    Json rings = Json::array();
    for (const KnotRing& ring : rings_of(list, finding.order)) {
      rings.push_back({{"contacts", contact_ids(list, ring.contacts)}, {"parts", part_ids(frame, ring.parts)}});
    }
    document["knot_rings"] = std::move(rings);
    if (finding.cures) document["cures"] = cures_json(frame, *finding.cures);
  }
  document["notes"] = finding.notes;
}

std::string evidence_text(const Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  if (!finding.overlaps.empty()) return overlaps_text(finding, frame);
  if (finding.verdict == Verdict::locked) {
    return knot_text(frame, list, finding.order) + (finding.cures ? cures_text(frame, *finding.cures) : std::string());
  }
  return "";
}

}  // namespace dryfit::cli

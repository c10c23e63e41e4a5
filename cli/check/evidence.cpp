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

namespace dryfit::cli {
namespace {

/// "FLT and TOP are in the same place ...": by how much, on which side, and what ends it.
std::string overlap_text(const Finding& finding, const model::Frame& frame) {
  const Lengths lengths(frame.units);
  std::string text;
  const std::vector<planner::BareEnd> bare = planner::bare_ends(frame);
  for (const planner::Overlap& overlap : finding.overlaps) {
    const auto left_out = std::find_if(bare.begin(), bare.end(), [&](const planner::BareEnd& end) {
      return std::minmax(end.pipe, end.fitting) == std::minmax(overlap.a, overlap.b);
    });
    if (overlap.surface == model::kNone && left_out != bare.end()) {
      text += "  " + wrapped(bare_end_note(frame, *left_out), 4) + "\n";
      continue;
    }
    const planner::OverlapExtent extent = planner::extent_of(frame, overlap);
    const std::string a = name_of(frame, overlap.a), by = lengths.fine(extent.depth);
    const std::string told =
        overlap.surface != model::kNone
            ? say("{0} reaches {1} behind {2}.", a, by, the_surface(frame.surfaces[at(overlap.surface)].id))
        : extent.depth <= 0.0  // only once joints are turned to close the frame
            ? say("{0} and {1} are in the same place, and nothing joins them.", a, name_of(frame, overlap.b))
            : say("{0} and {1} are in the same place, and nothing joins them: {0} is {2} too far {3}. Move {0} {4}, or "
                  "{1} {3}, by that much.",
                  a, name_of(frame, overlap.b), by, going(extent.too_far), going(-extent.too_far));
    text += "  " + wrapped(told, 4) + "\n";
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
  if (!finding.overlaps.empty()) return overlap_text(finding, frame);
  if (finding.verdict == Verdict::locked) {
    return knot_text(frame, list, finding.order) + (finding.cures ? cures_text(frame, *finding.cures) : std::string());
  }
  return "";
}

}  // namespace dryfit::cli

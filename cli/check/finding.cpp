#include "cli/check/finding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/check/cure_report.hpp"
#include "cli/io/exit_code.hpp"
#include "cli/sentences/frame_notes.hpp"
#include "cli/sentences/knot_text.hpp"
#include "cli/sentences/refusal_text.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "cli/words/words.hpp"

namespace dryfit::cli {
namespace {

std::string overlap_text(const Finding& finding, const model::Frame& frame) {
  std::string text;
  for (const planner::Overlap& overlap : finding.overlaps) {
    if (overlap.surface != model::kNone) {
      text += "  " +
              say("{0} reaches behind {1}.", name_of(frame, overlap.a),
                  the_surface(frame.surface(overlap.surface).id)) +
              "\n";
    } else {
      text += "  " +
              say("{0} and {1} are in the same place, and nothing joins them.", name_of(frame, overlap.a),
                  name_of(frame, overlap.b)) +
              "\n";
    }
  }
  return text;
}

}  // namespace

Finding find_out(const model::Frame& frame, const planner::ContactList& list) {
  Finding finding;
  // Cures try stock lengths one by one: on a very large frame only `fit` itself looks for them.
  constexpr std::size_t kLarge = 2000;
  planner::FitOptions options;
  options.cures = frame.parts.size() < kLarge;
  finding.fit = planner::find_fit(frame, options);
  finding.notes = notes_on(frame, list);
  if (finding.fit.state == planner::FitState::open) {
    finding.notes.insert(
        finding.notes.begin(),
        say("A closure is open (see `dryfit fit`): what is said here holds for the frame as placed, once that closure is "
            "mended."));
  }
  finding.overlaps = planner::overlaps_of(frame, list);
  if (!finding.overlaps.empty()) {
    finding.verdict = "overlapping";
    finding.code = kNo;
    return finding;
  }
  finding.order = planner::find_order(frame, list);
  finding.verdict = finding.order.buildable ? "buildable" : "locked";
  finding.code = finding.order.buildable ? kYes : kNo;
  return finding;
}

void add_evidence(Json& document, const Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  if (!finding.overlaps.empty()) {
    Json overlaps = Json::array();
    for (const planner::Overlap& overlap : finding.overlaps) {
      Json between = Json::array({frame.part(overlap.a).id});
      between.push_back(overlap.surface != model::kNone ? frame.surface(overlap.surface).id
                                                        : frame.part(overlap.b).id);
      overlaps.push_back({{"between", std::move(between)}});
    }
    document["overlaps"] = std::move(overlaps);
  }
  if (finding.verdict == "locked") {
    document["knot"] = contact_ids(list, finding.order.knot);
    Json reasons = Json::array();
    for (std::size_t i = 0; i < finding.order.knot.size(); ++i) {
      reasons.push_back(
          {{"contact", document["knot"][i]}, {"why", refusal_texts(frame, list, finding.order.knot_refusals[i])}});
    }
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
  if (finding.verdict == "locked") {
    return knot_text(frame, list, finding.order) + (finding.cures ? cures_text(frame, *finding.cures) : std::string());
  }
  return "";
}

}  // namespace dryfit::cli

#include "cli/finding.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/exit_code.hpp"
#include "cli/frame_notes.hpp"
#include "cli/refusal_text.hpp"
#include "cli/words.hpp"

namespace dryfit::cli {
namespace {

std::string overlap_text(const Finding& finding, const model::Frame& frame) {
  std::string text;
  for (const planner::Overlap& overlap : finding.overlaps) {
    if (overlap.surface != model::kNone) {
      text += fmt::format("  {} reaches behind the {}.\n", name_of(frame, overlap.a),
                          frame.surfaces[static_cast<std::size_t>(overlap.surface)].id);
    } else {
      text += fmt::format("  {} and {} are in the same place, and nothing joins them.\n", name_of(frame, overlap.a),
                          name_of(frame, overlap.b));
    }
  }
  return text;
}

std::string knot_text(const Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  std::vector<model::PartId> parts;
  std::vector<std::string> ids;
  for (const planner::ContactId id : finding.order.knot) {
    const planner::Contact& contact = list.contacts[static_cast<std::size_t>(id)];
    ids.push_back(contact.id);
    for (const model::PartId part : {contact.a, contact.b}) {
      if (part != model::kRoom) parts.push_back(part);
    }
  }
  std::sort(parts.begin(), parts.end());
  std::string text = fmt::format(
      "Whatever is made first, {} {} left that hold each other: none of them can be the last one made.\n"
      "  {}\n  Parts: {}\n  Why, joint by joint:\n",
      counted(static_cast<long long>(ids.size()), "joint"), ids.size() == 1 ? "is" : "are", wrapped(listed(ids), 2),
      wrapped(listed(labels_of(frame, parts)), 9));
  // A big knot repeats itself; the first few joints tell the story and --json has them all.
  constexpr std::size_t kMostExplained = 6;
  for (std::size_t i = 0; i < ids.size() && i < kMostExplained; ++i) {
    const auto reasons = refusal_texts(frame, list, finding.order.knot_refusals[i]);
    text += fmt::format("    {}: {}.\n", ids[i], wrapped(listed(reasons, "and"), 6));
  }
  if (ids.size() > kMostExplained)
    text += fmt::format("    and {} more, all listed by --json.\n", ids.size() - kMostExplained);
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
        "A closure is open (see `dryfit fit`): what is said here holds for the frame as placed, once that "
        "closure is mended.");
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
      Json between = Json::array({frame.parts[static_cast<std::size_t>(overlap.a)].id});
      between.push_back(overlap.surface != model::kNone ? frame.surfaces[static_cast<std::size_t>(overlap.surface)].id
                                                        : frame.parts[static_cast<std::size_t>(overlap.b)].id);
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
  }
  document["notes"] = finding.notes;
}

std::string evidence_text(const Finding& finding, const model::Frame& frame, const planner::ContactList& list) {
  if (!finding.overlaps.empty()) return overlap_text(finding, frame);
  if (finding.verdict == "locked") return knot_text(finding, frame, list);
  return "";
}

}  // namespace dryfit::cli

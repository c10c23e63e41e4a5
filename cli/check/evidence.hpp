#pragma once
/// What a verdict rests on, as JSON and in words.
#include <string>

#include "cli/check/finding.hpp"
#include "cli/json/json_answer.hpp"

namespace dryfit::cli {

/// Adds `overlaps`, `knot` and `cures` to a document, as far as there are any, and `notes`.
void add_evidence(Json& document, const Finding& finding, const model::Frame& frame, const planner::ContactList& list);

/// The evidence for a "no", in whole lines for people.
[[nodiscard]] std::string evidence_text(const Finding& finding, const model::Frame& frame,
                                        const planner::ContactList& list);

}  // namespace dryfit::cli

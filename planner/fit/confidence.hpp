#pragma once
/// Which numbers of a placed frame rest on table rows "from memory", which no published source confirms. What the owner
/// measured is sure, whatever the number is; a part of which only one dimension was measured is unsure in the others.
#include <string>
#include <vector>

#include "planner/fit/fit_equations.hpp"

namespace dryfit::planner {

/// Where the part's ports lie from one another: centre-to-end, length, height. O(ports).
[[nodiscard]] bool reach_from_memory(const model::Frame& frame, model::PartId part);
/// The diameter of the part's arms; of a pipe: its outside diameter.
[[nodiscard]] bool band_from_memory(const model::Frame& frame, model::PartId part);
/// The engaged length of a joint, as the frame makes it up.
[[nodiscard]] bool engagement_from_memory(const model::Frame& frame, int joint);
/// A length made up of these joints and the parts between them.
[[nodiscard]] bool rests_on_memory(const model::Frame& frame, const std::vector<TurnTerm>& terms);

/// What a builder measures to be sure: the length of couplings of 3/4 in.
struct WorthMeasuring {
  std::string size;  ///< nominal: "3/4"
  model::PartKind kind = model::PartKind::coupling;
  const char* what = "";  ///< "length", "height", ...: a message of the catalogues
};
/// Sorted, each once; only what `frame` uses.
[[nodiscard]] std::vector<WorthMeasuring> worth_measuring(const model::Frame& frame);
/// The same, of the fittings alone whose dimensions a closure of the frame hangs on: the cap on top of a post is none.
[[nodiscard]] std::vector<WorthMeasuring> worth_measuring_for_fit(const model::Frame& frame);
/// Of one kind of fitting.
[[nodiscard]] WorthMeasuring worth_measuring(int size, model::PartKind kind);

}  // namespace dryfit::planner

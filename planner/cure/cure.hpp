#pragma once
/// Cures: the smallest changes of a design that make a locked frame buildable, or a trap of a buildable one cheap. None
/// is told that was not read again, planned again, and its order accepted by the independent judge.
#include <string>
#include <string_view>
#include <vector>

#include "planner/base/foreman.hpp"
#include "planner/cure/cure_edit.hpp"

namespace dryfit::planner {

struct DesignCure {
  std::vector<CureChange> changes;  ///< one, or several that are all needed
  /// What it costs the builder, counted in things to buy and cuts to make; see cost_of.
  int cost = 0;
  bool weaker = false;  ///< shares threads: a named, weaker choice; such cures come last
  std::string text;     ///< the frame file with the changes
  int steps = 0;        ///< of the order that was found for it
};

/// Price of one part, before and after.
struct TrapCure {
  std::string part;  ///< label
  int before = 0;
  int after = 0;  ///< proven to be at most this
  DesignCure cure;
};

/// Bounds of the work, as counts of designs that are tried.
struct CureLimits {
  int tries = 160;                ///< single changes planned again
  int most = 4;                   ///< cures told of each kind
  int most_together = 12;         ///< changes in one cure
  std::size_t largest = 1500;     ///< frames of more contacts are not tried
  long long price_budget = 2000;  ///< undo moves asked for, per trap and design
  Foreman* foreman = nullptr;     ///< told of designs; none is tried any more once he ends the work
};

/// One slot, one wider hole, or a right-angle driver: 1, nothing to buy for the frame. A coupling: 2, and a pipe to cut
/// and thread: 3. A union: dearer, and the same work: 4. A flange on a surface: an elbow, a piece, a flange, screws,
/// and a pipe to cut: 6. Threads shared: 2, and last. Common practice, no source.
[[nodiscard]] int cost_of(CureKind kind);

/// Cures for a locked frame, read from `text`, of which `knot` is left: single changes first; where none is enough,
/// sets of changes of which each is needed. Cheapest first, weaker ones last. Deterministic.
[[nodiscard]] std::vector<DesignCure> cures_for_knot(const model::Frame& frame, const ContactList& list,
                                                     std::string_view text, const std::vector<ContactId>& knot,
                                                     const CureLimits& limits = {});

/// Single changes that lower the price of forgetting the part `label` below `before`, the least that it is known to be.
/// `near`: contacts of the part and of what comes off for it. The lowest price first, then the cheapest. Shared threads
/// are not among them: they weaken the frame for good; nor wider holes, in which all will be loose for good.
[[nodiscard]] std::vector<TrapCure> cures_for_trap(const model::Frame& frame, const ContactList& list,
                                                   std::string_view text, const std::string& label, int before,
                                                   const std::vector<ContactId>& near, const CureLimits& limits = {});

}  // namespace dryfit::planner

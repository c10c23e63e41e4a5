#pragma once
/// What is done before the first joint and after the last one: only what the frame has a use for.
#include <string>
#include <utility>
#include <vector>

#include "planner/base/remark.hpp"
#include "planner/order/order.hpp"

namespace dryfit::planner {

/// Trade practice (common practice, no source); the cautions are the usual ones.
enum class Chore { degrease, ream, mark, drill, finish, dry_fit, level, fasten_check, tightness };
[[nodiscard]] const char* word_for(Chore chore);

struct ChoreLine {
  Chore chore = Chore::mark;
  std::vector<PartId> parts;  ///< what it is about; empty: the whole frame
  Remark text;                ///< one or two sentences, labels included
  std::vector<Remark> cautions;
};

struct Preparation {
  std::vector<ChoreLine> before;  ///< in the order in which they are done
  std::vector<ChoreLine> after;
  /// What is done right before a step, by the step's number: boards are drilled once the posts they go over stand, are
  /// joined to one another or to the room, and can be measured.
  std::vector<std::pair<int, ChoreLine>> at_step;
};

/// O(parts + contacts of the steps).
[[nodiscard]] Preparation preparation_of(const model::Frame& frame, const ContactList& list,
                                         const std::vector<Step>& steps);

}  // namespace dryfit::planner

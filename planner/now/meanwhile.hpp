#pragma once
/// Something is missing: what can be made without it meanwhile, so that nothing is locked out when it comes.
#include <vector>

#include "planner/now/way_on.hpp"

namespace dryfit::planner {

struct Meanwhile {
  bool possible = false;    ///< what is built can be completed as it is, and the frame can be built
  std::vector<Step> now;    ///< from what is built on, without the missing parts; nothing more can be made without them
  std::vector<Step> later;  ///< to the finished frame; the first of them needs what is missing
  Bounded left;             ///< moves that are left for when the missing parts are there
  Bounded effort;           ///< of all steps, seconds of easy work
};

/// `missing`: all contacts of the missing parts, none of them made in `built`. The missing parts come as late as they
/// can: first as few moves as can be are left for when they are there, then the steps are cheap. All steps are judged
/// by replay from `built` on.
[[nodiscard]] Meanwhile meanwhile(const model::Frame& frame, const ContactList& list, const std::vector<char>& built,
                                  const std::vector<ContactId>& missing, const NowOptions& options = {});

}  // namespace dryfit::planner

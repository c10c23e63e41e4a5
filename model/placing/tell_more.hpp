#pragma once
/// What else is wrong with a draft in which mistakes have been found already.
#include <string>

#include "model/frame/faults.hpp"
#include "model/reading/draft.hpp"

namespace dryfit::model {

/// Adds to `faults` what would only be found once those that are told are mended, as far as it is certain: runs and
/// boards that nothing gives a place, and what shows when everything is placed that no mistake touches. Nothing that
/// rests on a guess about what was meant. O(n log n).
void tell_more(const Draft& as_written, const std::string& file, Faults& faults);

}  // namespace dryfit::model

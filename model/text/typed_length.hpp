#pragma once
/// Lengths as a person types them into a frame file.
#include <string>

#include "model/frame/frame.hpp"

namespace dryfit::model {

/// A bare number in `units`: "4-5/8", "117.5"; inches that are no 64ths of one as "117.48 mm".
[[nodiscard]] std::string typed_length(double mm, Units units);

}  // namespace dryfit::model

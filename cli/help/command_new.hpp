#pragma once
/// dryfit new: a frame file to start from, every line explained.
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_new(OptionList& list);

}  // namespace dryfit::cli

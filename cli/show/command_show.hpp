#pragma once
/// dryfit show FRAME -o FILE: a picture of the frame, whole or as of a step.
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_show(OptionList& list);

}  // namespace dryfit::cli

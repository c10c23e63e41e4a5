#pragma once
/// dryfit pocket: all of the program in one HTML file, with a frame in it.
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_pocket(OptionList& list);

}  // namespace dryfit::cli

#pragma once
/// `dryfit change`: what a design change takes off, what it costs, until when it is free.
#include "cli/call/command.hpp"

namespace dryfit::cli {
[[nodiscard]] Job set_up_change(OptionList& list);
}  // namespace dryfit::cli

#pragma once
/// dryfit explain: one rule of legality in words, with a small drawing.
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_explain(OptionList& list);

}  // namespace dryfit::cli

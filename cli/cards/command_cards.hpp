#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_cards(OptionList& list);

}  // namespace dryfit::cli

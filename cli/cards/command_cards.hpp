#pragma once
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_cards(CLI::App& app);

}  // namespace dryfit::cli

#pragma once
/// dryfit manual (not in the help text): prints or writes what is installed beside the program.
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_manual(CLI::App& app);

}  // namespace dryfit::cli

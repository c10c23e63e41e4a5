#pragma once
/// dryfit manual (not in the help text): prints or writes what is installed beside the program.
#include <span>

#include "cli/call/command.hpp"

namespace dryfit::cli {

/// `table`: the commands that the pages are about; must outlive the job.
[[nodiscard]] Job set_up_manual(OptionList& list, std::span<const Command> table);

}  // namespace dryfit::cli

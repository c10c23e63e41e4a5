#pragma once
/// dryfit edit: small changes in the text of a frame file, as a tap on a page or a line at a terminal makes them.
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_edit(OptionList& list);

}  // namespace dryfit::cli

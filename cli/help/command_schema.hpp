#pragma once
/// dryfit schema: the JSON Schema of the frame file or of an answer, for editors and for programs that read answers.
#include "cli/call/command.hpp"

namespace dryfit::cli {

[[nodiscard]] Job set_up_schema(OptionList& list);

}  // namespace dryfit::cli

#pragma once
/// A run once more with all that branches off it.
#include <string>

#include "cli/edit/ends.hpp"

namespace dryfit::cli {

/// As run_copied_to, and with the run the runs that begin at its parts, at theirs and so on, and the boards that lie on
/// nothing else. A branch that ended on what is not copied ends on what its twin reaches, or openly; one whose place on
/// the copy is taken is left out. Throws UsageError or std::invalid_argument.
[[nodiscard]] EditMade run_copied_with_all(const std::string& text, const std::string& name, const std::string& run,
                                           const std::string& place, bool mirror);

}  // namespace dryfit::cli

#pragma once
/// A fitting put into a pipe, and parts taken off with what hangs on them.
#include <string>

#include "cli/edit/ends.hpp"

namespace dryfit::cli {

/// `given` is "P3=union" or "P3=tee: left": the pipe becomes two of stock lengths that come nearest to its length with
/// the fitting between, as even as they can be; "P3@4=union" says the length of the first, "P3@24+12+6=coupling" those
/// of all, with a fitting between each two. Boards stay on the piece that they are on. Throws UsageError.
[[nodiscard]] EditMade fitting_put_in(const std::string& text, const std::string& name, const std::string& given);

/// A part or board and all that hangs on it. What only the gone parts placed on its surface says from now on where it
/// stands. Throws UsageError or std::invalid_argument.
[[nodiscard]] EditMade taken_off_with_all(const std::string& text, const std::string& name, const std::string& label);

}  // namespace dryfit::cli

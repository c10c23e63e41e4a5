#pragma once
/// Markup, styles and scripts of the pages: files of their own, built into the program.
#include <map>
#include <string>
#include <string_view>

namespace dryfit::cli {

/// A file as the build embedded it, by its name without folders: "bench.css". Throws std::logic_error when there is
/// none of that name.
[[nodiscard]] std::string_view page_file(std::string_view name);

/// The text with every @WORD@ that `fields` knows in its place; what was filled in is not looked at again.
[[nodiscard]] std::string filled_in(std::string_view text, const std::map<std::string, std::string>& fields);

}  // namespace dryfit::cli

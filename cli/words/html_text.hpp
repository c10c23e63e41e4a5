#pragma once
/// Text as it stands in an HTML page.
#include <string>
#include <string_view>

namespace dryfit::cli {

/// With what HTML would read as markup written as character references, in text and in quoted attributes.
[[nodiscard]] std::string escaped(std::string_view text);

}  // namespace dryfit::cli

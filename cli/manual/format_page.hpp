#pragma once
/// The reference of the frame file as a Markdown page, written from its schema.
#include <string>

namespace dryfit::cli {

[[nodiscard]] std::string format_page();

}  // namespace dryfit::cli

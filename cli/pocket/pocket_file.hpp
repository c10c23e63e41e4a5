#pragma once
/// The page of all of dryfit as a file, and how a frame is put into it.
#include <string>
#include <string_view>

namespace dryfit::cli {

/// Where the page is: DRYFIT_POCKET of the environment, else where it is installed beside the program, else where the
/// build leaves it; "" where it is nowhere.
[[nodiscard]] std::string pocket_file();

/// The page with that frame in it, which it opens first. Whatever the text holds, it stays text. Throws UsageError when
/// `page` is no such page.
[[nodiscard]] std::string pocket_with(std::string page, std::string_view name, std::string_view text);

}  // namespace dryfit::cli

#pragma once
/// The style and the script of the bench page.

namespace dryfit::cli {

[[nodiscard]] const char* bench_style();
[[nodiscard]] const char* bench_script();

}  // namespace dryfit::cli

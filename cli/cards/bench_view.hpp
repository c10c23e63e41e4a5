#pragma once
/// The view on the bench page that is turned by finger, mouse or keys.
namespace dryfit::cli {

/// The script that draws the bodies of bench_solids.hpp with WebGL; does nothing where there is none.
[[nodiscard]] const char* bench_view_script();

}  // namespace dryfit::cli

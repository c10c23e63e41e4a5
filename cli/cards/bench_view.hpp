#pragma once
/// The view on the bench page that is turned by finger, mouse or keys.
#include <string>

namespace dryfit::cli {

/// The library that the view is drawn with: three.js as Debian packs it, with its licence in a comment before it.
[[nodiscard]] std::string bench_view_library();
/// The script that draws the bodies of bench_solids.hpp with it; does nothing where a browser has no WebGL.
[[nodiscard]] const char* bench_view_script();

}  // namespace dryfit::cli

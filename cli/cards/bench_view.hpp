#pragma once
/// The view on the bench page that is turned by finger, mouse or keys: drawn by cli/pocket/page/view.mjs out of the
/// bodies of bench_solids.hpp; it does nothing where a browser has no WebGL.
#include <string>

namespace dryfit::cli {

/// The library that the view is drawn with: three.js as Debian packs it, with its licence in a comment before it.
/// Throws DrawError where the program does not hold it.
[[nodiscard]] std::string bench_view_library();

}  // namespace dryfit::cli

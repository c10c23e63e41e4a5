#pragma once
/// The view on the bench page that is turned by finger, mouse or keys: drawn by cli/pocket/page/view.mjs out of the
/// bodies of bench_solids.hpp; it does nothing where a browser has no WebGL.
#include <string>

namespace dryfit::cli {

/// The library that the view is drawn with: three.js as Debian has it, packed by gzip and written in base64.
/// Throws DrawError where the program does not hold it.
[[nodiscard]] std::string bench_view_library();
/// Its licence, which goes into every page beside it.
[[nodiscard]] std::string bench_view_licence();

}  // namespace dryfit::cli

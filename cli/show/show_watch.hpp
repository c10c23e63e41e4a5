#pragma once
/// `show --watch`: one picture and one verdict that keep up with a frame file while it is edited.
#include "cli/io/streams.hpp"
#include "cli/show/shown_picture.hpp"

namespace dryfit::cli {

/// Checks and draws now, and again after every save, until SIGINT or SIGTERM; then returns kYes. One line per check on
/// `out` (with --json one document), faults on `err`. A frame that cannot be read or drawn leaves the picture as it
/// was. Throws UsageError when the call is wrong, or the first picture cannot be written.
[[nodiscard]] int watch_frame(const ShowOptions& options, const Streams& streams);

}  // namespace dryfit::cli

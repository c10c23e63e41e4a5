#pragma once
/// Writing a file whole or not at all.
#include <string>
#include <string_view>

namespace dryfit::cli {

/// Writes the bytes beside `path`, forces them to the disk and renames them into place, so that whatever happens
/// (disk full, kill, power cut) `path` holds either the old bytes or all of the new ones. SIGINT, SIGTERM and SIGHUP
/// wait until the write is over. A symbolic link stays and what it leads to is replaced, or made; something that is no
/// regular file (a device, a named pipe) is written directly. A file that this run has read (cli/io/inputs.hpp) is
/// refused. Throws UsageError with the path and the reason; nothing is left behind then.
void write_file(const std::string& path, std::string_view bytes);

}  // namespace dryfit::cli

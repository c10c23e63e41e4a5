#pragma once
/// Reading a file named on the command line.
#include <cstddef>
#include <iosfwd>
#include <string>

namespace dryfit::cli {

/// No frame file and no list of steps comes near this; a device that never ends does.
inline constexpr std::size_t kLargestInput = std::size_t{16} << 20U;

/// The bytes of the file, or of `in` when the name is "-". Throws UsageError that names the file and the reason
/// (missing, no permission, a directory, over kLargestInput).
[[nodiscard]] std::string read_text(const std::string& name, std::istream& in);

/// What messages put before a line number: the file, or "standard input" for "-".
[[nodiscard]] std::string plain_name(const std::string& name);

/// The same within a sentence, a file in quotes.
[[nodiscard]] std::string shown_name(const std::string& name);

}  // namespace dryfit::cli

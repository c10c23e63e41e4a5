#pragma once
/// The files that a run of the program has read: no answer is written over any of them.
#include <string>

namespace dryfit::cli {

/// A new run begins: nothing has been read yet.
void forget_inputs();
/// The file of that name has been read.
void note_input(const std::string& path);
/// True when the path leads to a file that has been read, by whatever name or link.
[[nodiscard]] bool is_input(const std::string& path);

}  // namespace dryfit::cli

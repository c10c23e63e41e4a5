#include "cli/io/inputs.hpp"

#include <sys/stat.h>

#include <algorithm>
#include <vector>

namespace dryfit::cli {
namespace {

/// By name, not by number: an editor that saves puts another file in the place of the one that was read.
std::vector<std::string>& names() {
  static std::vector<std::string> read;
  return read;
}

}  // namespace

void forget_inputs() { names().clear(); }

void note_input(const std::string& path) {
  if (std::find(names().begin(), names().end(), path) == names().end()) names().push_back(path);
}

bool is_input(const std::string& path) {
  struct stat to {};
  if (::stat(path.c_str(), &to) != 0 || !S_ISREG(to.st_mode)) return false;
  return std::any_of(names().begin(), names().end(), [&](const std::string& name) {
    struct stat read {};
    return ::stat(name.c_str(), &read) == 0 && read.st_dev == to.st_dev && read.st_ino == to.st_ino;
  });
}

}  // namespace dryfit::cli

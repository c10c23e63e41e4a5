/// What file_watch.hpp promises, where there is no system that watches files.
#include <fmt/format.h>

#include "cli/io/file_watch.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

FileWatch::FileWatch(std::string path) : path_(std::move(path)), inotify_(-1) {
  throw UsageError(say("cannot watch '{}': files are watched by the installed program alone", path_));
}
FileWatch::~FileWatch() = default;
bool FileWatch::wait() { return false; }

EndQuietly::EndQuietly() = default;
EndQuietly::~EndQuietly() = default;

}  // namespace dryfit::cli

#include "cli/io/atomic_file.hpp"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <climits>
#include <csignal>
#include <cstring>

#include "cli/io/inputs.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

[[noreturn]] void cannot_write(const std::string& path, int error) {
  throw UsageError(say("cannot write '{}': {}", path, std::strerror(error)));
}

/// Holds back the signals that end a program while a file is half written; they take effect afterwards.
class SignalsHeld {
 public:
  SignalsHeld() {
    sigset_t held;
    sigemptyset(&held);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) sigaddset(&held, signal);
    pthread_sigmask(SIG_BLOCK, &held, &before_);
  }
  ~SignalsHeld() { pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
  SignalsHeld(const SignalsHeld&) = delete;
  SignalsHeld& operator=(const SignalsHeld&) = delete;

 private:
  sigset_t before_{};
};

/// 0, or the error number.
int write_all(int file, std::string_view bytes) {
  while (!bytes.empty()) {
    const ssize_t done = ::write(file, bytes.data(), bytes.size());
    if (done < 0 && errno == EINTR) continue;
    if (done < 0) return errno;
    bytes.remove_prefix(at(done));
  }
  return 0;
}

void write_directly(const std::string& path, std::string_view bytes) {
  const int file = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (file < 0) cannot_write(path, errno);
  const int error = write_all(file, bytes);
  if (::close(file) != 0 && error == 0) cannot_write(path, errno);
  if (error != 0) cannot_write(path, error);
}

std::string folder_of(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  return slash == std::string::npos ? "." : slash == 0 ? "/" : path.substr(0, slash);
}

/// Where the bytes really go: the end of a row of links, whether there is a file yet or not, or the path itself.
std::string resolved(const std::string& path) {
  std::string target = path;
  // As many links as the system follows; a ring of them was told when the file was looked at.
  for (int links = 0; links < 40; ++links) {
    std::array<char, PATH_MAX> next{};
    const ssize_t length = ::readlink(target.c_str(), next.data(), next.size());
    if (length <= 0) break;
    const std::string_view to(next.data(), at(length));
    target = to.front() == '/' ? std::string(to) : folder_of(target) + "/" + std::string(to);
  }
  return target;
}

mode_t usual_mode() {
  const mode_t mask = ::umask(0);
  ::umask(mask);
  return static_cast<mode_t>(0666) & ~mask;
}

}  // namespace

void write_file(const std::string& path, std::string_view bytes) {
  if (is_input(path)) {
    throw UsageError(say("'{}' is not written over: it is a file that this answer was read from", path));
  }
  const SignalsHeld held;
  struct stat old {};
  const bool exists = ::stat(path.c_str(), &old) == 0;
  if (!exists && errno != ENOENT) cannot_write(path, errno);  // a ring of links, a folder that is none
  if (exists && S_ISDIR(old.st_mode)) cannot_write(path, EISDIR);
  if (exists && !S_ISREG(old.st_mode)) return write_directly(path, bytes);
  // A file that its owner made read-only stays as it is, although a rename could replace it.
  if (exists && ::access(path.c_str(), W_OK) != 0) cannot_write(path, errno);

  const std::string target = resolved(path);
  const std::string folder = folder_of(target);
  std::string beside = folder + "/.dryfit-XXXXXX";
  const int file = ::mkostemp(beside.data(), O_CLOEXEC);
  if (file < 0) cannot_write(path, errno);
  int error = write_all(file, bytes);
  if (error == 0 && ::fchmod(file, exists ? old.st_mode & static_cast<mode_t>(07777) : usual_mode()) != 0)
    error = errno;
  if (error == 0 && ::fsync(file) != 0) error = errno;
  if (::close(file) != 0 && error == 0) error = errno;
  if (error == 0 && ::rename(beside.c_str(), target.c_str()) != 0) error = errno;
  if (error != 0) {
    ::unlink(beside.c_str());
    cannot_write(path, error);
  }
  // The new name must be on the disk too; a file system that cannot do this has still renamed.
  const int directory = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (directory >= 0) {
    ::fsync(directory);
    ::close(directory);
  }
}

}  // namespace dryfit::cli

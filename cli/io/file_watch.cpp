#include "cli/io/file_watch.hpp"

#include <fmt/format.h>
#include <poll.h>
#include <sys/inotify.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <climits>
#include <csignal>
#include <cstring>

#include "cli/io/exit_code.hpp"
#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using namespace std::chrono_literals;
using Clock = std::chrono::steady_clock;

/// A save is over when nothing more has come for so long; one that has been begun gets longer.
constexpr auto kQuiet = 60ms;
constexpr auto kQuietUnfinished = 500ms;
/// A file that is written to all the time is looked at nevertheless.
constexpr auto kLongest = 2s;

constexpr std::uint32_t kBegun = IN_MODIFY | IN_CREATE | IN_DELETE | IN_MOVED_FROM;
constexpr std::uint32_t kFinished = IN_CLOSE_WRITE | IN_MOVED_TO;
constexpr std::uint32_t kFolderGone = IN_DELETE_SELF | IN_MOVE_SELF | IN_UNMOUNT;

volatile std::sig_atomic_t waiting = 0;
volatile std::sig_atomic_t told_to_end = 0;
std::array<struct sigaction, 3> handled_before{};
constexpr std::array<int, 3> kSignals{SIGINT, SIGTERM, SIGHUP};

extern "C" void end_quietly(int) {
  if (waiting == 0) ::_exit(kYes);
  told_to_end = 1;
}

sigset_t end_signals() {
  sigset_t set;
  sigemptyset(&set);
  for (const int signal : kSignals) sigaddset(&set, signal);
  return set;
}

/// Lets the signals through within poll() alone, so that none comes between looking and waiting.
class Wait {
 public:
  Wait() {
    const sigset_t held = end_signals();
    ::sigprocmask(SIG_BLOCK, &held, &before_);
    waiting = 1;
  }
  ~Wait() {
    waiting = 0;
    ::sigprocmask(SIG_SETMASK, &before_, nullptr);
  }
  Wait(const Wait&) = delete;
  Wait& operator=(const Wait&) = delete;

  /// True when there is something to read; false when the time is over or the program is to end.
  bool poll(int descriptor, const Clock::duration* time) const {
    pollfd file{descriptor, POLLIN, 0};
    timespec left{};
    if (time != nullptr) {
      const auto ns = std::max(std::chrono::nanoseconds(*time), std::chrono::nanoseconds(0)).count();
      left = {static_cast<time_t>(ns / 1'000'000'000), static_cast<long>(ns % 1'000'000'000)};
    }
    return ::ppoll(&file, 1, time != nullptr ? &left : nullptr, &before_) > 0;
  }

 private:
  sigset_t before_{};
};

[[noreturn]] void cannot_watch(const std::string& path, int error) {
  // In the system's words these two would be a full disk and too many files.
  const std::string why = error == ENOSPC   ? say("the system allows no more watches (fs.inotify.max_user_watches)")
                          : error == EMFILE ? say("the system allows no more watchers (fs.inotify.max_user_instances)")
                                            : std::string(std::strerror(error));
  throw UsageError(say("cannot watch '{}': {}", path, why));
}

[[noreturn]] void folder_gone(const std::string& path) {
  throw UsageError(say("the folder of '{}' is gone or has another name: nothing is left to watch", path));
}

std::pair<std::string, std::string> folder_and_name(const std::string& path) {
  const std::size_t slash = path.rfind('/');
  if (slash == std::string::npos) return {".", path};
  return {slash == 0 ? "/" : path.substr(0, slash), path.substr(slash + 1)};
}

}  // namespace

FileWatch::FileWatch(std::string path) : path_(std::move(path)), inotify_(::inotify_init1(IN_NONBLOCK | IN_CLOEXEC)) {
  if (inotify_ < 0) cannot_watch(path_, errno);
  try {
    watch_all();
  } catch (...) {
    ::close(inotify_);
    throw;
  }
}

FileWatch::~FileWatch() { ::close(inotify_); }

/// The file's own name, and every link on the way to the bytes.
void FileWatch::watch_all() {
  names_.clear();
  std::string path = path_;
  for (int links = 0; links < 40; ++links) {
    add(path);
    std::array<char, PATH_MAX> target{};
    const ssize_t length = ::readlink(path.c_str(), target.data(), target.size());
    if (length <= 0) return;
    const std::string next(target.data(), dryfit::at(length));
    path = next.front() == '/' ? next : fmt::format("{}/{}", folder_and_name(path).first, next);
  }
}

void FileWatch::add(const std::string& path) {
  const auto [folder, name] = folder_and_name(path);
  const int watch =
      ::inotify_add_watch(inotify_, folder.c_str(), kBegun | kFinished | IN_ATTRIB | kFolderGone | IN_ONLYDIR);
  if (watch < 0 && names_.empty() && own_folder_ >= 0 && errno == ENOENT) folder_gone(path_);
  if (watch < 0 && names_.empty()) cannot_watch(path_, errno);
  if (watch < 0) return;  // a link to a folder that is not there
  if (names_.empty()) own_folder_ = watch;
  names_.emplace_back(watch, name);
}

bool FileWatch::take() {
  bool ours = false;
  alignas(inotify_event) std::array<char, 16384> block{};
  for (;;) {
    const ssize_t got = ::read(inotify_, block.data(), block.size());
    if (got < 0 && errno == EINTR) continue;
    if (got <= 0) return ours;
    for (std::size_t at = 0; at < dryfit::at(got);) {
      inotify_event event{};
      std::memcpy(&event, block.data() + at, sizeof event);
      const char* name = block.data() + at + sizeof event;
      at += sizeof event + event.len;
      if ((event.mask & kFolderGone) != 0 && event.wd == own_folder_) {
        folder_gone(path_);
      }
      const bool lost = (event.mask & IN_Q_OVERFLOW) != 0;  // too much happened at once: it may have been ours
      const bool named = event.len > 0 && std::find(names_.begin(), names_.end(),
                                                    std::pair(event.wd, std::string(name))) != names_.end();
      if (!lost && !named) continue;
      ours = true;
      if ((event.mask & kBegun) != 0) unfinished_ = true;
      if ((event.mask & kFinished) != 0) unfinished_ = false;
    }
  }
}

bool FileWatch::wait() {
  const auto before = names_;
  watch_all();
  if (names_ != before) return true;  // links lead elsewhere by now, where nobody was looking yet
  unfinished_ = false;
  const Wait wait;
  while (told_to_end == 0 && !take()) static_cast<void>(wait.poll(inotify_, nullptr));
  const Clock::time_point end = Clock::now() + kLongest;
  while (told_to_end == 0) {
    const Clock::duration quiet = std::min<Clock::duration>(
        unfinished_ ? Clock::duration(kQuietUnfinished) : Clock::duration(kQuiet), end - Clock::now());
    // What happens to other files in the folder is no reason to wait longer, but need not be told apart here.
    if (!wait.poll(inotify_, &quiet) || Clock::now() >= end) break;
    static_cast<void>(take());
  }
  return told_to_end == 0;
}

EndQuietly::EndQuietly() {
  struct sigaction action {};
  action.sa_handler = end_quietly;
  sigemptyset(&action.sa_mask);
  for (std::size_t i = 0; i < kSignals.size(); ++i) {
    ::sigaction(kSignals[i], nullptr, &handled_before[i]);
    if (handled_before[i].sa_handler != SIG_IGN) ::sigaction(kSignals[i], &action, nullptr);
  }
}

EndQuietly::~EndQuietly() {
  for (std::size_t i = 0; i < kSignals.size(); ++i) ::sigaction(kSignals[i], &handled_before[i], nullptr);
}

}  // namespace dryfit::cli

#include "cli/io/working.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <csignal>
#include <ostream>

#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

using namespace std::chrono_literals;

/// Work that is over sooner needs no line.
constexpr auto kFirst = 400ms;
constexpr auto kAgain = 100ms;

volatile std::sig_atomic_t noted = 0;
struct sigaction before {};

extern "C" void note_interrupt(int) { noted = 1; }

/// The first Ctrl-C is noted; the next one does what it always does. One that is ignored (nohup, a job in the
/// background) stays ignored.
bool listen() {
  struct sigaction action {};
  if (::sigaction(SIGINT, nullptr, &before) != 0 || before.sa_handler == SIG_IGN) return false;
  action.sa_handler = note_interrupt;
  action.sa_flags = static_cast<int>(SA_RESETHAND);
  sigemptyset(&action.sa_mask);
  return ::sigaction(SIGINT, &action, nullptr) == 0;
}

std::size_t columns() {
  winsize size{};
  if (::ioctl(STDERR_FILENO, TIOCGWINSZ, &size) != 0 || size.ws_col == 0) return 80;
  return size.ws_col;
}

}  // namespace

void Working::begin(const char* what, const char* units, bool at_most) {
  what_ = translated({}, what);
  units_ = translated({}, units);
  at_most_ = at_most;
  next_ = std::max(next_, std::chrono::steady_clock::now() + kFirst);
  if (!listening_ && !interrupted()) listening_ = listen();
}

void Working::end() {
  if (on_screen_ > 0) {
    show("");
    on_screen_ = 0;
  }
  static_cast<void>(interrupted());
  if (listening_) ::sigaction(SIGINT, &before, nullptr);
  listening_ = false;
}

bool Working::interrupted() {
  if (noted != 0) {
    noted = 0;
    interrupted_ = true;
    if (shown_ && listener_ == nullptr) {
      show(only_the_whole_ ? say("stopping without an answer; Ctrl-C again stops at once")
                           : say("stopping with the best so far; Ctrl-C again stops at once"));
    }
  }
  return interrupted_;
}

bool Working::go_on(long long done, long long most) {
  if (interrupted()) return false;
  if (!shown_) return true;
  const auto now = std::chrono::steady_clock::now();
  if (now < next_) return true;
  next_ = now + kAgain;
  const long long so_far = std::min(done, most);
  if (only_the_whole_ || listener_ != nullptr) {
    const std::string told = at_most_ ? say("{0}: {1} of at most {2} {3}", what_, so_far, most, units_)
                                      : say("{0}: {1} of {2} {3}", what_, so_far, most, units_);
    listener_ != nullptr ? (*listener_)(told) : show(told);
    return true;
  }
  show(at_most_ ? say("{0}: {1} of at most {2} {3}; Ctrl-C: the best so far", what_, so_far, most, units_)
                : say("{0}: {1} of {2} {3}; Ctrl-C: the best so far", what_, so_far, most, units_));
  return true;
}

/// Over what stands there; plain characters, so that any terminal can do it.
void Working::show(const std::string& line) {
  const std::string shown = line.substr(0, columns() - 1);
  if (shown.size() < on_screen_) err_ << '\r' << std::string(on_screen_, ' ');
  err_ << '\r' << shown << std::flush;
  on_screen_ = shown.size();
}

}  // namespace dryfit::cli

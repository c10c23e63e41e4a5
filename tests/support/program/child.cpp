#include "tests/support/program/child.hpp"

#include <doctest/doctest.h>
#include <fcntl.h>
#include <poll.h>
#include <sys/wait.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cerrno>
#include <chrono>
#include <csignal>
#include <cstdlib>
#include <fstream>
#include <thread>

#include "model/geometry/at.hpp"

namespace dryfit::tests {
namespace {

using namespace std::chrono_literals;

/// Far more than any of these answers takes on a busy machine.
constexpr auto kLimit = 300s;

std::chrono::steady_clock::time_point deadline() { return std::chrono::steady_clock::now() + kLimit; }
bool over(std::chrono::steady_clock::time_point at) { return std::chrono::steady_clock::now() >= at; }

}  // namespace

Child::Child(const std::vector<std::string>& args, Errors errors) {
  std::array<int, 2> to_out{}, to_err{}, started{};
  REQUIRE(::pipe2(to_out.data(), O_CLOEXEC) == 0);
  if (errors == Errors::to_a_pipe) {
    REQUIRE(::pipe2(to_err.data(), O_CLOEXEC) == 0);
  } else {
    to_err[0] = ::posix_openpt(O_RDWR | O_NOCTTY | O_CLOEXEC);
    REQUIRE(to_err[0] >= 0);
    REQUIRE(::grantpt(to_err[0]) == 0);
    REQUIRE(::unlockpt(to_err[0]) == 0);
    to_err[1] = ::open(::ptsname(to_err[0]), O_RDWR | O_NOCTTY | O_CLOEXEC);
    REQUIRE(to_err[1] >= 0);
  }
  std::vector<char*> words{const_cast<char*>(DRYFIT_PROGRAM)};
  for (const std::string& arg : args) words.push_back(const_cast<char*>(arg.c_str()));
  words.push_back(nullptr);
  REQUIRE(::pipe2(started.data(), O_CLOEXEC) == 0);
  pid_ = ::fork();
  REQUIRE(pid_ >= 0);
  if (pid_ == 0) {
    for (const int signal : {SIGINT, SIGTERM, SIGHUP}) ::signal(signal, SIG_DFL);  // a job in the background ignores it
    ::dup2(to_out[1], STDOUT_FILENO);
    ::dup2(to_err[1], STDERR_FILENO);
    ::execv(words[0], words.data());
    ::_exit(127);
  }
  // Until its exec() the child has this program's handlers of signals.
  ::close(started[1]);
  char none = 0;
  while (::read(started[0], &none, 1) < 0 && errno == EINTR) continue;
  ::close(started[0]);
  ::close(to_out[1]);
  ::close(to_err[1]);
  out_ = to_out[0];
  err_ = to_err[0];
}

Child::~Child() {
  if (pid_ > 0) {
    ::kill(pid_, SIGKILL);
    ::waitpid(pid_, nullptr, 0);
  }
  ::close(out_);
  ::close(err_);
}

bool Child::gather() {
  std::array<pollfd, 2> files{pollfd{out_, POLLIN, 0}, pollfd{err_, POLLIN, 0}};
  if (::poll(files.data(), files.size(), 50) <= 0) return true;
  bool open = false;
  for (std::size_t i = 0; i < files.size(); ++i) {
    if (files[i].revents == 0) {
      open = true;
      continue;
    }
    std::array<char, 65536> block{};
    const ssize_t got = ::read(files[i].fd, block.data(), block.size());
    if (got <= 0) continue;  // the end; a terminal whose other side is closed says it with an error
    open = true;
    (i == 0 ? out : err).append(block.data(), dryfit::at(got));
  }
  return open;
}

std::string Child::line(std::size_t count) {
  for (const auto limit = deadline();;) {
    std::size_t begin = 0, end = out.find('\n');
    for (std::size_t seen = 1; seen < count && end != std::string::npos; ++seen) {
      begin = end + 1;
      end = out.find('\n', begin);
    }
    if (end != std::string::npos) return out.substr(begin, end - begin);
    const bool open = gather();
    REQUIRE_MESSAGE((open && !over(limit)), "no line ", count, " after:\n", out, err);
  }
}

void Child::wait_for_error(std::string_view text) {
  for (const auto limit = deadline(); err.find(text) == std::string::npos;) {
    const bool open = gather();
    REQUIRE_MESSAGE((open && !over(limit)), "no '", std::string(text), "' in:\n", err);
  }
}

void Child::wait_until_handled(int signal, bool handled) {
  for (const auto limit = deadline();;) {
    std::ifstream status("/proc/" + std::to_string(pid_) + "/status");
    bool caught = false;
    for (std::string row; std::getline(status, row);) {
      if (row.starts_with("SigCgt:"))
        caught = ((std::strtoull(row.c_str() + 7, nullptr, 16) >> (signal - 1)) & 1U) != 0;
    }
    if (caught == handled) return;
    REQUIRE_FALSE(over(limit));
    std::this_thread::sleep_for(1ms);
  }
}

void Child::send(int signal) const { REQUIRE(::kill(pid_, signal) == 0); }

int Child::end() {
  for (const auto limit = deadline(); gather();) REQUIRE_FALSE(over(limit));
  int status = 0;
  REQUIRE(::waitpid(pid_, &status, 0) == pid_);
  pid_ = -1;
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

}  // namespace dryfit::tests

#pragma once
/// The program as a process of its own, to be talked to while it runs.
#include <sys/types.h>

#include <string>
#include <string_view>
#include <vector>

namespace dryfit::tests {

/// Starts `dryfit ARGS...`; what it prints is gathered while somebody waits. Ended hard when it goes out of scope.
class Child {
 public:
  enum class Errors { to_a_pipe, to_a_terminal };
  explicit Child(const std::vector<std::string>& args, Errors errors = Errors::to_a_pipe);
  ~Child();
  Child(const Child&) = delete;
  Child& operator=(const Child&) = delete;

  /// Waits until `count` whole lines have come on standard output; the last of them. Fails the test when they never do.
  std::string line(std::size_t count);
  /// Waits until the text has come on standard error. Fails the test when it never does.
  void wait_for_error(std::string_view text);
  /// Waits until the program has a handler of its own for the signal, or has none any more.
  void wait_until_handled(int signal, bool handled);
  void send(int signal) const;
  /// Waits for the end: exit code, or 128 + n when signal n ended it. All that was printed is in out and err then.
  int end();

  std::string out;
  std::string err;

 private:
  /// False when there will be no more.
  bool gather();

  pid_t pid_ = -1;
  int out_ = -1;
  int err_ = -1;
};

}  // namespace dryfit::tests

#pragma once
/// Long work at a terminal: one line on standard error that says how far it is, and the first Ctrl-C ends the work with
/// the best so far instead of the program.
#include <chrono>
#include <functional>
#include <iosfwd>
#include <string>

#include "planner/base/foreman.hpp"

namespace dryfit::cli {

/// One per run of the program.
class Working : public planner::Foreman {
 public:
  using Listener = std::function<void(const std::string&)>;

  /// `shown`: `err` is a terminal that a person looks at; else nothing is ever written to it. A listener hears the
  /// lines instead.
  Working(std::ostream& err, bool shown, const Listener* listener = nullptr)
      : err_(err), shown_(shown || listener != nullptr), listener_(listener) {}
  ~Working() override { end(); }

  /// Nothing is shown from now on: the answer is for a program, or every step is logged anyway.
  void be_quiet() { shown_ = false; }

  /// Half an answer is none: the line, and what is said to a Ctrl-C, promise no best so far.
  void only_the_whole() { only_the_whole_ = true; }

  /// Long work begins: "weighing orders: 300 of at most 5000 moves tried" is `what` and `units` round the numbers, both
  /// marked() texts. From
  /// here to end() a Ctrl-C is noted; a second one ends the program at once, as any does before and after.
  void begin(const char* what, const char* units, bool at_most = false);
  /// Takes the line away. Call it before anything is printed.
  void end();

  /// Shows how far the work is, a few times a second. False once Ctrl-C has been pressed.
  [[nodiscard]] bool go_on(long long done, long long most) override;
  /// A Ctrl-C came during the work.
  [[nodiscard]] bool interrupted();

 private:
  void show(const std::string& line);

  std::ostream& err_;
  bool shown_;
  const Listener* listener_;
  bool interrupted_ = false;
  bool listening_ = false;
  std::string what_;
  std::string units_;
  bool at_most_ = false;
  bool only_the_whole_ = false;
  std::size_t on_screen_ = 0;  ///< characters of the line that stands there
  std::chrono::steady_clock::time_point next_{};
};

/// Begins and ends a piece of work; does nothing without a worker.
class LongWork {
 public:
  LongWork(Working* working, const char* what, const char* units, bool at_most = false) : working_(working) {
    if (working_ != nullptr) working_->begin(what, units, at_most);
  }
  ~LongWork() {
    if (working_ != nullptr) working_->end();
  }
  LongWork(const LongWork&) = delete;
  LongWork& operator=(const LongWork&) = delete;

 private:
  Working* working_;
};

}  // namespace dryfit::cli

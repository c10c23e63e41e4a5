#pragma once
/// Messages about the run, on standard error: faults, and with --verbose what the program is doing. Results never go
/// here, nor do faults of a frame file, which begin with a file's name by themselves.
#include <iosfwd>
#include <memory>
#include <string>

namespace dryfit::cli {

/// A fault, with the program's name in front.
void log_error(const std::string& message);
/// What the program is doing; heard only after log_details(true).
void log_detail(const std::string& message);
void log_details(bool wanted);

/// Sends messages to standard error from now on, in colour or not.
void log_to_standard_error(bool colour);

/// Sends messages to a stream, without colour, until it goes out of scope.
class LogTo {
 public:
  explicit LogTo(std::ostream& stream);
  ~LogTo();
  LogTo(const LogTo&) = delete;
  LogTo& operator=(const LogTo&) = delete;

 private:
  struct Before;
  std::unique_ptr<Before> before_;
};

}  // namespace dryfit::cli

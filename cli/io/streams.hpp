#pragma once
/// The three standard streams, handed down so that tests can stand in for the terminal.
#include <functional>
#include <iosfwd>
#include <string>

namespace dryfit::cli {

class Working;

struct Streams {
  std::istream& in;
  std::ostream& out;                 ///< results only
  std::ostream& err;                 ///< everything else
  const int* write_error = nullptr;  ///< errno of a failed write to out, where it is known
  bool terminal = false;             ///< err is a terminal
  /// Hears how far long work is, whatever the answer is written as, instead of a line at the terminal.
  const std::function<void(const std::string&)>* progress = nullptr;
  Working* working = nullptr;  ///< for long work; there once run_program() has begun a command
};

}  // namespace dryfit::cli

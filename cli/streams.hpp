#pragma once
/// The three standard streams, handed down so that tests can stand in for the terminal.
#include <iosfwd>

namespace dryfit::cli {

struct Streams {
  std::istream& in;
  std::ostream& out;                 ///< results only
  std::ostream& err;                 ///< everything else
  const int* write_error = nullptr;  ///< errno of a failed write to out, where it is known
};

}  // namespace dryfit::cli

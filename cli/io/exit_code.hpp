#pragma once
/// What the program tells the shell. A "no" is an answer, not a failure.

namespace dryfit::cli {

enum ExitCode : int {
  kYes = 0,        ///< fits, buildable, legal, free
  kNo = 1,         ///< overlap, open closure, locked, illegal order, teardown
  kUnusable = 2,   ///< the input or the call cannot be used, or the result could not be written
  kUndecided = 3,  ///< the limits given ended the work before an answer
};

/// The one code for several answers: the worst news wins. Unusable, then no, then undecided, then yes.
[[nodiscard]] constexpr int worse(int a, int b) {
  constexpr auto rank = [](int code) { return code == kUnusable ? 3 : code == kNo ? 2 : code == kUndecided ? 1 : 0; };
  return rank(a) >= rank(b) ? a : b;
}

}  // namespace dryfit::cli

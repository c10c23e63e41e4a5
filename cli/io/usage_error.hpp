#pragma once
/// The call cannot be carried out: a wrong option, a file that cannot be read or written. Exit code 2.
#include <stdexcept>

namespace dryfit::cli {

class UsageError : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

}  // namespace dryfit::cli

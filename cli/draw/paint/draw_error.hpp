#pragma once
/// What goes wrong in a drawing.
#include "cli/io/usage_error.hpp"

namespace dryfit::cli {

/// A drawing cannot be made or written; what() says why.
class DrawError : public UsageError {
 public:
  using UsageError::UsageError;
};

}  // namespace dryfit::cli

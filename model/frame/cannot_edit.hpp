#pragma once
/// Why a change cannot be made in the text of a frame file.
#include <stdexcept>

#include "model/frame/message.hpp"

namespace dryfit::model {

/// what() is the message in English.
class CannotEdit : public std::invalid_argument {
 public:
  explicit CannotEdit(const Message& why) : std::invalid_argument(why.english()), why_(why) {}
  [[nodiscard]] const Message& why() const noexcept { return why_; }

 private:
  Message why_;
};

}  // namespace dryfit::model

#pragma once
/// What the model has to tell, in the language that is spoken.
#include <stdexcept>
#include <string>

#include "model/frame/input_error.hpp"
#include "model/frame/message.hpp"

namespace dryfit::cli {

[[nodiscard]] std::string said(const model::Message& message);
/// Every fault of a file, one line each, as what() has them in English.
[[nodiscard]] std::string said(const model::InputError& error);
/// Why a change of a file cannot be made.
[[nodiscard]] std::string said(const std::invalid_argument& error);

}  // namespace dryfit::cli

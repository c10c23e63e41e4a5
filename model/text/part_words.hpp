#pragma once
/// Parts as messages name them.
#include "model/frame/frame.hpp"
#include "model/frame/message.hpp"

namespace dryfit::model {

/// The word of the format for a kind of part, to be put into a language: "tee", "street-elbow".
[[nodiscard]] Message kind_said(PartKind kind);

}  // namespace dryfit::model

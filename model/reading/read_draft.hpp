#pragma once
/// The tree of a frame file to a draft.
#include "model/reading/draft.hpp"

namespace dryfit::model {

struct YamlNode;

/// Reads the tree of a frame file. Every mistake goes to `faults`; what is wrong is left out or marked broken.
/// O(n log n) in the number of nodes.
[[nodiscard]] Draft read_draft(const YamlNode& root, Faults& faults);

}  // namespace dryfit::model

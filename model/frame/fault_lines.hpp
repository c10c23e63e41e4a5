#pragma once
/// The lines that tell of faults. Written out in input_error.cpp, beside the error that has them in English.
#include <string>
#include <vector>

#include "model/frame/message.hpp"

namespace dryfit::model {

struct InputFault;

/// A line for each fault with its place in front, "rack.yaml:14:9: part 'T1': ..."; further ones than a screenful are
/// counted in a last line, by a message that goes through `translate`; the texts of the faults stay.
[[nodiscard]] std::string fault_lines(const std::string& file, const std::vector<InputFault>& faults,
                                      const Translate& translate);

}  // namespace dryfit::model

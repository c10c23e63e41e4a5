#pragma once
/// One question about a frame, put to search, judge and oracle, in four positions of the frame.
#include <string>
#include <vector>

#include "tests/support/frames/frame_spec.hpp"

namespace dryfit::test {

/// "yes" or "no": whether one undo move takes exactly the contacts `undone` apart while `gone` are undone already. When
/// search, judge and oracle do not agree, or the answer is another in the mirror or turned by a quarter: who says what.
[[nodiscard]] std::string comes_off(const FrameSpec& spec, const std::vector<std::string>& undone,
                                    const std::vector<std::string>& gone = {});

/// "buildable" or "locked", likewise; an order that was found has been judged as well.
[[nodiscard]] std::string verdict_three_times(const FrameSpec& spec);

}  // namespace dryfit::test

#pragma once
/// What the fuzz targets do with one input. Shared by the libFuzzer harness and by the ordinary tests, which go through
/// everything that a fuzzer has found once. Each returns "" when all that must hold did hold, else what did not.
/// A crash, a hang or an exception that is no answer to the input shows by itself.
#include <string>
#include <string_view>

namespace dryfit::fuzz {

/// Bytes as a frame file: either every fault has a place in the text, or the frame is sound and its order replays.
[[nodiscard]] std::string try_reader(std::string_view bytes);
/// Bytes as the steps of one small frame: either told faults, or an answer that names a step there is.
[[nodiscard]] std::string try_steps(std::string_view bytes);
/// First byte: units; the rest: a length phrase. What is read is finite, and reads back from what is printed.
[[nodiscard]] std::string try_length(std::string_view bytes);
/// Four bytes: seed of a random frame; then changes of three bytes each, most of which break something. Besides what
/// try_reader asks: the same knot whatever order of undoing is tried, in the mirror, turned, and under other names.
[[nodiscard]] std::string try_frames(std::string_view bytes);

}  // namespace dryfit::fuzz

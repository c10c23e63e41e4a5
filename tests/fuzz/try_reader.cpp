#include "model/placing/reader.hpp"
#include "tests/fuzz/sound.hpp"
#include "tests/fuzz/targets.hpp"

namespace dryfit::fuzz {

std::string try_reader(std::string_view bytes) {
  try {
    const model::Frame frame = model::read_frame(bytes, "fuzz.yaml");
    Answer answer;
    return frame_is_sound(frame, answer);
  } catch (const model::InputError& error) {
    return faults_are_sound(error, bytes);
  }
}

}  // namespace dryfit::fuzz

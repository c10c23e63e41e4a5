#include "cli/input/frame_file.hpp"

#include <fmt/format.h>

#include <stdexcept>

#include "cli/io/log.hpp"
#include "cli/io/text_file.hpp"
#include "model/frame/plain_text.hpp"
#include "model/measure/verify.hpp"
#include "model/placing/reader.hpp"

namespace dryfit::cli {

LoadedFrame load_frame(const std::string& name, const Streams& streams) {
  return loaded_from(read_text(name, streams.in), plain_name(name));
}

LoadedFrame loaded_from(const std::string& text, const std::string& name) {
  LoadedFrame loaded;
  loaded.text = model::with_plain_lines(text);
  loaded.frame = model::read_frame(loaded.text, name);
  // A broken link here is a fault of the reader, not of the user.
  if (const auto broken = model::verify(loaded.frame); !broken.empty()) {
    throw std::logic_error("the frame as read is not sound: " + broken.front());
  }
  loaded.contacts = planner::contacts_of(loaded.frame);
  log_detail(fmt::format("{}: {} parts, {} contacts, {} closures", name, loaded.frame.parts.size(),
                         loaded.contacts.contacts.size(), loaded.frame.closures.size()));
  return loaded;
}

}  // namespace dryfit::cli

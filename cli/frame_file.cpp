#include "cli/frame_file.hpp"

#include <spdlog/spdlog.h>

#include <stdexcept>

#include "cli/text_file.hpp"
#include "model/reader.hpp"
#include "model/verify.hpp"

namespace dryfit::cli {

LoadedFrame load_frame(const std::string& name, const Streams& streams) {
  LoadedFrame loaded;
  loaded.text = read_text(name, streams.in);
  loaded.frame = model::read_frame(loaded.text, name == "-" ? "standard input" : name);
  // A broken link here is a fault of the reader, not of the user.
  if (const auto broken = model::verify(loaded.frame); !broken.empty()) {
    throw std::logic_error("the frame as read is not sound: " + broken.front());
  }
  loaded.contacts = planner::contacts_of(loaded.frame);
  spdlog::debug("{}: {} parts, {} contacts, {} closures", shown_name(name), loaded.frame.parts.size(),
                loaded.contacts.contacts.size(), loaded.frame.closures.size());
  return loaded;
}

}  // namespace dryfit::cli

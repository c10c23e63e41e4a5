#pragma once
/// A frame file read, placed and listed, ready for every command.
#include <string>

#include "cli/io/streams.hpp"
#include "model/frame/frame.hpp"
#include "planner/state/contacts.hpp"

namespace dryfit::cli {

struct LoadedFrame {
  model::Frame frame;
  planner::ContactList contacts;
  std::string text;  ///< the file as it was read, for changes to be tried on it
};

/// Reads `name` ("-": standard input). Throws UsageError when there is nothing to read, model::InputError with every
/// fault of the text.
[[nodiscard]] LoadedFrame load_frame(const std::string& name, const Streams& streams);
/// The same of a text that has been read already. `name` is what faults call the file.
[[nodiscard]] LoadedFrame loaded_from(const std::string& text, const std::string& name);

}  // namespace dryfit::cli

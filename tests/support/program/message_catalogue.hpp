#pragma once
/// Reads message catalogues in gettext's text form, as far as the tests want them.
#include <string>
#include <vector>

namespace dryfit::tests {

struct Message {
  std::string context;
  std::string english;
  std::string plural;
  std::vector<std::string> texts;  ///< one, or a form for each plural; empty in a template
  bool fuzzy = false;
};

/// In the order of the file; the head is the message whose English is empty.
[[nodiscard]] std::vector<Message> read_catalogue(const std::string& text);

}  // namespace dryfit::tests

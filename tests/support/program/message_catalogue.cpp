#include "tests/support/program/message_catalogue.hpp"

#include <sstream>

namespace dryfit::tests {
namespace {

std::string unquoted(const std::string& line) {
  std::string out;
  const std::size_t begin = line.find('"') + 1, end = line.rfind('"');
  for (std::size_t i = begin; i < end; ++i) {
    if (line[i] != '\\') {
      out += line[i];
    } else {
      ++i;
      out += line[i] == 'n' ? '\n' : line[i];
    }
  }
  return out;
}

}  // namespace

std::vector<Message> read_catalogue(const std::string& text) {
  std::vector<Message> messages;
  Message message;
  std::string* open = nullptr;
  bool any = false;
  const auto close = [&] {
    if (any) messages.push_back(message);
    message = {};
    open = nullptr;
    any = false;
  };
  std::istringstream lines(text + "\n\n");
  for (std::string line; std::getline(lines, line);) {
    if (line.empty()) {
      close();
    } else if (line.starts_with("#")) {
      if (line.starts_with("#,") && line.find("fuzzy") != std::string::npos) message.fuzzy = true;
    } else {
      any = true;
      if (line.starts_with("msgctxt ")) open = &message.context;
      if (line.starts_with("msgid ")) open = &message.english;
      if (line.starts_with("msgid_plural ")) open = &message.plural;
      if (line.starts_with("msgstr")) open = &message.texts.emplace_back();
      if (open != nullptr) *open += unquoted(line);
    }
  }
  return messages;
}

}  // namespace dryfit::tests

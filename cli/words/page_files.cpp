#include "cli/words/page_files.hpp"

#include <fmt/format.h>

#include <span>
#include <stdexcept>

#include "model/standards/tables.hpp"

namespace dryfit::cli {

/// Defined in a source that the build writes (see model/data/embed.cmake).
std::span<const model::BuiltInFile> page_files();

std::string_view page_file(std::string_view name) {
  for (const model::BuiltInFile& file : page_files()) {
    if (file.name == name) return file.text;
  }
  throw std::logic_error(fmt::format("no page file '{}'", name));
}

std::string filled_in(std::string_view text, const std::map<std::string, std::string>& fields) {
  std::string out;
  while (!text.empty()) {
    const std::size_t open = text.find('@');
    const std::size_t close = open == std::string_view::npos ? open : text.find('@', open + 1);
    if (close == std::string_view::npos) break;
    const auto field = fields.find(std::string(text.substr(open + 1, close - open - 1)));
    if (field == fields.end()) {
      out += text.substr(0, close);  // the second sign may open a field
      text.remove_prefix(close);
    } else {
      out.append(text.substr(0, open)).append(field->second);
      text.remove_prefix(close + 1);
    }
  }
  return out.append(text);
}

}  // namespace dryfit::cli

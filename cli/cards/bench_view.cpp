#include "cli/cards/bench_view.hpp"

#include "model/standards/tables.hpp"

namespace dryfit::cli {

std::span<const model::BuiltInFile> view_library_files();

std::string bench_view_library() {
  const std::span<const model::BuiltInFile> files = view_library_files();  // licence, library
  std::string text = "/*\n";
  return text.append(files[0].text).append("*/\n").append(files[1].text);
}

}  // namespace dryfit::cli

#include "cli/pocket/pocket_file.hpp"

#include <cstdlib>
#include <filesystem>
#include <nlohmann/json.hpp>
#include <vector>

#include "cli/io/usage_error.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {

std::string pocket_file() {
  if (const char* given = std::getenv("DRYFIT_POCKET"); given != nullptr && *given != '\0') return given;
  std::error_code none;
  // Beside the program, in the tree that it was built in, and where packages put it should nothing say where the
  // program is.
  std::vector<std::filesystem::path> places = {"/usr/share/dryfit/dryfit.html"};
  if (const std::filesystem::path program = std::filesystem::read_symlink("/proc/self/exe", none); !none) {
    const std::filesystem::path above = program.parent_path().parent_path();
    places = {above / "share/dryfit/dryfit.html", above / "pocket/dryfit.html"};
  }
  for (const std::filesystem::path& place : places) {
    if (std::filesystem::exists(place, none)) return place.string();
  }
  return "";
}

std::string pocket_with(std::string page, std::string_view name, std::string_view text) {
  constexpr std::string_view kOpening = "<script type=\"application/json\" id=\"given-frame\">";
  constexpr std::string_view kClosing = "</script>";
  const std::size_t opening = page.find(kOpening);
  const std::size_t begin = opening + kOpening.size();
  const std::size_t end = opening == std::string::npos ? opening : page.find(kClosing, begin);
  if (end == std::string::npos)
    throw UsageError(say("the page has no place for a frame: it belongs to another version"));
  std::string frame = nlohmann::ordered_json({{"name", name}, {"text", text}})
                          .dump(-1, ' ', true, nlohmann::ordered_json::error_handler_t::replace);
  // Nothing that is written in the frame may end the element it stands in.
  for (std::size_t at = frame.find('<'); at != std::string::npos; at = frame.find('<', at)) {
    frame.replace(at, 1, "\\u003c");
  }
  return page.replace(begin, end - begin, frame);
}

}  // namespace dryfit::cli

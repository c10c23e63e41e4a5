#pragma once
/// What the pictures of one page share, so that each is written once: bodies ("stamps"), outlines that cut off, and how
/// things are painted.
#include <map>
#include <string>
#include <vector>

namespace dryfit::cli {

class StampSheet {
 public:
  /// The name of a body with that markup, for `href="#NAME"`.
  [[nodiscard]] std::string stamp(const std::string& markup);
  /// The name of a clip, for `url(#NAME)`.
  [[nodiscard]] std::string clip(const std::string& path);
  /// The class for a way to paint, as declarations of CSS.
  [[nodiscard]] std::string paint(const std::string& declarations);

  /// All bodies and clips, for one `<defs>` of the page.
  [[nodiscard]] std::string definitions() const;
  /// All ways to paint, for the page's style.
  [[nodiscard]] std::string style() const;

 private:
  std::map<std::string, std::string> names_;  ///< by markup: name of a stamp or a clip
  std::string definitions_;
  std::map<std::string, std::string> classes_;  ///< by declarations
  std::string style_;
};

}  // namespace dryfit::cli

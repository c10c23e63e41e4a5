#include "cli/draw/paint/stamp_sheet.hpp"

#include <fmt/format.h>

namespace dryfit::cli {
namespace {

/// "_0" to "_z", "_10", ...: short, and like no other name of a page.
std::string short_name(std::size_t n) {
  constexpr const char* kDigits = "0123456789abcdefghijklmnopqrstuvwxyz";
  std::string out;
  do {
    out.insert(out.begin(), kDigits[n % 36]);
    n /= 36;
  } while (n > 0);
  return "_" + out;
}

}  // namespace

std::string StampSheet::stamp(const std::string& markup) {
  const auto [entry, is_new] = names_.try_emplace(markup);
  if (is_new) {
    entry->second = short_name(names_.size() - 1);
    definitions_ += fmt::format("<g id=\"{}\">{}</g>\n", entry->second, markup);
  }
  return entry->second;
}

std::string StampSheet::clip(const std::string& path) {
  const std::string markup = fmt::format("<path d=\"{}\"/>", path);
  const auto [entry, is_new] = names_.try_emplace("clip " + markup);
  if (is_new) {
    entry->second = short_name(names_.size() - 1);
    definitions_ += fmt::format("<clipPath id=\"{}\">{}</clipPath>\n", entry->second, markup);
  }
  return entry->second;
}

std::string StampSheet::paint(const std::string& declarations) {
  const auto [entry, is_new] = classes_.try_emplace(declarations);
  if (is_new) {
    entry->second = short_name(classes_.size() - 1);
    style_ += fmt::format(".{}{{{}}}\n", entry->second, declarations);
  }
  return entry->second;
}

std::string StampSheet::definitions() const { return definitions_; }
std::string StampSheet::style() const { return style_; }

}  // namespace dryfit::cli

#pragma once
/// A compiled catalogue of gettext (a .mo file) in memory. Its sentences are looked up here and not by gettext or
/// a library over it, so that every build of the program finds the same, also where there is no system below.
#include <optional>
#include <span>
#include <string_view>

namespace dryfit::cli {

/// One language, as the build embeds it: static storage.
struct Catalogue {
  std::string_view language;                   ///< "de"
  std::string_view compiled;                   ///< the bytes of the .mo file
  unsigned long (*form_for)(unsigned long n);  ///< which plural form counts n things: "Plural-Forms" of the catalogue
};
/// All of them, by language. Defined in a source that the build writes (see cli/languages/embed_catalogues.cmake).
[[nodiscard]] std::span<const Catalogue> catalogues();

/// The translation of a message; nothing when the catalogue lacks it. `context` is "" for none.
[[nodiscard]] std::optional<std::string_view> found_in(const Catalogue& catalogue, std::string_view context,
                                                       std::string_view message);
/// The same of a message with a plural, in the form for `count`.
[[nodiscard]] std::optional<std::string_view> counted_in(const Catalogue& catalogue, std::string_view message,
                                                         unsigned long count);

}  // namespace dryfit::cli

#pragma once
/// Everything that people read is said through these. The English texts in the code are the keys of the catalogues in
/// cli/languages; a text that the catalogue of the language in use lacks is said in English.
///
/// A text is a whole sentence or a whole part of one, with fields ("{}", "{0}") for names and numbers, which a
/// translation may use in another order. Words that JSON has as values (verdicts, actions) are never said.
#include <fmt/core.h>

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace dryfit::cli {

/// Chooses the language for what is said from now on: "en", or one that has a catalogue. With "" it is the first of
/// LANGUAGE, LC_ALL, LC_MESSAGES and LANG, as gettext reads them, that says so; English where none does.
void speak(const std::string& language);
/// What is spoken, as HTML's `lang` wants it: "en", "de".
[[nodiscard]] const std::string& language_spoken();
/// "en" and all languages that have a catalogue.
[[nodiscard]] std::vector<std::string> languages();
/// For tests: every text goes through `change` instead of a catalogue; with nothing, no more.
void speak_through(std::function<std::string(std::string_view)> change);

/// The text in the language that is spoken. `context` tells apart what is one word in English and several elsewhere; ""
/// for none. With `count` the form for so many; `one` is the key.
[[nodiscard]] std::string translated(std::string_view context, std::string_view english);
[[nodiscard]] std::string translated_count(std::string_view one, std::string_view many, long long count);

/// Marks a text as one that is said later, at its place in a table or as a constant.
[[nodiscard]] constexpr const char* marked(const char* english) { return english; }
[[nodiscard]] constexpr const char* marked_in(const char* /*context*/, const char* english) { return english; }

template <typename... Fields>
[[nodiscard]] std::string say(fmt::format_string<Fields...> english, Fields&&... fields) {
  const fmt::string_view text = english;
  return fmt::vformat(translated({}, {text.data(), text.size()}), fmt::make_format_args(fields...));
}

template <typename... Fields>
[[nodiscard]] std::string say_in(const char* context, fmt::format_string<Fields...> english, Fields&&... fields) {
  const fmt::string_view text = english;
  return fmt::vformat(translated(context, {text.data(), text.size()}), fmt::make_format_args(fields...));
}

/// The form for `count`, which is field 0.
template <typename... Fields>
[[nodiscard]] std::string say_n(long long count, fmt::format_string<long long&, Fields...> one,
                                fmt::format_string<long long&, Fields...> many, Fields&&... fields) {
  const fmt::string_view single = one, several = many;
  const std::string text = translated_count({single.data(), single.size()}, {several.data(), several.size()}, count);
  return fmt::vformat(text, fmt::make_format_args(count, fields...));
}

/// A number with a point between ones and tenths as the language writes it: in German with a comma.
[[nodiscard]] std::string with_mark(std::string number);
[[nodiscard]] std::string decimal(double value, int places);

}  // namespace dryfit::cli

#include "cli/words/say.hpp"

#include <algorithm>
#include <cstdlib>

#include "cli/words/catalogue.hpp"

namespace dryfit::cli {
namespace {

const Catalogue* catalogue_of(std::string_view language) {
  for (const Catalogue& catalogue : catalogues()) {
    if (catalogue.language == language) return &catalogue;
  }
  return nullptr;
}

bool is_spoken(std::string_view language) { return language == "en" || catalogue_of(language) != nullptr; }

struct Speech {
  std::string language = "en";
  const Catalogue* catalogue = nullptr;  ///< none for English
};

Speech& speech() {
  static Speech now;
  return now;
}

std::function<std::string(std::string_view)>& changed() {
  static std::function<std::string(std::string_view)> change;
  return change;
}

std::string_view variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::string_view() : std::string_view(value);
}

/// "de" of "de_AT.UTF-8"; "" of C and POSIX.
std::string_view language_of(std::string_view locale) {
  const std::string_view language = locale.substr(0, locale.find_first_of("_.@"));
  return language == "C" || language == "POSIX" ? std::string_view() : language;
}

std::string wanted_by_environment() {
  std::string_view locale;
  for (const char* name : {"LC_ALL", "LC_MESSAGES", "LANG"}) {
    if (locale.empty()) locale = variable(name);
  }
  const std::string_view language = language_of(locale);
  if (language.empty()) return "en";
  std::string_view list = variable("LANGUAGE");
  while (!list.empty()) {
    const std::size_t end = std::min(list.find(':'), list.size());
    if (const std::string_view first = language_of(list.substr(0, end)); is_spoken(first)) return std::string(first);
    list.remove_prefix(std::min(end + 1, list.size()));
  }
  return is_spoken(language) ? std::string(language) : "en";
}

}  // namespace

void speak(const std::string& language) {
  Speech now;
  now.language = language.empty() ? wanted_by_environment() : language;
  now.catalogue = catalogue_of(now.language);
  if (now.catalogue == nullptr) now.language = "en";
  speech() = std::move(now);
}

const std::string& language_spoken() { return speech().language; }

std::vector<std::string> languages() {
  std::vector<std::string> out = {"en"};
  for (const Catalogue& catalogue : catalogues()) out.emplace_back(catalogue.language);
  return out;
}

void speak_through(std::function<std::string(std::string_view)> change) { changed() = std::move(change); }

std::string translated(std::string_view context, std::string_view english) {
  const Speech& now = speech();
  if (changed()) return changed()(english);
  if (now.catalogue == nullptr) return std::string(english);
  return std::string(found_in(*now.catalogue, context, english).value_or(english));
}

std::string translated_count(std::string_view one, std::string_view many, long long count) {
  const Speech& now = speech();
  const std::string_view english = count == 1 ? one : many;
  if (changed()) return changed()(english);
  if (now.catalogue == nullptr) return std::string(english);
  return std::string(counted_in(*now.catalogue, one, static_cast<unsigned long>(count)).value_or(english));
}

std::string with_mark(std::string number) {
  if (const std::size_t point = number.find('.'); point != std::string::npos) {
    number.replace(point, 1, say_in("the mark between ones and tenths", "."));
  }
  return number;
}

std::string decimal(double value, int places) { return with_mark(fmt::format("{:.{}f}", value, places)); }

}  // namespace dryfit::cli

#include "cli/words/say.hpp"

#include <algorithm>
#include <array>
#include <boost/locale/gnu_gettext.hpp>
#include <boost/locale/message.hpp>
#include <cstdlib>
#include <limits>
#include <locale>
#include <span>

#include "model/standards/tables.hpp"

namespace dryfit::cli {

std::span<const model::BuiltInFile> catalogue_files();  // "de.mo", ...: written by the build

namespace {

namespace gettext = boost::locale::gnu_gettext;
using Messages = boost::locale::message_format<char>;

constexpr const char* kDomain = "dryfit";

const model::BuiltInFile* catalogue_of(std::string_view language) {
  for (const model::BuiltInFile& file : catalogue_files()) {
    if (file.name == std::string(language) + ".mo") return &file;
  }
  return nullptr;
}

bool is_spoken(std::string_view language) { return language == "en" || catalogue_of(language) != nullptr; }

/// Boost.Locale asks for files by path; ours are in memory.
std::locale with_catalogue(const std::string& language) {
  gettext::messages_info info;
  info.language = language;
  info.encoding = "UTF-8";
  info.domains.emplace_back(kDomain);
  info.paths.emplace_back("");
  info.callback = [](const std::string& path, const std::string&) {
    for (const model::BuiltInFile& file : catalogue_files()) {
      const std::string_view stem = file.name.substr(0, file.name.rfind('.'));
      if (path == "/" + std::string(stem) + "/LC_MESSAGES/" + kDomain + ".mo") {
        return std::vector<char>(file.text.begin(), file.text.end());
      }
    }
    return std::vector<char>();
  };
  return {std::locale::classic(), gettext::create_messages_facet<char>(info)};
}

struct Speech {
  std::string language = "en";
  std::locale words = std::locale::classic();  ///< with messages, but for English
  int domain = 0;
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
  if (catalogue_of(now.language) != nullptr) {
    now.words = with_catalogue(now.language);
    now.domain = std::use_facet<Messages>(now.words).domain(kDomain);
  } else {
    now.language = "en";
  }
  speech() = std::move(now);
}

const std::string& language_spoken() { return speech().language; }

std::vector<std::string> languages() {
  std::vector<std::string> out = {"en"};
  for (const model::BuiltInFile& file : catalogue_files()) out.emplace_back(file.name.substr(0, file.name.rfind('.')));
  return out;
}

void speak_through(std::function<std::string(std::string_view)> change) { changed() = std::move(change); }

std::string translated(std::string_view context, std::string_view english) {
  const Speech& now = speech();
  if (changed()) return changed()(english);
  if (!std::has_facet<Messages>(now.words)) return std::string(english);
  const std::string in(context), key(english);
  const char* text =
      std::use_facet<Messages>(now.words).get(now.domain, in.empty() ? nullptr : in.c_str(), key.c_str());
  return text != nullptr ? text : key;
}

std::string translated_count(std::string_view one, std::string_view many, long long count) {
  const Speech& now = speech();
  const std::string_view english = count == 1 ? one : many;
  if (changed()) return changed()(english);
  if (!std::has_facet<Messages>(now.words)) return std::string(english);
  const std::string key(one);
  const auto form = static_cast<int>(std::min<long long>(count, std::numeric_limits<int>::max()));
  const char* text = std::use_facet<Messages>(now.words).get(now.domain, nullptr, key.c_str(), form);
  return text != nullptr ? text : std::string(english);
}

std::string with_mark(std::string number) {
  if (const std::size_t point = number.find('.'); point != std::string::npos) {
    number.replace(point, 1, say_in("the mark between ones and tenths", "."));
  }
  return number;
}

std::string decimal(double value, int places) { return with_mark(fmt::format("{:.{}f}", value, places)); }

}  // namespace dryfit::cli

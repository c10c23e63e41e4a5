#pragma once
/// A language made of one letter: what is still in the letters of English was not said through a catalogue.
#include <set>
#include <string>

namespace dryfit::tests {

/// While it lives all is said in that language.
struct OneLetter {
  OneLetter();
  ~OneLetter();
  OneLetter(const OneLetter&) = delete;
  OneLetter& operator=(const OneLetter&) = delete;
};

/// Words of ASCII letters, two or more.
[[nodiscard]] std::set<std::string> words_of(const std::string& text);

}  // namespace dryfit::tests

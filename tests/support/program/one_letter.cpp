#include "tests/support/program/one_letter.hpp"

#include <cctype>
#include <string_view>

#include "cli/words/say.hpp"

namespace dryfit::tests {
namespace {

std::string in_one_letter(std::string_view english) {
  std::string out;
  int depth = 0;
  for (const char c : english) {
    depth += c == '{' ? 1 : c == '}' ? -1 : 0;
    out += depth == 0 && std::isalpha(static_cast<unsigned char>(c)) != 0 ? std::string("ø") : std::string(1, c);
  }
  return out;
}

}  // namespace

OneLetter::OneLetter() { cli::speak_through(in_one_letter); }
OneLetter::~OneLetter() { cli::speak_through(nullptr); }

std::set<std::string> words_of(const std::string& text) {
  std::set<std::string> words;
  std::string word;
  for (const char c : text + " ") {
    if (std::isalpha(static_cast<unsigned char>(c)) != 0) {
      word += c;
      continue;
    }
    if (word.size() > 1) words.insert(word);
    word.clear();
  }
  return words;
}

}  // namespace dryfit::tests

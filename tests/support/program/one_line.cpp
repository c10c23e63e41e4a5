#include "tests/support/program/one_line.hpp"

#include <algorithm>

namespace dryfit::tests {

std::string on_one_line(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  const auto both_blank = [](char a, char b) { return a == ' ' && b == ' '; };
  text.erase(std::unique(text.begin(), text.end(), both_blank), text.end());
  return text;
}

}  // namespace dryfit::tests

#include "tests/support/program/shell.hpp"

#include <doctest/doctest.h>

#include <sys/wait.h>

#include <array>
#include <cstdio>
#include <cstdlib>
#include <memory>

namespace dryfit::tests {

int exit_code_of(const std::string& line) {
  const int status = std::system(line.c_str());
  return WIFEXITED(status) ? WEXITSTATUS(status) : 128 + WTERMSIG(status);
}

std::string output_of(const std::string& line) {
  const std::unique_ptr<std::FILE, int (*)(std::FILE*)> pipe(::popen(line.c_str(), "r"), ::pclose);
  REQUIRE(pipe != nullptr);
  std::string text;
  std::array<char, 4096> some{};
  for (std::size_t n = 0; (n = std::fread(some.data(), 1, some.size(), pipe.get())) > 0;) text.append(some.data(), n);
  return text;
}

std::string text_of_pdf(const std::string& path) { return output_of("pdftotext -raw '" + path + "' -"); }

std::string without_blanks(std::string text) {
  std::erase_if(text, [](char c) { return c == ' ' || c == '\n' || c == '\f' || c == '\t'; });
  return text;
}

}  // namespace dryfit::tests

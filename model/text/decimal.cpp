#include "model/text/decimal.hpp"

#include <charconv>
#include <cmath>
#include <system_error>
#include <version>

#ifndef __cpp_lib_to_chars
#include <cerrno>
#include <cstdlib>
#include <string>
#endif

namespace dryfit::model {
namespace {

bool is_figure(char c) { return c >= '0' && c <= '9'; }

std::size_t figures(std::string_view text, std::size_t& at) {
  const std::size_t from = at;
  while (at < text.size() && is_figure(text[at])) ++at;
  return at - from;
}

bool is_decimal(std::string_view text) {
  std::size_t at = !text.empty() && text.front() == '-' ? 1 : 0;
  std::size_t count = figures(text, at);
  if (at < text.size() && text[at] == '.') count += figures(text, ++at);
  if (count == 0) return false;
  if (at < text.size() && (text[at] == 'e' || text[at] == 'E')) {
    ++at;
    if (at < text.size() && (text[at] == '+' || text[at] == '-')) ++at;
    if (figures(text, at) == 0) return false;
  }
  return at == text.size();
}

}  // namespace

std::optional<double> decimal_number(std::string_view text) {
  if (!is_decimal(text)) return std::nullopt;
#ifdef __cpp_lib_to_chars
  double value = 0.0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc{} || end != text.data() + text.size()) return std::nullopt;
#else
  // The library of WebAssembly has no from_chars for double; its strtod rounds as well and knows one locale only.
  errno = 0;
  const double value = std::strtod(std::string(text).c_str(), nullptr);
  if (errno == ERANGE) return std::nullopt;
#endif
  return value;
}

}  // namespace dryfit::model

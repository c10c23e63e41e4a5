#include "model/text/length.hpp"

#include <fmt/format.h>

#include <charconv>
#include <cmath>
#include <cstdlib>
#include <numeric>

#include "model/frame/plain_text.hpp"

namespace dryfit::model {
namespace {

constexpr std::string_view kExpected = "expected a length such as 4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm or 11 cm";

bool digit(char c) { return c >= '0' && c <= '9'; }

std::string_view trimmed(std::string_view text) {
  const auto blank = [](char c) { return c == ' ' || c == '\t'; };
  while (!text.empty() && blank(text.front())) text.remove_prefix(1);
  while (!text.empty() && blank(text.back())) text.remove_suffix(1);
  return text;
}

/// Reads one phrase from the left. Each step takes what it knows and leaves the rest; the first failure stays.
class Phrase {
 public:
  explicit Phrase(std::string_view text) : text_(trimmed(text)), rest_(text_) {}

  std::optional<double> read(Units units) {
    if (rest_.empty()) return fail("the text is empty");
    const bool negative = rest_.front() == '-';
    if (negative) rest_.remove_prefix(1);
    const std::optional<double> size = amount();
    if (!size) return std::nullopt;
    const std::optional<double> unit = unit_in_mm(units);
    if (!unit) return std::nullopt;
    const double mm = *size * *unit;
    if (!std::isfinite(mm)) return fail("the number is too large");
    return negative && mm != 0.0 ? -mm : mm;
  }

  [[nodiscard]] const std::string& why() const { return why_; }

 private:
  std::nullopt_t fail(std::string_view what) {
    if (why_.empty()) why_ = fmt::format("'{}': {}, {}", shown(text_), what, kExpected);
    return std::nullopt;
  }

  std::string_view digits() {
    std::size_t n = 0;
    while (n < rest_.size() && digit(rest_[n])) ++n;
    const std::string_view taken = rest_.substr(0, n);
    rest_.remove_prefix(n);
    return taken;
  }

  /// std::from_chars knows no locale, so a decimal comma of the system cannot change a frame.
  std::optional<double> value_of(std::string_view number) {
    double value = 0.0;
    const auto [end, error] =
        std::from_chars(number.data(), number.data() + number.size(), value, std::chars_format::fixed);
    if (error != std::errc{} || end != number.data() + number.size()) return fail("the number is too large");
    return value;
  }

  std::optional<double> whole_number(std::string_view number) {
    if (number.empty()) return fail("a digit is missing");
    if (number.size() > 1 && number.front() == '0') return fail("a leading zero reads as octal elsewhere");
    return value_of(number);
  }

  std::optional<double> amount() {
    const std::string_view start = rest_;
    const std::string_view whole = digits();
    if (!rest_.empty() && rest_.front() == '.') return decimal(start, whole);
    if (whole.empty()) return fail("this is no number");
    const std::optional<double> first = whole_number(whole);
    if (!first) return std::nullopt;
    if (!rest_.empty() && rest_.front() == '/') return fraction(*first);
    if (!fraction_follows()) return first;
    const std::optional<double> numerator = whole_number(digits());
    if (!numerator) return std::nullopt;
    const std::optional<double> part = fraction(*numerator);
    if (!part) return std::nullopt;
    if (*part >= 1.0) return fail("a fraction after a whole number must be below 1");
    return *first + *part;
  }

  std::optional<double> decimal(std::string_view start, std::string_view whole) {
    if (!whole.empty() && !whole_number(whole)) return std::nullopt;
    rest_.remove_prefix(1);
    const std::string_view behind = digits();
    if (behind.empty()) return fail("a digit is missing after the point");
    return value_of(start.substr(0, whole.size() + 1 + behind.size()));
  }

  /// After a whole number: takes the hyphen or the spaces when digits and a slash stand behind them.
  bool fraction_follows() {
    std::string_view ahead = rest_;
    if (!ahead.empty() && ahead.front() == '-') {
      ahead.remove_prefix(1);
    } else {
      ahead = trimmed(ahead);
      if (ahead.size() == rest_.size()) return false;
    }
    std::size_t n = 0;
    while (n < ahead.size() && digit(ahead[n])) ++n;
    if (n == 0 || n == ahead.size() || ahead[n] != '/') return false;
    rest_ = ahead;
    return true;
  }

  std::optional<double> fraction(double numerator) {
    rest_.remove_prefix(1);  // the slash
    const std::optional<double> denominator = whole_number(digits());
    if (!denominator) return std::nullopt;
    if (*denominator == 0.0) return fail("the denominator is zero");
    return numerator / *denominator;
  }

  std::optional<double> unit_in_mm(Units units) {
    const std::string_view word = trimmed(rest_);
    if (word.empty()) return units == Units::in ? kMmPerInch : units == Units::cm ? 10.0 : 1.0;
    if (word == "in" || word == "\"") return kMmPerInch;
    if (word == "mm") return 1.0;
    if (word == "cm") return 10.0;
    if (word.front() == ',') return fail("decimals want a point, not a comma");
    if (word.front() == 'e' || word.front() == 'E') return fail("powers of ten are not read");
    return fail(fmt::format("'{}' is left over", shown(word)));
  }

  std::string_view text_;
  std::string_view rest_;
  std::string why_;
};

std::string one_decimal(double value, std::string_view unit) {
  std::string out = fmt::format("{:.1f}", value);
  if (out.ends_with(".0")) out.resize(out.size() - 2);
  if (out == "-0") out = "0";
  return fmt::format("{} {}", out, unit);
}

}  // namespace

std::optional<double> parse_length(std::string_view text, Units units, std::string* why) {
  Phrase phrase(text);
  const std::optional<double> mm = phrase.read(units);
  if (!mm && why != nullptr) *why = phrase.why();
  return mm;
}

std::string inches(double mm) {
  constexpr double kFarthest = 1e15;  // beyond, sixteenths are finer than a double
  if (!(std::abs(mm) < kFarthest)) return one_decimal(mm / kMmPerInch, "in");
  const long long sixteenths = std::llround(mm / kMmPerInch * 16.0);
  const long long size = std::llabs(sixteenths);
  const long long whole = size / 16;
  const long long left = size % 16;
  const char* minus = sixteenths < 0 ? "-" : "";
  if (left == 0) return fmt::format("{}{} in", minus, whole);
  const long long shared = std::gcd(left, 16LL);
  if (whole == 0) return fmt::format("{}{}/{} in", minus, left / shared, 16 / shared);
  return fmt::format("{}{}-{}/{} in", minus, whole, left / shared, 16 / shared);
}

std::string millimetres(double mm) { return one_decimal(mm, "mm"); }

std::string in_units(double mm, Units units) {
  switch (units) {
    case Units::in: return inches(mm);
    case Units::cm: return one_decimal(mm / 10.0, "cm");
    case Units::mm: break;
  }
  return millimetres(mm);
}

}  // namespace dryfit::model

#include "model/text/length.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdlib>
#include <numeric>

#include "model/frame/plain_text.hpp"
#include "model/text/decimal.hpp"
#include "model/text/length_fault.hpp"

namespace dryfit::model {
namespace {

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
    if (rest_.empty()) return fail(message("the text is empty"));
    const bool negative = rest_.front() == '-';
    if (negative) rest_.remove_prefix(1);
    const std::optional<double> size = amount();
    if (!size) return std::nullopt;
    const std::optional<double> unit = unit_in_mm(units);
    if (!unit) return std::nullopt;
    const double mm = *size * *unit;
    if (!std::isfinite(mm)) return fail(message("the number is too large"));
    return negative && mm != 0.0 ? -mm : mm;
  }

  [[nodiscard]] const Message& why() const { return why_; }

 private:
  std::nullopt_t fail(const Message& what) {
    if (!why_.empty()) return std::nullopt;
    const Message expected = message("write it like 4-1/2, 4 1/2, 3/4, 9.5 in, 114 mm or 11 cm");
    why_ = Message::as_it_is("'" + shown(text_) + "': ") + what + Message::as_it_is(", ") + expected;
    return std::nullopt;
  }

  /// For a slip whose cure is known: nothing else needs to be said.
  std::nullopt_t fail_with_cure(const Message& what) {
    if (why_.empty()) why_ = Message::as_it_is("'" + shown(text_) + "': ") + what;
    return std::nullopt;
  }

  std::string_view digits() {
    std::size_t n = 0;
    while (n < rest_.size() && digit(rest_[n])) ++n;
    const std::string_view taken = rest_.substr(0, n);
    rest_.remove_prefix(n);
    return taken;
  }

  /// Knows no locale, so a decimal comma of the system cannot change a frame.
  std::optional<double> value_of(std::string_view number) {
    const std::optional<double> value = decimal_number(number);
    if (!value) return fail(message("the number is too large"));
    return value;
  }

  std::optional<double> whole_number(std::string_view number) {
    if (number.empty()) return fail(message("a digit is missing"));
    if (number.size() > 1 && number.front() == '0') return fail_with_cure(message("leave out the leading zero"));
    return value_of(number);
  }

  std::optional<double> amount() {
    const std::string_view start = rest_;
    const std::string_view whole = digits();
    if (!rest_.empty() && rest_.front() == '.') return decimal(start, whole);
    if (const auto written = with_plain_fraction(start)) return fail_with_cure(message("write {}", *written));
    if (whole.empty()) return fail(message("this is not a length"));
    const std::optional<double> first = whole_number(whole);
    if (!first) return std::nullopt;
    if (!rest_.empty() && rest_.front() == '/') return fraction(*first);
    if (!fraction_follows()) return first;
    const std::optional<double> numerator = whole_number(digits());
    if (!numerator) return std::nullopt;
    const std::optional<double> part = fraction(*numerator);
    if (!part) return std::nullopt;
    if (*part >= 1.0) return fail(message("a fraction after a whole number must be below 1"));
    return *first + *part;
  }

  std::optional<double> decimal(std::string_view start, std::string_view whole) {
    if (!whole.empty() && !whole_number(whole)) return std::nullopt;
    rest_.remove_prefix(1);
    const std::string_view behind = digits();
    if (behind.empty()) return fail(message("a digit is missing after the point"));
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
    if (*denominator == 0.0) return fail(message("the denominator is zero"));
    return numerator / *denominator;
  }

  std::optional<double> unit_in_mm(Units units) {
    const std::string_view word = trimmed(rest_);
    if (word.empty()) return units == Units::in ? kMmPerInch : units == Units::cm ? 10.0 : 1.0;
    if (word == "in" || word == "\"") return kMmPerInch;
    if (word == "mm") return 1.0;
    if (word == "cm") return 10.0;
    if (word.front() == ',') return decimal_comma(word);
    if (const OtherUnit* other = other_unit(word)) {
      const double amount = value_in_front();
      if (amount > 0.0)
        return fail_with_cure(message("write {}", fmt::format("{:.10g} {}", amount * other->times, other->unit)));
    }
    if (word.size() > 1 && (word.front() == 'e' || word.front() == 'E') && (digit(word[1]) || word[1] == '-')) {
      return fail(message("powers of ten are not read"));
    }
    return fail(message("'{}' is left over", shown(word)));
  }

  /// Units that people write and the format does not have, and what to write instead.
  struct OtherUnit {
    std::string_view name;
    double times;
    std::string_view unit;
  };

  static const OtherUnit* other_unit(std::string_view word) {
    static constexpr std::array<OtherUnit, 18> kUnits{{{"in.", 1.0, "in"},
                                                       {"inch", 1.0, "in"},
                                                       {"inches", 1.0, "in"},
                                                       {"In", 1.0, "in"},
                                                       {"IN", 1.0, "in"},
                                                       {"''", 1.0, "in"},
                                                       {"Zoll", 1.0, "in"},
                                                       {"zoll", 1.0, "in"},
                                                       {"ft", 12.0, "in"},
                                                       {"'", 12.0, "in"},
                                                       {"foot", 12.0, "in"},
                                                       {"feet", 12.0, "in"},
                                                       {"MM", 1.0, "mm"},
                                                       {"millimeters", 1.0, "mm"},
                                                       {"CM", 1.0, "cm"},
                                                       {"m", 1000.0, "mm"},
                                                       {"metre", 1000.0, "mm"},
                                                       {"meter", 1000.0, "mm"}}};
    const auto found =
        std::find_if(kUnits.begin(), kUnits.end(), [&](const OtherUnit& unit) { return unit.name == word; });
    return found == kUnits.end() ? nullptr : &*found;
  }

  /// What stands before the unit, read by itself; 0 when it is no number.
  [[nodiscard]] double value_in_front() const {
    const std::string_view front = text_.substr(0, text_.size() - trimmed(rest_).size());
    return parse_length(front, Units::mm).value_or(0.0);
  }

  /// "152,4": a comma between digits is a point to whoever wrote it.
  std::nullopt_t decimal_comma(std::string_view word) {
    std::string_view behind = word.substr(1);
    std::size_t n = 0;
    while (n < behind.size() && digit(behind[n])) ++n;
    const std::string_view rest = trimmed(behind.substr(n));
    const bool known = rest.empty() || rest == "in" || rest == "mm" || rest == "cm" || rest == "\"";
    if (n == 0 || !known) return fail(message("a decimal comma is not read, write a point"));
    std::string pointed(text_);
    pointed[text_.size() - trimmed(rest_).size()] = '.';
    return fail_with_cure(message("decimal comma: write {}", shown(pointed)));
  }

  /// "1½" as "1-1/2": the sign that a keyboard or a word processor makes of a fraction.
  std::optional<std::string> with_plain_fraction(std::string_view start) const {
    struct Sign {
      std::string_view sign, plain;
    };
    static constexpr std::array<Sign, 9> kSigns{{{"\u00bc", "1/4"},
                                                 {"\u00bd", "1/2"},
                                                 {"\u00be", "3/4"},
                                                 {"\u215b", "1/8"},
                                                 {"\u215c", "3/8"},
                                                 {"\u215d", "5/8"},
                                                 {"\u215e", "7/8"},
                                                 {"\u2153", "1/3"},
                                                 {"\u2154", "2/3"}}};
    std::size_t n = 0;
    while (n < start.size() && digit(start[n])) ++n;
    const std::string_view behind = trimmed(start.substr(n));
    for (const Sign& sign : kSigns) {
      if (!behind.starts_with(sign.sign)) continue;
      return std::string(text_.substr(0, text_.size() - start.size() + n)) + (n > 0 ? "-" : "") +
             std::string(sign.plain) + std::string(behind.substr(sign.sign.size()));
    }
    return std::nullopt;
  }

  std::string_view text_;
  std::string_view rest_;
  Message why_;
};

std::string one_decimal(double value, std::string_view unit) {
  std::string out = fmt::format("{:.1f}", value);
  if (out.ends_with(".0")) out.resize(out.size() - 2);
  if (out == "-0") out = "0";
  return fmt::format("{} {}", out, unit);
}

/// Rounded to the nearest, or up, to 1 / `parts` in.
std::string in_parts_of_an_inch(double mm, long long parts, bool up = false) {
  constexpr double kFarthest = 1e15;  // beyond, the parts are finer than a double
  if (!(std::abs(mm) < kFarthest)) return one_decimal(mm / kMmPerInch, "in");
  const double exact = mm / kMmPerInch * static_cast<double>(parts);
  const long long count = up ? static_cast<long long>(std::ceil(exact - 1e-6)) : std::llround(exact);
  const long long size = std::llabs(count);
  const long long whole = size / parts;
  const long long left = size % parts;
  const char* minus = count < 0 ? "-" : "";
  if (left == 0) return fmt::format("{}{} in", minus, whole);
  const long long shared = std::gcd(left, parts);
  if (whole == 0) return fmt::format("{}{}/{} in", minus, left / shared, parts / shared);
  return fmt::format("{}{}-{}/{} in", minus, whole, left / shared, parts / shared);
}

}  // namespace

std::optional<double> parse_length(std::string_view text, Units units, Message& why) {
  Phrase phrase(text);
  const std::optional<double> mm = phrase.read(units);
  if (!mm) why = phrase.why();
  return mm;
}

std::optional<double> parse_length(std::string_view text, Units units, std::string* why) {
  Message told;
  const std::optional<double> mm = parse_length(text, units, told);
  if (!mm && why != nullptr) *why = told.english();
  return mm;
}

std::string inches(double mm) { return in_parts_of_an_inch(mm, 32); }

std::string millimetres(double mm) { return one_decimal(mm, "mm"); }

std::string fine_in_units(double mm, Units units, bool up) {
  if (units == Units::in) return in_parts_of_an_inch(mm, 64, up);
  constexpr double kTenths = 10.0;
  const double shown_mm = up ? std::ceil(mm * kTenths - 1e-6) / kTenths : mm;
  return units == Units::cm ? one_decimal(shown_mm / 10.0, "cm") : millimetres(shown_mm);
}

Message length_said(double mm, Units units, bool up) {
  const std::string text = fine_in_units(mm, units, up);
  return units == Units::in ? message("{} in", text.substr(0, text.rfind(' '))) : Message::as_it_is(text);
}

std::string in_units(double mm, Units units) {
  switch (units) {
    case Units::in: return inches(mm);
    case Units::cm: return one_decimal(mm / 10.0, "cm");
    case Units::mm: break;
  }
  return millimetres(mm);
}

}  // namespace dryfit::model

#include "model/text/length.hpp"

#include <doctest/doctest.h>

#include <cmath>
#include <locale>
#include <string>

using namespace dryfit::model;

namespace {

struct Good {
  const char* text;
  Units units;
  double mm;
};

struct Bad {
  const char* text;
  const char* complaint;  ///< a part of the reason that must be told
};

}  // namespace

// 1 in = 25.4 mm exactly: international yard and pound agreement of 1959. The other numbers are arithmetic on it.
TEST_CASE("a length phrase is read as a builder writes it") {
  const Good phrases[] = {
      {"4-1/2", Units::in, 114.3},    {"4 1/2", Units::in, 114.3},
      {"3/4", Units::in, 19.05},      {"12", Units::in, 304.8},
      {"0", Units::in, 0.0},          {"9.5 in", Units::mm, 241.3},
      {"114 mm", Units::in, 114.0},   {"11 cm", Units::in, 110.0},
      {"11cm", Units::in, 110.0},     {"4-1/2\"", Units::mm, 114.3},
      {"4 1/2 \"", Units::cm, 114.3}, {"12", Units::mm, 12.0},
      {"12", Units::cm, 120.0},       {"0.75", Units::in, 19.05},
      {".75", Units::in, 19.05},      {"-1/2", Units::in, -12.7},
      {"-4-1/2", Units::in, -114.3},  {"-4 1/2 in", Units::mm, -114.3},
      {"  7 mm  ", Units::in, 7.0},   {"1/3", Units::mm, 1.0 / 3.0},
      {"5/4", Units::in, 31.75},      {"4-1/2 mm", Units::in, 4.5},
      {"4   1/2", Units::in, 114.3},  {"0.5 mm", Units::in, 0.5},
      {"0/4", Units::in, 0.0},        {"-0", Units::in, 0.0},
      {"100", Units::mm, 100.0},      {"47-15/16", Units::in, 1217.6125},
      {"4 in", Units::in, 101.6},     {"10.0", Units::mm, 10.0},
  };
  for (const Good& good : phrases) {
    CAPTURE(good.text);
    std::string why;
    const auto mm = parse_length(good.text, good.units, &why);
    REQUIRE_MESSAGE(mm.has_value(), why);
    CHECK(std::abs(*mm - good.mm) < 1e-9);
    CHECK_FALSE(std::signbit(*mm) != std::signbit(good.mm));
    CHECK(why.empty());
  }
}

TEST_CASE("what is no length is refused with the reason and what is expected") {
  const Bad phrases[] = {
      {"", "empty"},
      {"   ", "empty"},
      {"abc", "not a length"},
      {"nan", "not a length"},
      {"inf", "not a length"},
      {"-inf", "not a length"},
      {".inf", "missing after the point"},
      {"0x10", "'x10' is left over"},
      {"1/0", "denominator is zero"},
      {"4-1/0", "denominator is zero"},
      {"1e3", "powers of ten"},
      {"1E3", "powers of ten"},
      {"4,", "write a point"},
      {"4,5,6", "write a point"},
      {"4.", "missing after the point"},
      {".", "missing after the point"},
      {"4.5-1/2", "'-1/2' is left over"},
      {"4-5/4", "below 1"},
      {"4 4/4", "below 1"},
      {"4-1", "'-1' is left over"},
      {"4 1", "'1' is left over"},
      {"4 - 1/2", "'- 1/2' is left over"},
      {"4--1/2", "'--1/2' is left over"},
      {"--4", "not a length"},
      {"+4", "not a length"},
      {"- 4", "not a length"},
      {"1/", "digit is missing"},
      {"1/-2", "digit is missing"},
      {"/2", "not a length"},
      {"1/2/3", "'/3' is left over"},
      {"1 / 2", "'/ 2' is left over"},
      {"4 yd", "'yd' is left over"},
      {"4' 6", "left over"},
      {"4 in mm", "'in mm' is left over"},
      {"4\xE2\x80\x93"
       "1/2",
       "left over"},  // an en dash
      {"4\n1/2", "left over"},
      {"1_000", "'_000' is left over"},
  };
  for (const Bad& bad : phrases) {
    CAPTURE(bad.text);
    std::string why;
    CHECK_FALSE(parse_length(bad.text, Units::in, &why).has_value());
    CAPTURE(why);
    CHECK(why.find(bad.complaint) != std::string::npos);
    CHECK(why.find("write it like 4-1/2") != std::string::npos);
  }
  CHECK_FALSE(parse_length(std::string(400, '9'), Units::in).has_value());          // no finite double
  CHECK_FALSE(parse_length(std::string(308, '9') + " in", Units::mm).has_value());  // finite, but not in mm
}

TEST_CASE("a slip whose cure is plain is told with the cure, and nothing else") {
  const Bad slips[] = {
      {"152,4", "'152,4': decimal comma: write 152.4"},
      {"-4,5 mm", "'-4,5 mm': decimal comma: write -4.5 mm"},
      {"010", "'010': leave out the leading zero"},
      {"00", "'00': leave out the leading zero"},
      {"01.5", "'01.5': leave out the leading zero"},
      {"1/08", "'1/08': leave out the leading zero"},
      {"4 ft", "'4 ft': write 48 in"},
      {"2-1/2'", "'2-1/2'': write 30 in"},
      {"1.2 m", "'1.2 m': write 1200 mm"},
      {"4 MM", "'4 MM': write 4 mm"},
      {"6 inches", "'6 inches': write 6 in"},
      {"4-1/2 in.", "'4-1/2 in.': write 4.5 in"},
      {"\xC2\xBD", "'\xC2\xBD': write 1/2"},  // the one character for a half
      {"4\xC2\xBD mm", "'4\xC2\xBD mm': write 4-1/2 mm"},
      {"-4 \xE2\x85\x9C", "'-4 \xE2\x85\x9C': write -4-3/8"},  // three eighths
  };
  for (const Bad& slip : slips) {
    CAPTURE(slip.text);
    std::string why;
    CHECK_FALSE(parse_length(slip.text, Units::in, &why).has_value());
    CHECK(why == slip.complaint);
  }
}

TEST_CASE("fine lengths go to 1/64 in, and upward where they must not be less") {
  CHECK(fine_in_units(26.67, Units::in) == "1-3/64 in");  // 1.05 in is 67.2 of 64
  CHECK(fine_in_units(26.67, Units::in, true) == "1-1/16 in");
  CHECK(fine_in_units(25.4, Units::in, true) == "1 in");
  CHECK(fine_in_units(26.61, Units::mm) == "26.6 mm");
  CHECK(fine_in_units(26.61, Units::mm, true) == "26.7 mm");
  CHECK(fine_in_units(26.61, Units::cm, true) == "2.7 cm");
}

// Arithmetic on 25.4 mm: 1212.85 / 25.4 = 47.75; a thirty-second is 0.79375 mm.
TEST_CASE("inches are shop fractions to the nearest thirty-second, reduced") {
  CHECK(inches(1212.85) == "47-3/4 in");
  CHECK(inches(19.05) == "3/4 in");
  CHECK(inches(0.0) == "0 in");
  CHECK(inches(-1.5875) == "-1/16 in");
  CHECK(inches(-114.3) == "-4-1/2 in");
  CHECK(inches(25.4) == "1 in");
  CHECK(inches(0.39) == "0 in");  // just under half a thirty-second (0.396875 mm)
  CHECK(inches(0.40) == "1/32 in");
  CHECK(inches(-0.1) == "0 in");
  CHECK(inches(25.1) == "1 in");      // 31.62 thirty-seconds
  CHECK(inches(25.0) == "31/32 in");  // 31.496 thirty-seconds
  CHECK(inches(1e18).ends_with(" in"));
}

TEST_CASE("millimetres have one decimal when it is not zero") {
  CHECK(millimetres(1212.9) == "1212.9 mm");
  CHECK(millimetres(114.0) == "114 mm");
  CHECK(millimetres(-0.01) == "0 mm");
  CHECK(millimetres(0.06) == "0.1 mm");
  CHECK(millimetres(-12.34) == "-12.3 mm");
  CHECK(in_units(114.0, Units::cm) == "11.4 cm");
  CHECK(in_units(110.0, Units::cm) == "11 cm");
  CHECK(in_units(114.3, Units::in) == "4-1/2 in");
  CHECK(in_units(114.3, Units::mm) == "114.3 mm");
}

TEST_CASE("what is written is read back as the same thirty-second, tenth of a millimetre or millimetre") {
  for (int n = -2000; n <= 2000; ++n) {
    CAPTURE(n);
    const double part = n / 32.0 * 25.4;
    for (const Units units : {Units::in, Units::mm, Units::cm}) {
      const auto again = parse_length(inches(part), units);
      REQUIRE(again.has_value());
      CHECK(std::abs(*again - part) < 1e-9);
    }
    const auto tenth = parse_length(millimetres(n / 10.0), Units::in);
    REQUIRE(tenth.has_value());
    CHECK(std::abs(*tenth - n / 10.0) < 1e-9);
    const auto millimetre = parse_length(in_units(n, Units::cm), Units::in);
    REQUIRE(millimetre.has_value());
    CHECK(std::abs(*millimetre - n) < 1e-9);
  }
}

TEST_CASE("a decimal comma of the system changes nothing") {
  struct DecimalComma : std::numpunct<char> {
    char do_decimal_point() const override { return ','; }
    char do_thousands_sep() const override { return '.'; }
    std::string do_grouping() const override { return "\3"; }
  };
  const std::locale before = std::locale::global(std::locale(std::locale::classic(), new DecimalComma));
  const auto read = parse_length("1234.5 mm", Units::in);
  const std::string written = millimetres(1234.5);
  const std::string in_inches = inches(1234.0 * 25.4);
  std::locale::global(before);
  CHECK(read.value_or(0.0) == doctest::Approx(1234.5));
  CHECK(written == "1234.5 mm");
  CHECK(in_inches == "1234 in");
}

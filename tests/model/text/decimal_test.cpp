#include "model/text/decimal.hpp"

#include <doctest/doctest.h>

using dryfit::model::decimal_number;

TEST_CASE("a number is read whole and to the nearest double, or not at all") {
  CHECK(decimal_number("12") == 12.0);
  CHECK(decimal_number("-0.5") == -0.5);
  CHECK(decimal_number(".5") == 0.5);
  CHECK(decimal_number("5.") == 5.0);
  CHECK(decimal_number("1e3") == 1000.0);
  CHECK(decimal_number("25.4") == 25.4);
  CHECK(decimal_number("0.1") == 0.1);
  // Halfway between two doubles, and a hair above: ties go to the even one.
  CHECK(decimal_number("9007199254740993") == 9007199254740992.0);
  CHECK(decimal_number("9007199254740993.00000000000000000001") == 9007199254740994.0);
  CHECK(decimal_number("1.7976931348623157e308") == 1.7976931348623157e308);
  for (const char* text : {"", "-", ".", "+1", " 1", "1 ", "1,5", "1e", "1e+", "0x10", "1.2.3", "inf", "-inf", "nan",
                           "infinity", "1e999", "-1e999"}) {
    CAPTURE(text);
    CHECK_FALSE(decimal_number(text));
  }
}

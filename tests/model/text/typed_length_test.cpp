/// Lengths as a person types them into a frame file.
#include "model/text/typed_length.hpp"

#include <doctest/doctest.h>

#include "model/text/length.hpp"

using namespace dryfit::model;

TEST_CASE("a length is typed as a bare number, or with its unit where the frame's own cannot say it") {
  CHECK(typed_length(914.4, Units::in) == "36");
  CHECK(typed_length(117.475, Units::in) == "4-5/8");
  CHECK(typed_length(25.4 / 64.0, Units::in) == "1/64");
  CHECK(typed_length(-25.4 * 1.5, Units::in) == "-1-1/2");
  CHECK(typed_length(811.33, Units::in) == "811.33 mm");
  CHECK(typed_length(811.33, Units::mm) == "811.33");
  CHECK(typed_length(900.0, Units::mm) == "900");
  CHECK(typed_length(905.0, Units::cm) == "90.5");
  CHECK(typed_length(1234.56, Units::cm) == "123.456");
}

TEST_CASE("what was typed is read as the same length to a hundredth of a millimetre") {
  for (const Units units : {Units::in, Units::mm, Units::cm}) {
    for (double mm = 0.37; mm < 4000.0; mm += 7.3) {
      const auto back = parse_length(typed_length(mm, units), units);
      REQUIRE(back);
      CHECK(*back == doctest::Approx(mm).epsilon(0.0051 / mm).scale(0.0));
    }
  }
}

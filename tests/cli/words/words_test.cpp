#include "cli/words/words.hpp"

#include <doctest/doctest.h>

#include "cli/words/lengths.hpp"

using namespace dryfit;
using namespace dryfit::cli;

TEST_CASE("a list reads like speech") {
  CHECK(listed({}) == "");
  CHECK(listed({"A"}) == "A");
  CHECK(listed({"A", "B"}) == "A and B");
  CHECK(listed_or({"A", "B", "C"}) == "A, B or C");
  CHECK(listed_briefly({"A", "B", "C", "D"}, 2) == "A, B and 2 more");
  CHECK(listed_briefly({"A", "B", "C"}, 2) == "A, B and C");
}

TEST_CASE("turns are told to the nearest quarter") {
  CHECK(turns_in_words(4.746) == "4¾ turns");
  CHECK(turns_in_words(4.9) == "5 turns");
  CHECK(turns_in_words(1.0) == "1 turn");
  CHECK(turns_in_words(0.5) == "½ turn");
  CHECK(turns_in_words(1.25) == "1¼ turns");
  CHECK(turns_in_words(0.05) == "less than ¼ turn");
}

// International yard and pound agreement of 1959: 1 lb = 0.45359237 kg. 23 kg are 50.7 lb, 1 kg is 2.205 lb.
TEST_CASE("weights are told in the frame's own system") {
  CHECK(weight(23.0, model::Units::mm) == "23 kg");
  CHECK(weight(23.0, model::Units::in) == "51 lb");
  CHECK(weight(1.0, model::Units::in) == "2.2 lb");
}

TEST_CASE("inches are told as fractions: to 1/32 for a tape, to 1/64 for a clearance") {
  const Lengths inches(model::Units::in);
  CHECK(inches(25.4 * 4.5) == "4-1/2 in");
  CHECK(inches(25.4 * (2.0 + 3.0 / 32.0)) == "2-3/32 in");
  CHECK(inches(25.4 * 1.999) == "2 in");
  CHECK(inches(-25.4 / 8.0) == "-1/8 in");
  CHECK(inches.fine(25.4 * 5.0 / 64.0) == "5/64 in");
  CHECK(inches.fine(0.1) == "less than 1/64 in");
  CHECK(inches.fine(0.0) == "0 in");
  CHECK(Lengths(model::Units::mm).fine(0.12) == "0.1 mm");
}

TEST_CASE("directions are said the way a helper is told") {
  CHECK(going(model::kFront) == "forward");
  CHECK(coming_from(model::kRight) == "from the left");
  CHECK(coming_from(model::kFront) == "from behind");
  CHECK(coming_from(model::kUp) == "from below");
  CHECK(side(model::kDown) == "lower");
  CHECK(going({-1, 0, 1}) == "up and to the left");
  CHECK(nearest_direction({3.0, 0.1, 0.0}) == model::kRight);
  CHECK(nearest_direction({-2.0, 0.0, 2.1}) == model::Direction{-1, 0, 1});
  CHECK_FALSE(nearest_direction({}).valid());
}

TEST_CASE("long lines break at blanks and hang") {
  CHECK(wrapped("aa bb cc", 2, 7) == "aa bb\n  cc");
  CHECK(wrapped("aaaaaaaaaaaa b", 2, 7) == "aaaaaaaaaaaa\n  b");
  CHECK(wrapped("", 2, 7) == "");
}

TEST_CASE("what has to be there at least is rounded up, and what is whole stays") {
  using dryfit::cli::rounded_up_text;
  CHECK(rounded_up_text(2031.2, dryfit::model::Units::mm) == "2032 mm");
  CHECK(rounded_up_text(2031.0, dryfit::model::Units::mm) == "2031 mm");
  CHECK(rounded_up_text(2031.2, dryfit::model::Units::cm) == "203.2 cm");
  CHECK(rounded_up_text(25.4 * 80.0, dryfit::model::Units::in) == "80 in");
  CHECK(rounded_up_text(25.4 * (80.0 + 1.0 / 64.0), dryfit::model::Units::in) == "80-1/16 in");
}

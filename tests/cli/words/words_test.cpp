#include "cli/words/words.hpp"

#include <doctest/doctest.h>

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
  CHECK(turns_in_words(4.746) == "4-3/4 turns");
  CHECK(turns_in_words(4.9) == "5 turns");
  CHECK(turns_in_words(1.0) == "1 turn");
  CHECK(turns_in_words(0.5) == "1/2 turn");
  CHECK(turns_in_words(1.25) == "1-1/4 turns");
  CHECK(turns_in_words(0.05) == "less than 1/4 turn");
}

// International yard and pound agreement of 1959: 1 lb = 0.45359237 kg. 23 kg are 50.7 lb, 1 kg is 2.205 lb.
TEST_CASE("weights name the frame's own unit first") {
  CHECK(weight(23.0, model::Units::mm) == "23 kg (51 lb)");
  CHECK(weight(23.0, model::Units::in) == "51 lb (23 kg)");
  CHECK(weight(1.0, model::Units::in) == "2.2 lb (1.0 kg)");
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

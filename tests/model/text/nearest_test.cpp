#include "model/text/nearest.hpp"

#include <doctest/doctest.h>

using dryfit::model::edit_distance;
using dryfit::model::nearest_word;

TEST_CASE("two swapped, one missing, one extra or one wrong letter are one edit each") {
  CHECK(edit_distance("tee", "tee") == 0);
  CHECK(edit_distance("ete", "tee") == 1);
  CHECK(edit_distance("cuopling", "coupling") == 1);
  CHECK(edit_distance("flang", "flange") == 1);
  CHECK(edit_distance("caps", "cap") == 1);
  CHECK(edit_distance("tea", "tee") == 1);
  CHECK(edit_distance("", "cap") == 3);
}

TEST_CASE("the nearest word is the one somebody probably meant") {
  CHECK(nearest_word("tea", {"elbow", "tee", "cap"}) == "tee");
  CHECK(nearest_word("Coupling", {"cap", "coupling"}) == "coupling");
  CHECK(nearest_word("strete-elbow", {"elbow", "street-elbow"}) == "street-elbow");
}

TEST_CASE("a word that is like nothing gets no suggestion") {
  CHECK_FALSE(nearest_word("banister", {"elbow", "tee", "cap"}).has_value());
  CHECK_FALSE(nearest_word("", {"elbow"}).has_value());
  CHECK_FALSE(nearest_word("x", {"y"}).has_value());
  CHECK_FALSE(nearest_word(std::string(1000, 'e'), {"elbow"}).has_value());
}

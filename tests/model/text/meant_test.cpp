#include "model/text/meant.hpp"

#include <doctest/doctest.h>

namespace {

using dryfit::model::did_you_mean_one_of;
using dryfit::model::meant_by;

const std::vector<std::string> kKinds{"pipe", "coupling", "elbow", "elbow45", "tee", "cap", "flange", "union"};
const std::vector<std::string> kBoard{"size", "through", "notch", "rests-on", "hole", "fix", "strap", "stock"};

TEST_CASE("other names of the trade lead to the word of the format") {
  CHECK(meant_by("nipple", kKinds) == "pipe");
  CHECK(meant_by("Nipples", kKinds) == "pipe");
  CHECK(meant_by("90", kKinds) == "elbow");
  CHECK(meant_by("elbow_45", kKinds) == "elbow45");
  CHECK(meant_by("floor flange", kKinds) == "flange");
  CHECK(meant_by("socket", kKinds) == "coupling");
  CHECK(meant_by("Muffe", kKinds) == "coupling");
  CHECK(meant_by("screw", kBoard) == "fix");
  CHECK(meant_by("screws", kBoard) == "fix");
  CHECK(meant_by("slots", kBoard) == "notch");
  CHECK(meant_by("wood", kBoard) == "stock");
}

TEST_CASE("a word that means nothing here is left to the spelling") {
  CHECK_FALSE(meant_by("screw", kKinds));  // no part is called so
  CHECK_FALSE(meant_by("", kKinds));
  CHECK_FALSE(meant_by("pipe", kKinds));
  CHECK(did_you_mean_one_of("couplin", kKinds).english() == "; did you mean 'coupling'?");
  CHECK(did_you_mean_one_of("nipple", kKinds).english() == "; did you mean 'pipe'?");
  CHECK(did_you_mean_one_of("hinge", kBoard).empty());
}

}  // namespace

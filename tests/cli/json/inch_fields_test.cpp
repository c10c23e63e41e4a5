// Inches beside millimetres in JSON.
#include "cli/json/inch_fields.hpp"

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

using dryfit::cli::Json;
using dryfit::cli::with_inches;

// Arithmetic on 25.4 mm: 34.925 is 1.375 in, -6.35 is -1/4 in, and 10 mm in 1 m are 0.12 in 12 in.
TEST_CASE("every length in mm is followed by decimal inches and a shop fraction when inches are asked for") {
  const Json in = {{"name", "x"}, {"hole_mm", 34.925}, {"gap_mm", {25.4, -6.35, 0.0}}, {"carrier_mm", nullptr}};
  const Json out = with_inches(in, "both");
  CHECK(out.dump() == R"({"name":"x","hole_mm":34.925,"hole_in":1.375,"hole_fraction_in":"1-3/8",)"
                      R"("gap_mm":[25.4,-6.35,0.0],"gap_in":[1.0,-0.25,0.0],"gap_fraction_in":["1","-1/4","0"],)"
                      R"("carrier_mm":null,"carrier_in":null,"carrier_fraction_in":null})");
  CHECK(with_inches(in, "in") == out);
}

TEST_CASE("without being asked for, or for mm, the document stays as it is") {
  const Json in = {{"hole_mm", 34.925}};
  CHECK(with_inches(in, "") == in);
  CHECK(with_inches(in, "mm") == in);
}

TEST_CASE("slopes are given per foot, nested documents and lists are gone through, what is there already stays") {
  const Json in = {{"levels", {{{"slope_mm_per_m", 10.0}}}}, {"length_mm", 50.8}, {"length_in", 2.0}};
  CHECK(with_inches(in, "in").dump() == R"({"levels":[{"slope_mm_per_m":10.0,"slope_in_per_ft":0.12}],)"
                                        R"("length_mm":50.8,"length_fraction_in":"2","length_in":2.0})");
}

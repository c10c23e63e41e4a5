// Pipe and fitting tables against mass formulae, each other and the thread standards.
#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "model/geometry/at.hpp"
#include "model/standards/standards.hpp"
#include "tests/support/frames/near.hpp"

using namespace dryfit::model;
using dryfit::tests::near;

namespace {

constexpr int kSizeCount = 12;  // 1/8 to 4, as model/data/pipe.csv has them

std::optional<double> mm(Standard standard, int size, Dimension which) {
  const auto found = dimension(standard, size, which);
  return found ? std::optional<double>(found->value) : std::nullopt;
}

double need(Standard standard, int size, Dimension which) {
  const auto found = mm(standard, size, which);
  REQUIRE_MESSAGE(found.has_value(), nominal_sizes()[dryfit::at(size)] << " " << word_for(which));
  return *found;
}

}  // namespace

TEST_CASE("ASME B36.10M: plain-end weight is 10.69 (D - t) t lb/ft to 0.011 lb/ft at every size") {
  // 10.69 = pi x 12 in x 0.2836 lb/in3, steel of 7850 kg/m3. The weights are printed to 0.01 lb/ft, so they may be off
  // by half of that; the rest of the allowance is for the rounding of the walls.
  for (int size = 0; size < kSizeCount; ++size) {
    CAPTURE(size);
    const double d = need(Standard::npt, size, Dimension::pipe_od) / 25.4;
    const double t = need(Standard::npt, size, Dimension::pipe_wall) / 25.4;
    const double pounds_per_foot = need(Standard::npt, size, Dimension::pipe_mass_per_m) * 0.3048 / 0.45359237;
    CHECK(near(pounds_per_foot, 10.69 * (d - t) * t, 0.011));
  }
}

TEST_CASE("ASME B36.10M schedule 40 (secondary, a table in mm): wall thickness") {
  const double printed[] = {1.73, 2.24, 2.31, 2.77, 2.87, 3.38, 3.56, 3.68, 3.91, 5.16, 5.49, 6.02};
  for (int size = 0; size < kSizeCount; ++size) {
    CAPTURE(size);
    CHECK(near(need(Standard::npt, size, Dimension::pipe_wall), printed[size], 0.006));
  }
}

TEST_CASE("ASME B36.10M: weights that no page showed are marked as from memory") {
  for (int size = 0; size < kSizeCount; ++size) {
    CAPTURE(size);
    const Confidence expected = size < 3 ? Confidence::secondary : Confidence::memory;
    CHECK(dimension(Standard::npt, size, Dimension::pipe_mass_per_m)->confidence == expected);
  }
}

TEST_CASE("EN 10255 medium: mass is 0.02466 (D - t) t kg/m to 1 %, diameters lie in their limits") {
  // 0.02466 = pi x 7.85 / 1000: steel of 7.85 kg/dm3, the density that EN 10255 and EN 10220 reckon with.
  for (int size = 0; size <= *nominal_size("2"); ++size) {
    CAPTURE(size);
    const double d = need(Standard::iso7, size, Dimension::pipe_od);
    const double t = need(Standard::iso7, size, Dimension::pipe_wall);
    CHECK(need(Standard::iso7, size, Dimension::pipe_mass_per_m) ==
          doctest::Approx(0.02466 * (d - t) * t).epsilon(0.01));
    CHECK(d > need(Standard::iso7, size, Dimension::pipe_od_min));  // limits from memory, unconfirmed
    CHECK(d < need(Standard::iso7, size, Dimension::pipe_od_max));
    CHECK(near(d, need(Standard::npt, size, Dimension::pipe_od), 0.3));  // one family of pipe, two roundings
  }
  CHECK_FALSE(mm(Standard::iso7, *nominal_size("2-1/2"), Dimension::pipe_od).has_value());
}

TEST_CASE("EN 10242: centre-to-face less z is the ISO 7-1 useful thread to 0.6 mm (EN from memory, ISO secondary)") {
  int checked = 0;
  for (int size = 0; size <= *nominal_size("2"); ++size) {
    CAPTURE(size);
    const double thread = need(Standard::iso7, size, Dimension::useful_thread);
    const auto check = [&](Dimension whole, Dimension bare, double sides) {
      const auto a = mm(Standard::iso7, size, whole);
      const auto z = mm(Standard::iso7, size, bare);
      if (!a || !z) return;
      CHECK(near((*a - *z) / sides, thread, 0.6001));
      CHECK(near((*a - *z) / sides, need(Standard::iso7, size, Dimension::average_insertion), 1e-9));
      ++checked;
    };
    check(Dimension::centre_to_end, Dimension::centre_to_pipe, 1.0);
    check(Dimension::centre_to_end_45, Dimension::centre_to_pipe_45, 1.0);
    check(Dimension::coupling_length, Dimension::coupling_gap, 2.0);
    check(Dimension::union_length, Dimension::union_gap, 2.0);
  }
  // The rows of model/data/fittings.csv: elbows and couplings 1/8 to 2, 45 degree elbows from 3/8, unions from 1/4.
  CHECK(checked == 9 + 7 + 9 + 8);
}

TEST_CASE("fittings are deep enough for the thread (from memory: plausibility only)") {
  for (const Standard standard : {Standard::npt, Standard::iso7}) {
    const int last = standard == Standard::npt ? kSizeCount - 1 : *nominal_size("2");
    for (int size = 0; size <= last; ++size) {
      CAPTURE(size);
      const double wrench = need(standard, size, Dimension::wrench_engagement);
      CHECK(need(standard, size, Dimension::centre_to_end) > wrench);
      CHECK(need(standard, size, Dimension::coupling_length) > 2.0 * wrench);
      CHECK(need(standard, size, Dimension::cap_height) > wrench);
      CHECK(need(standard, size, Dimension::band) > need(standard, size, Dimension::pipe_od));
      if (const auto union_length = mm(standard, size, Dimension::union_length)) CHECK(*union_length > 2.0 * wrench);
      if (const auto street = mm(standard, size, Dimension::street_male)) {
        CHECK(*street > need(standard, size, Dimension::centre_to_end));
      }
    }
  }
}

TEST_CASE("ASME B16.3 and EN 10242 centre-to-end differ by less than 1.5 mm (both from memory)") {
  for (int size = 0; size <= *nominal_size("2"); ++size) {
    CAPTURE(size);
    const double inch = need(Standard::npt, size, Dimension::centre_to_end);
    CHECK(near(inch, need(Standard::iso7, size, Dimension::centre_to_end), 1.5));
  }
}

TEST_CASE("side outlets are as long as the elbow where the table has them") {
  for (const Standard standard : {Standard::npt, Standard::iso7}) {
    int checked = 0;
    for (int size = 0; size < kSizeCount; ++size) {
      const auto side = mm(standard, size, Dimension::side_outlet_centre_to_end);
      if (!side) continue;
      ++checked;
      CHECK(near(*side, need(standard, size, Dimension::centre_to_end), 1e-9));
    }
    CHECK(checked == (standard == Standard::npt ? 8 : 7));  // the rows of model/data/fittings.csv
  }
}

TEST_CASE("a row that one standard lacks is taken over from the same nominal size, and says so") {
  for (int size = 0; size <= *nominal_size("2"); ++size) {
    CAPTURE(size);
    for (const Dimension which : {Dimension::band, Dimension::flange_plate, Dimension::flange_height}) {
      const auto inch = dimension(Standard::npt, size, which);
      const auto metric = dimension(Standard::iso7, size, which);
      REQUIRE(inch.has_value() == metric.has_value());
      if (!inch) continue;
      CHECK(inch->value == metric->value);
      CHECK(metric->confidence == Confidence::memory);
      CHECK(metric->source.find("taken over") != std::string_view::npos);
    }
    CHECK(mm(Standard::npt, size, Dimension::union_length) == mm(Standard::iso7, size, Dimension::union_length));
  }
}

TEST_CASE("a flange's plate is the mean of what is sold (from memory)") {
  for (int size = *nominal_size("3/8"); size <= *nominal_size("2"); ++size) {
    CAPTURE(size);
    const double low = need(Standard::npt, size, Dimension::flange_plate_low);
    const double high = need(Standard::npt, size, Dimension::flange_plate_high);
    CHECK(low <= high);
    CHECK(near(need(Standard::npt, size, Dimension::flange_plate), (low + high) / 2.0, 0.02));
    CHECK(need(Standard::npt, size, Dimension::flange_screws) == 4.0);  // common practice, no source
    CHECK(need(Standard::npt, size, Dimension::flange_screw_circle) < low);
  }
}

TEST_CASE("plugs and bushings reach at least hand-tight (from memory)") {
  for (const Standard standard : {Standard::npt, Standard::iso7}) {
    for (int size = 0; size <= *nominal_size("2"); ++size) {
      CAPTURE(size);
      const double hand = need(standard, size, Dimension::hand_engagement);
      CHECK(need(standard, size, Dimension::plug_male) > hand);
      CHECK(need(standard, size, Dimension::plug_head) > 0.0);
      if (size == 0) continue;  // the smallest bushing is 1/4 outside
      CHECK(need(standard, size, Dimension::bushing_male) > hand);
      CHECK(need(standard, size, Dimension::bushing_head) > 0.0);
    }
  }
}

TEST_CASE("what is from memory is marked so, and nothing else is") {
  int from_memory = 0;
  int known = 0;
  for (const Standard standard : {Standard::npt, Standard::iso7}) {
    for (int size = 0; size < kSizeCount; ++size) {
      for (int which = 0; which <= static_cast<int>(Dimension::flange_screw_circle); ++which) {
        const auto found = dimension(standard, size, static_cast<Dimension>(which));
        if (!found) continue;
        CAPTURE(size);
        CAPTURE(word_for(static_cast<Dimension>(which)));
        CHECK_FALSE(found->source.empty());
        CHECK(std::isfinite(found->value));
        CHECK(found->value > 0.0);
        const bool admits = found->source.find("from memory") != std::string_view::npos;
        CHECK(admits == (found->confidence == Confidence::memory));
        ++(admits ? from_memory : known);
      }
    }
  }
  // Floors set by hand, so that an empty table cannot pass.
  CHECK(from_memory > 400);
  CHECK(known > 200);
}

TEST_CASE("dimensions outside the tables are absent, not zero") {
  CHECK_FALSE(dimension(Standard::npt, -1, Dimension::pipe_od).has_value());
  CHECK_FALSE(dimension(Standard::npt, kSizeCount, Dimension::pipe_od).has_value());
  CHECK_FALSE(dimension(Standard::npt, 0, Dimension::centre_to_end_45).has_value());
  CHECK_FALSE(dimension(Standard::iso7, 0, Dimension::union_length).has_value());
}

TEST_CASE("nominal sizes are read with a hyphen or a space and nothing else") {
  for (std::size_t n = 0; n < nominal_sizes().size(); ++n) {
    CHECK(nominal_size(nominal_sizes()[n]) == static_cast<int>(n));
  }
  CHECK(nominal_size("1 1/4") == nominal_size("1-1/4"));
  for (const char* wrong : {"", "5/8", "1.25", "1/4 ", " 1/4", "1--1/4", "5", "3/4 in", "1  1/4"}) {
    CAPTURE(wrong);
    CHECK_FALSE(nominal_size(wrong).has_value());
  }
}

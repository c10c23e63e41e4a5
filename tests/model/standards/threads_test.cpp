// Pipe threads against ASME B1.20.1 and ISO 7-1. The numbers here are copied once more from pages that reproduce the
// standards ("secondary"), not from model/data, so that a slip in either is seen.
#include <doctest/doctest.h>

#include <cmath>

#include "model/standards/standards.hpp"
#include "tests/support/frames/near.hpp"

using namespace dryfit::model;
using dryfit::tests::near;

namespace {

double inches_of(Standard standard, const char* size, Dimension which) {
  const auto found = dimension(standard, nominal_size(size).value(), which);
  REQUIRE_MESSAGE(found.has_value(), size << " " << word_for(which));
  return found->value / 25.4;
}

double mm_of(Standard standard, const char* size, Dimension which) { return 25.4 * inches_of(standard, size, which); }

Confidence confidence_of(Standard standard, const char* size, Dimension which) {
  return dimension(standard, nominal_size(size).value(), which).value().confidence;
}

/// ASME B1.20.1 Table 2 in inches, secondary: D, n, L1, L2, turns of L3, V.
struct NptRow {
  const char* size;
  double d, n, l1, l2, turns, v;
};
constexpr NptRow kNpt[] = {
    {"1/8", 0.405, 27, 0.1615, 0.2639, 3, 0.1285},    {"1/4", 0.540, 18, 0.2278, 0.4018, 3, 0.1928},
    {"3/8", 0.675, 18, 0.240, 0.4078, 3, 0.1928},     {"1/2", 0.840, 14, 0.320, 0.5337, 3, 0.2478},
    {"3/4", 1.050, 14, 0.339, 0.5457, 3, 0.2478},     {"1", 1.315, 11.5, 0.400, 0.6828, 3, 0.3017},
    {"1-1/4", 1.660, 11.5, 0.420, 0.7068, 3, 0.3017}, {"1-1/2", 1.900, 11.5, 0.420, 0.7235, 3, 0.3017},
    {"2", 2.375, 11.5, 0.436, 0.7565, 3, 0.3017},     {"2-1/2", 2.875, 8, 0.682, 1.1375, 2, 0.4337},
    {"3", 3.500, 8, 0.766, 1.2000, 2, 0.4337},        {"4", 4.500, 8, 0.844, 1.3000, 2, 0.4337}};

/// ISO 7-1 / EN 10226-1 Table 1 in mm, secondary: pitch, threads per inch, gauge diameter, gauge length, useful thread.
struct IsoRow {
  const char* size;
  double pitch, n, gauge_diameter, gauge_length, useful;
};
constexpr IsoRow kIso[] = {{"1/8", 0.907, 28, 9.728, 4.0, 6.5},      {"1/4", 1.337, 19, 13.157, 6.0, 9.7},
                           {"3/8", 1.337, 19, 16.662, 6.4, 10.1},    {"1/2", 1.814, 14, 20.955, 8.2, 13.2},
                           {"3/4", 1.814, 14, 26.441, 9.5, 14.5},    {"1", 2.309, 11, 33.249, 10.4, 16.8},
                           {"1-1/4", 2.309, 11, 41.910, 12.7, 19.1}, {"1-1/2", 2.309, 11, 47.803, 12.7, 19.1},
                           {"2", 2.309, 11, 59.614, 15.9, 23.4},     {"2-1/2", 2.309, 11, 75.184, 17.5, 26.7},
                           {"3", 2.309, 11, 87.884, 20.6, 29.8},     {"4", 2.309, 11, 113.030, 25.4, 35.8}};

}  // namespace

TEST_CASE("ASME B1.20.1: the effective thread is L2 = (0.80 D + 6.8) / n at every size") {
  for (const NptRow& row : kNpt) {
    CAPTURE(row.size);
    const double d = inches_of(Standard::npt, row.size, Dimension::pipe_od);
    const double n = dimension(Standard::npt, *nominal_size(row.size), Dimension::threads_per_inch)->value;
    CHECK(near(inches_of(Standard::npt, row.size, Dimension::useful_thread), (0.80 * d + 6.8) / n, 0.0001));
  }
}

TEST_CASE("ASME B1.20.1 Table 2 (secondary): diameter, pitch, L1, L2, L3, V and L4 as printed") {
  for (const NptRow& row : kNpt) {
    CAPTURE(row.size);
    const auto value = [&](Dimension which) { return inches_of(Standard::npt, row.size, which); };
    CHECK(near(value(Dimension::pipe_od), row.d, 1e-9));
    CHECK(near(value(Dimension::pitch), 1.0 / row.n, 1e-9));
    CHECK(near(value(Dimension::hand_engagement), row.l1, 1e-9));
    CHECK(near(value(Dimension::useful_thread), row.l2, 1e-9));
    CHECK(near(value(Dimension::wrench_allowance), row.turns / row.n, 0.0001));
    CHECK(near(value(Dimension::wrench_engagement), row.l1 + row.turns / row.n, 0.0001));
    CHECK(near(value(Dimension::vanish_thread), row.v, 1e-9));
    CHECK(near(value(Dimension::overall_thread), row.l2 + row.v, 0.0001));
  }
}

TEST_CASE("ASME B1.20.1 Table 2 (secondary): hand-tight turns as printed give L1") {
  const struct {
    const char* size;
    double turns;
  } printed[] = {{"1/8", 4.36}, {"1/4", 4.10}, {"1-1/2", 4.83}};
  for (const auto& row : printed) {
    CAPTURE(row.size);
    const double l1 = inches_of(Standard::npt, row.size, Dimension::hand_engagement);
    CHECK(near(l1 / inches_of(Standard::npt, row.size, Dimension::pitch), row.turns, 0.005));
  }
  // The fourth decimal of these two is arithmetic on the turns, and the table says so.
  CHECK(confidence_of(Standard::npt, "1/8", Dimension::hand_engagement) == Confidence::derived);
  CHECK(confidence_of(Standard::npt, "1/4", Dimension::hand_engagement) == Confidence::derived);
  CHECK(confidence_of(Standard::npt, "1/2", Dimension::hand_engagement) == Confidence::secondary);
}

TEST_CASE("handbooks' approximate make-up (secondary, two pages agree) lies between hand-tight and L1 + L3") {
  const struct {
    const char* size;
    double make_up;
  } printed[] = {{"1/8", 1.0 / 4}, {"1/4", 3.0 / 8},   {"3/8", 3.0 / 8},    {"1/2", 7.0 / 16},
                 {"3/4", 1.0 / 2}, {"1", 9.0 / 16},    {"1-1/4", 9.0 / 16}, {"1-1/2", 9.0 / 16},
                 {"2", 5.0 / 8},   {"2-1/2", 7.0 / 8}, {"3", 1.0},          {"4", 17.0 / 16}};
  for (const auto& row : printed) {
    CAPTURE(row.size);
    CHECK(row.make_up > inches_of(Standard::npt, row.size, Dimension::hand_engagement));
    CHECK(row.make_up < inches_of(Standard::npt, row.size, Dimension::wrench_engagement));
  }
}

TEST_CASE("ISO 7-1 Table 1 (secondary): pitch, gauge diameter, gauge length and useful thread as printed") {
  for (const IsoRow& row : kIso) {
    CAPTURE(row.size);
    const auto value = [&](Dimension which) { return mm_of(Standard::iso7, row.size, which); };
    CHECK(near(value(Dimension::pitch), row.pitch, 1e-9));
    CHECK(near(row.pitch, 25.4 / row.n, 0.0005));
    CHECK(near(value(Dimension::gauge_diameter), row.gauge_diameter, 1e-9));
    CHECK(near(value(Dimension::hand_engagement), row.gauge_length, 1e-9));
    CHECK(near(value(Dimension::useful_thread), row.useful, 1e-9));
    CHECK(near(value(Dimension::fitting_allowance), row.useful - row.gauge_length, 0.051));
    CHECK(confidence_of(Standard::iso7, row.size, Dimension::hand_engagement) == Confidence::secondary);
  }
}

TEST_CASE("ISO 7-1: allowances are their turns times the pitch (turns from memory, unconfirmed)") {
  for (const IsoRow& row : kIso) {
    CAPTURE(row.size);
    const int size = *nominal_size(row.size);
    const double fitting_turns = dimension(Standard::iso7, size, Dimension::fitting_allowance_turns)->value;
    const double wrench_turns = dimension(Standard::iso7, size, Dimension::wrench_allowance_turns)->value;
    CHECK(near(mm_of(Standard::iso7, row.size, Dimension::fitting_allowance), fitting_turns * row.pitch, 0.1));
    CHECK(near(mm_of(Standard::iso7, row.size, Dimension::wrench_allowance), wrench_turns * row.pitch, 0.06));
    CHECK(near(mm_of(Standard::iso7, row.size, Dimension::wrench_engagement),
               row.gauge_length + mm_of(Standard::iso7, row.size, Dimension::wrench_allowance), 1e-9));
    CHECK(confidence_of(Standard::iso7, row.size, Dimension::wrench_engagement) == Confidence::memory);
    CHECK(confidence_of(Standard::iso7, row.size, Dimension::fitting_allowance_turns) == Confidence::memory);
  }
}

TEST_CASE("a joint is tighter by wrench than by hand, and never past the useful thread by more than half a turn") {
  for (const Standard standard : {Standard::npt, Standard::iso7}) {
    for (const std::string& size : nominal_sizes()) {
      CAPTURE(size);
      const double hand = mm_of(standard, size.c_str(), Dimension::hand_engagement);
      const double wrench = mm_of(standard, size.c_str(), Dimension::wrench_engagement);
      CHECK(hand < wrench);
      CHECK(wrench <= mm_of(standard, size.c_str(), Dimension::useful_thread) +
                          0.5 * mm_of(standard, size.c_str(), Dimension::pitch));
    }
  }
}

// Lengths from stock pieces: the manuals' cut-length rules, completeness, and the order of the answers.
#include "planner/shop/span.hpp"

#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>

#include "model/frame/message.hpp"
#include "model/standards/standards.hpp"
#include "model/text/length.hpp"
#include "planner/base/stock.hpp"

using namespace dryfit;
using namespace dryfit::planner;
using model::MakeUp;
using model::Standard;

namespace {

bool same_span(double a, double b, double tolerance = 0.005) { return std::abs(a - b) <= tolerance; }

SpanEnd end_in(const char* size, const char* word, Measure measure, MakeUp make_up = MakeUp::wrench) {
  model::Message why;
  const auto end = span_end(Standard::npt, make_up, *model::nominal_size(size), word, measure, &why);
  REQUIRE_MESSAGE(end, why.english());
  return *end;
}

/// What to cut for a length between two ends, inches.
double cut(double length, const char* size, const char* first, const char* second, Measure measure) {
  return length - (end_in(size, first, measure).take_off + end_in(size, second, measure).take_off) / model::kMmPerInch;
}

SpanQuery between(double inches, const char* size, const char* first, const char* second,
                  MakeUp make_up = MakeUp::hand) {
  SpanQuery query;
  query.make_up = make_up;
  query.size = *model::nominal_size(size);
  query.length = inches * model::kMmPerInch;
  query.ends = {end_in(size, first, Measure::centre, make_up), end_in(size, second, Measure::centre, make_up)};
  return query;
}

}  // namespace

TEST_CASE("Army plumbing lessons: face to face, cut = F + e1 + e2") {
  // Engagement: L1 + L3 of ASME B1.20.1 (secondary): 0.5343 in for 1/2, 0.5533 in for 3/4, 0.6609 in for 1.
  CHECK(same_span(cut(24, "1/2", "elbow", "elbow", Measure::face), 24 + 2 * 0.5343, 0.0005));
  CHECK(same_span(cut(36, "3/4", "tee", "elbow", Measure::face), 36 + 2 * 0.5533, 0.0005));
  CHECK(same_span(cut(18, "1", "tee", "end", Measure::face), 18 + 0.6609, 0.0005));
}

TEST_CASE("Army plumbing lessons: centre to centre, cut = C - d1 - d2 + e1 + e2") {
  // Centre-to-end of the fittings (1.12, 1.31 and 1.50 in) is from memory, so this checks the rule, not the table.
  CHECK(same_span(cut(24, "1/2", "elbow", "elbow", Measure::centre), 24 - 2 * 1.12 + 2 * 0.5343));
  CHECK(same_span(cut(36, "3/4", "elbow", "tee", Measure::centre), 36 - 2 * 1.31 + 2 * 0.5533));
  CHECK(same_span(cut(18, "1", "tee", "tee", Measure::centre), 18 - 2 * 1.50 + 2 * 0.6609));
}

TEST_CASE("Army plumbing lessons: end to end, what is asked for is what is cut") {
  CHECK(same_span(cut(30, "1", "tee", "elbow", Measure::end), 30));
  CHECK(same_span(cut(30, "1", "end", "end", Measure::centre), 30));
}

TEST_CASE("the list of bags is complete: the same as trying every bag of up to three pieces") {
  const std::vector<double> lengths = stock_lengths(model::Standard::npt, *model::nominal_size("1"));
  REQUIRE(lengths.size() > 20);  // 25 rows of model/data/stock.csv, mill length and close nipple among them
  const double gap = 22.0;       // invented, near 1.67 - 2 x 0.400 in; widen is near two pitches
  for (const double wanted : {305.0, 700.0, 1212.8, 1900.0}) {
    CAPTURE(wanted);
    const double lo = wanted - 1.0;
    const double hi = wanted + 1.0;
    const double widen = 4.4;
    std::size_t count = 0;
    const auto inside = [&](double sum, int n) { return sum >= lo - n * widen && sum <= hi + n * widen; };
    for (std::size_t a = 0; a < lengths.size(); ++a) {
      count += inside(lengths[a], 1) ? 1U : 0U;
      for (std::size_t b = 0; b <= a; ++b) {
        count += inside(lengths[a] + lengths[b] + gap, 2) ? 1U : 0U;
        for (std::size_t c = 0; c <= b; ++c)
          count += inside(lengths[a] + lengths[b] + lengths[c] + 2 * gap, 3) ? 1U : 0U;
      }
    }
    const std::vector<StockSum> found = stock_sums(lengths, gap, lo, hi, widen, 3);
    CHECK(found.size() == count);
    for (const StockSum& sum : found) {
      CHECK(std::is_sorted(sum.pieces.rbegin(), sum.pieces.rend()));
      CHECK(inside(sum.length, static_cast<int>(sum.pieces.size())));
    }
  }
}

TEST_CASE("a stock nipple that fits exactly comes first") {
  // 1 in, hand-tight, elbow to tee: 30 in of pipe and 2 x (1.50 - 0.40) in of fittings.
  const std::vector<SpanWay> ways = span(between(32.2, "1", "elbow", "tee"));
  REQUIRE_FALSE(ways.empty());
  REQUIRE(ways.front().pieces.size() == 1);
  CHECK(same_span(ways.front().pieces[0], 30 * model::kMmPerInch));
  CHECK(same_span(ways.front().off, 0.0, 0.05));
  CHECK(ways.front().joints == 2);
  CHECK(ways.front().turns == 0.0);
}

TEST_CASE("fewest joints first, then fewest pieces, then least off") {
  const std::vector<SpanWay> ways = span(between(47.75, "1", "elbow", "tee"));
  REQUIRE(ways.size() > 20);  // a floor set by hand, so that there is something to sort
  for (std::size_t i = 1; i < ways.size(); ++i) {
    CHECK(ways[i - 1].joints <= ways[i].joints);
    if (ways[i - 1].joints == ways[i].joints) CHECK(std::abs(ways[i - 1].off) <= std::abs(ways[i].off));
  }
  for (const SpanWay& way : ways) {
    CHECK(std::abs(way.turns) <= way.joints);
    // Both ends point somewhere: whole turns only, and nobody does better than half of one.
    CHECK(way.turns == std::round(way.turns));
    CHECK(std::abs(way.left) <= 25.4 / 11.5 / 2 + 1e-6);  // 11.5 threads to the inch
  }
}

TEST_CASE("between a flange and a cap quarter turns count") {
  const std::vector<SpanWay> ways = span(between(30, "1", "flange", "cap"));
  REQUIRE_FALSE(ways.empty());
  const bool quarters =
      std::any_of(ways.begin(), ways.end(), [](const SpanWay& w) { return w.turns != std::round(w.turns); });
  CHECK(quarters);
  for (const SpanWay& way : ways) CHECK(std::abs(way.left) <= 0.5 + 1e-9);  // mm, what counts as exact: our choice
}

namespace {

SpanQuery end_to_end(double inches, const char* first, const char* second) {
  SpanQuery query;
  query.size = *model::nominal_size("3/4");
  query.length = inches * model::kMmPerInch;
  query.ends = {end_in("3/4", first, Measure::end, MakeUp::hand), end_in("3/4", second, Measure::end, MakeUp::hand)};
  return query;
}

}  // namespace

TEST_CASE("end to end, a joint at the outside makes the pipe no longer") {
  // 24-1/8 in from one pipe end to the other: a 24 in piece stays 24 in however far it is screwed into its elbows, and
  // 1/8 in is 1-3/4 turns of 14 threads to the inch. (Outer joints once took them.)
  for (const SpanWay& way : span(end_to_end(24.125, "elbow", "elbow"))) CHECK(way.pieces.size() > 1);
  // Two pieces have two joints between themselves. Hand-tight, 3/4: a coupling of 1.52 in less 2 x 0.339 in leaves
  // 0.842 in between the ends, so 12 + 11 in make 23.842 in, 0.208 in or 2.9 turns short of 24.05 in; two joints have
  // two turns. (With those outside there were four.)
  for (const SpanWay& way : span(end_to_end(24.05, "elbow", "tee"))) {
    CHECK(way.joints == 2 * (static_cast<int>(way.pieces.size()) - 1));
    CHECK(std::abs(way.turns) <= way.joints);
    CHECK_FALSE(way.pieces == std::vector<double>{12 * model::kMmPerInch, 11 * model::kMmPerInch});
  }
  // A pipe of that very length does it, and nothing has to be turned.
  const std::vector<SpanWay> exact = span(end_to_end(24.0, "elbow", "tee"));
  REQUIRE_FALSE(exact.empty());
  CHECK(exact.front().pieces == std::vector<double>{24 * model::kMmPerInch});
  CHECK(exact.front().joints == 0);
  CHECK(exact.front().turns == 0.0);
}

TEST_CASE("end to end between fittings that point somewhere, quarter turns inside are made up outside") {
  // 12 + 11 in with a coupling between make 23.842 in; 23.9 in are 0.058 in more, 0.81 turns: three quarters back. The
  // fittings point right all the same, for their own joints make up the rest of the turn.
  bool quarters = false;
  for (const SpanWay& way : span(end_to_end(23.9, "elbow", "elbow"))) {
    quarters = quarters || way.turns != std::round(way.turns);
  }
  CHECK(quarters);
}

TEST_CASE("with prices the cheaper of two ways with as many joints comes first") {
  PriceList prices;
  const int size = *model::nominal_size("1");
  for (const double length : stock_lengths(model::Standard::npt, size)) {
    prices.prices[{size, "pipe", std::lround(length * 10)}] = length > 400 ? 30.0 : 1.0;  // long pieces are dear
  }
  prices.prices[{size, "coupling", 0}] = 2.0;
  SpanQuery query = between(23, "1", "elbow", "tee");
  query.prices = &prices;
  const std::vector<SpanWay> ways = span(query);
  REQUIRE(ways.size() > 3);  // a floor set by hand
  for (std::size_t i = 1; i < ways.size(); ++i) {
    REQUIRE(ways[i].cost);
    if (ways[i - 1].joints == ways[i].joints) CHECK(*ways[i - 1].cost <= *ways[i].cost);
  }
}

TEST_CASE("an unknown end says which ends there are") {
  model::Message why;
  CHECK_FALSE(span_end(Standard::npt, MakeUp::hand, 5, "hinge", Measure::centre, &why));
  CHECK(why.english().starts_with("unknown end 'hinge', expected one of coupling, elbow"));
}

TEST_CASE("an end that no table has in that size is refused") {
  model::Message why;
  CHECK_FALSE(span_end(Standard::npt, MakeUp::hand, 0, "elbow45", Measure::centre, &why));
  CHECK(why.english() == "no table has 'elbow45' in size 1/8");
}

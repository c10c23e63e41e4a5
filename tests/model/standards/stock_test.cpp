// Stock lengths, bits, woods and the lifting limit; and the reader of the built-in tables.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <string>

#include "model/standards/standards.hpp"
#include "model/standards/tables.hpp"
#include "tests/support/frames/near.hpp"

using namespace dryfit::model;

namespace {

bool same_length(double a, double b) { return dryfit::tests::near(a, b, 1e-9); }

std::vector<double> lengths_in(const char* size, const std::string& item) {
  std::vector<double> out;
  for (const StockPipe& pipe : stock_pipes(Standard::npt)) {
    if (pipe.size == *nominal_size(size) && pipe.item == item) out.push_back(pipe.length / 25.4);
  }
  return out;
}

}  // namespace

TEST_CASE("ASTM A733 (secondary): close nipples of 1-1/2, 2, 3 and 4") {
  const struct {
    const char* size;
    double inches;
  } printed[] = {{"1-1/2", 1.75}, {"2", 2.0}, {"3", 2.625}, {"4", 2.875}};
  for (const auto& row : printed) {
    CAPTURE(row.size);
    const auto found = lengths_in(row.size, "close nipple");
    REQUIRE(found.size() == 1);
    CHECK(same_length(found[0], row.inches));
  }
}

TEST_CASE("ASTM A733 (from memory, unconfirmed): nipples go in half inches to 6 in, then in inches to 12 in") {
  for (const std::string& size : nominal_sizes()) {
    CAPTURE(size);
    const auto close = lengths_in(size.c_str(), "close nipple");
    const auto found = lengths_in(size.c_str(), "nipple");
    REQUIRE(close.size() == 1);
    REQUIRE(found.size() >= 2);
    CHECK(close[0] < found.front());
    CHECK(same_length(found.back(), 12.0));
    for (std::size_t n = 1; n < found.size(); ++n) {
      CHECK(same_length(found[n] - found[n - 1], found[n] <= 6.0 ? 0.5 : 1.0));
    }
    // A close nipple is all thread: it must take two joints made up by wrench.
    const double wrench = dimension(Standard::npt, *nominal_size(size), Dimension::wrench_engagement)->value / 25.4;
    CHECK(close[0] > 2.0 * wrench);
  }
}

TEST_CASE("longer stock is common practice, no source") {
  const auto found = lengths_in("3/4", "pre-threaded pipe");
  const std::vector<double> expected{18, 24, 30, 36, 48, 60, 72, 120};
  REQUIRE(found.size() == expected.size());
  for (std::size_t n = 0; n < found.size(); ++n) CHECK(same_length(found[n], expected[n]));
  CHECK(same_length(lengths_in("1", "mill length").at(0), 252.0));  // 21 ft
  for (const StockPipe& pipe : stock_pipes(Standard::npt)) {
    if (pipe.length > 12.5 * 25.4) CHECK(pipe.confidence == Confidence::common_practice);
  }
}

TEST_CASE("metric counters sell round millimetres (from memory, unconfirmed)") {
  const std::set<double> lengths{40,  60,  80,  100, 120,  150,  200,  250,  300,
                                 400, 500, 600, 800, 1000, 1500, 2000, 3000, 6000};
  for (const std::string& size : nominal_sizes()) {
    CAPTURE(size);
    const int number = *nominal_size(size);
    const double useful = dimension(Standard::iso7, number, Dimension::useful_thread)->value;
    int nipples = 0;
    for (const StockPipe& pipe : stock_pipes(Standard::iso7)) {
      if (pipe.size != number) continue;
      CHECK(lengths.contains(pipe.length));
      CHECK(pipe.length > 2.0 * useful);  // both threads find room on it
      nipples += pipe.item == "nipple" ? 1 : 0;
    }
    CHECK(nipples >= 10);
  }
}

TEST_CASE("stock is listed by size, then by length, without doubles") {
  const auto& pipes = stock_pipes(Standard::npt);
  CHECK(pipes.size() == Table::built_in("stock.csv").rows());
  for (std::size_t n = 1; n < pipes.size(); ++n) {
    CAPTURE(n);
    CHECK((pipes[n - 1].size < pipes[n].size ||
           (pipes[n - 1].size == pipes[n].size && pipes[n - 1].length < pipes[n].length)));
  }
}

TEST_CASE("the first inch bit that clears the pipe is what the trade drills with (common practice, no source)") {
  const struct {
    const char* size;
    const char* bit;
  } practice[] = {{"3/8", "11/16"},   {"1/2", "7/8"}, {"3/4", "1-1/16"}, {"1", "1-3/8"},
                  {"1-1/4", "1-3/4"}, {"1-1/2", "2"}, {"2", "2-1/2"}};
  for (const auto& row : practice) {
    CAPTURE(row.size);
    const double od = dimension(Standard::npt, *nominal_size(row.size), Dimension::pipe_od)->value;
    const auto first =
        std::find_if(bits().begin(), bits().end(), [&](const Bit& bit) { return bit.inch && bit.diameter > od; });
    REQUIRE(first != bits().end());
    CHECK(first->label == row.bit);
  }
}

TEST_CASE("bits ascend in each series and are as large as their label says") {
  std::set<std::string> labels;
  double last[] = {0.0, 0.0};
  for (const Bit& bit : bits()) {
    CAPTURE(bit.label);
    CHECK(labels.insert(bit.label + (bit.inch ? " in" : " mm")).second);
    CHECK(bit.diameter > last[bit.inch ? 1 : 0]);
    last[bit.inch ? 1 : 0] = bit.diameter;
    if (!bit.inch) CHECK(same_length(bit.diameter, std::stod(bit.label)));
  }
  const auto odd = std::find_if(bits().begin(), bits().end(), [](const Bit& bit) { return bit.label == "1-3/8"; });
  REQUIRE(odd != bits().end());
  CHECK(same_length(odd->diameter, 34.925));  // 1.375 x 25.4
}

TEST_CASE("FPL Wood Handbook (GTR-190): density at 12 % moisture is 1000 x specific gravity x 1.12") {
  const struct {
    const char* word;
    double specific_gravity;
    bool from_memory;
  } woods[] = {{"pine", 0.40, false},  // ponderosa, Table 5-3a, published
               {"douglas-fir", 0.48, false}, {"spruce", 0.35, false},
               {"oak", 0.68, false},         {"maple", 0.54, false},  // secondary
               {"birch", 0.62, false},       {"ash", 0.60, false},
               {"beech", 0.64, false},       {"cherry", 0.50, false},
               {"walnut", 0.55, true},       {"poplar", 0.42, true}};  // specific gravity from memory, unconfirmed
  for (const auto& wood : woods) {
    CAPTURE(wood.word);
    const auto found = density(wood.word);
    REQUIRE(found.has_value());
    CHECK(std::abs(found->value - 1120.0 * wood.specific_gravity) <= 0.5);  // the table has whole kg/m3
    CHECK(found->confidence == (wood.from_memory ? Confidence::memory : Confidence::derived));
  }
}

TEST_CASE("FPL Wood Handbook Table 12-1 (secondary): a panel's density is the middle of its printed range") {
  const struct {
    const char* word;
    double low, high;
  } panels[] = {{"plywood", 0.4, 0.6},
                {"mdf", 0.7, 0.9},
                {"particleboard", 0.6, 0.8},
                {"osb", 0.5, 0.8},
                {"hardboard", 0.9, 1.0}};
  for (const auto& panel : panels) {
    CAPTURE(panel.word);
    const auto found = density(panel.word);
    REQUIRE(found.has_value());
    CHECK(found->value == doctest::Approx(500.0 * (panel.low + panel.high)));
    CHECK(found->confidence == Confidence::derived);
    CHECK(found->source.find("range") != std::string_view::npos);
  }
  CHECK(density("birch-plywood")->confidence == Confidence::memory);
}

TEST_CASE("FPL Wood Handbook: modulus of elasticity in bending, MPa") {
  CHECK(modulus("pine")->value == doctest::Approx(8900.0));                      // ponderosa, Table 5-3a, published
  CHECK(modulus("oak")->value == doctest::Approx(12270.0));                      // white oak, Table 12-1, secondary
  CHECK(modulus("plywood")->value == doctest::Approx((6960.0 + 8550.0) / 2.0));  // range of Table 12-1, secondary
  CHECK(modulus("plywood")->confidence == Confidence::derived);
  CHECK(modulus("mdf")->value == doctest::Approx(3590.0));  // Table 12-1, secondary
  CHECK_FALSE(modulus("birch-plywood").has_value());
}

TEST_CASE("every stock word has a density, the list is sorted, other words have none") {
  const auto& words = stock_words();
  CHECK(words.size() == 11 + 5 + 1);  // the woods and panels of the two tests above, and birch plywood
  CHECK(std::is_sorted(words.begin(), words.end()));
  for (const std::string& word : words) {
    CAPTURE(word);
    const auto found = density(word);
    REQUIRE(found.has_value());
    // The lightest is spruce, 1120 x 0.35 = 392, the heaviest hardboard, 500 (0.9 + 1.0) = 950.
    CHECK(found->value > 300.0);
    CHECK(found->value < 1100.0);
  }
  CHECK_FALSE(density("balsa").has_value());
  CHECK_FALSE(density("Pine").has_value());
  CHECK_FALSE(density("").has_value());
}

TEST_CASE("NIOSH Publication 94-110 (secondary, three pages): one person lifts at most 23 kg, 51 lb") {
  CHECK(lifting_limit().value == 23.0);
  CHECK(std::abs(lifting_limit().value / 0.45359237 - 51.0) < 0.5);
  CHECK(lifting_limit().confidence == Confidence::secondary);
}

TEST_CASE("every built-in file reads as a table with a source in each row") {
  std::set<std::string_view> names;
  for (const BuiltInFile& file : built_in_files()) {
    CAPTURE(file.name);
    names.insert(file.name);
    const Table table(file.text);
    CHECK(table.rows() > 0);
    if (file.name == "stock_words.csv") continue;  // words, not facts
    for (std::size_t row = 0; row < table.rows(); ++row) {
      CAPTURE(row);
      CHECK(confidence_named(table.at(row, "confidence")).has_value());
      CHECK_FALSE(table.at(row, "source").empty());
      CHECK((table.at(row, "source").find("from memory") != std::string_view::npos) ==
            (table.at(row, "confidence") == "memory"));
    }
  }
  CHECK(names.size() == 12);  // the CSV files in model/data
}

TEST_CASE("a table is read by its few rules and a broken one is refused") {
  const Table table("# a note\nname,value\n\"a, b\",1.5\nc,\n");
  REQUIRE(table.rows() == 2);
  CHECK(table.at(0, "name") == "a, b");
  CHECK(table.number(0, "value") == 1.5);
  CHECK(table.at(1, "value").empty());
  CHECK_THROWS_AS(static_cast<void>(table.number(1, "value")), std::logic_error);
  CHECK_THROWS_AS(static_cast<void>(table.at(0, "size")), std::logic_error);
  CHECK_THROWS_AS(Table("a,b\n1\n"), std::logic_error);
  CHECK_THROWS_AS(Table("a,b\n\"1,2\n"), std::logic_error);
  CHECK_THROWS_AS(Table("a,b\n\"1\"x,2\n"), std::logic_error);
  CHECK_THROWS_AS(Table::built_in("no.csv"), std::logic_error);
}

TEST_CASE("confidence words go from best to worst and are found again") {
  const Confidence all[] = {Confidence::published, Confidence::secondary, Confidence::common_practice,
                            Confidence::derived, Confidence::memory};
  for (const Confidence one : all) CHECK(confidence_named(word_for(one)) == one);
  CHECK_FALSE(confidence_named("guess").has_value());
}

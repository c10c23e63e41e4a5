#include "model/text/csv.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

using dryfit::model::csv_field;
using dryfit::model::csv_fields;
using dryfit::model::csv_text;

namespace {

using Fields = std::vector<std::string>;

/// The fields as texts; the reason alone where it is no line.
Fields read(const std::string& line) {
  dryfit::model::Message why;
  const auto fields = csv_fields(line, &why);
  if (!fields) return {"wrong: " + why.english()};
  Fields texts;
  for (const std::string_view field : *fields) texts.push_back(csv_text(field));
  return texts;
}

}  // namespace

// The rules are those of RFC 4180, section 2, points 4 to 7.
TEST_CASE("a line falls into its fields at the commas, empty ones and blanks included") {
  CHECK(read("3/4,pipe,24,11.50") == Fields{"3/4", "pipe", "24", "11.50"});
  CHECK(read("a,,c,") == Fields{"a", "", "c", ""});
  CHECK(read("") == Fields{""});
  CHECK(read("a b, c ") == Fields{"a b", " c "});
}

TEST_CASE("a field in quotes may hold commas and doubled quotes, and blanks round it are let pass") {
  CHECK(read("1,\"tee, reducing\",2") == Fields{"1", "tee, reducing", "2"});
  CHECK(read("\"24\"\"\",x") == Fields{"24\"", "x"});
  CHECK(read("\"\",x") == Fields{"", "x"});
  CHECK(read("a, \"b\" ,c\r") == Fields{"a", "b", "c\r"});
  CHECK(read("a,\"b\"\r") == Fields{"a", "b"});
}

TEST_CASE("a quote that stays open and text behind a quote are no line") {
  CHECK(read("a,\"b") == Fields{"wrong: a quote stays open"});
  CHECK(read("a,\"b\"\"") == Fields{"wrong: a quote stays open"});
  CHECK(read("\"a\"b,c") == Fields{"wrong: text behind a quote"});
}

TEST_CASE("what is written as a field is read as it was") {
  for (const std::string text : {"plain", "a, b", "3/4\" pipe", "\"", "", " blank "}) {
    CAPTURE(text);
    CHECK(read(csv_field(text) + ",next") == Fields{text, "next"});
  }
}

#include "cli/call/option.hpp"

#include <doctest/doctest.h>

#include "cli/io/usage_error.hpp"

using dryfit::cli::Given;
using dryfit::cli::OptionList;
using dryfit::cli::take_options;

namespace {

using Values = std::vector<std::string>;

/// What is said against the values of one option; empty when they are taken.
std::string said(const OptionList& list, const Given& given) {
  try {
    take_options(list, given);
  } catch (const dryfit::cli::UsageError& error) {
    return error.what();
  }
  return "";
}

}  // namespace

TEST_CASE("values are converted and handed over, and what was not given keeps its value") {
  OptionList list;
  int people = 2;
  double width = 180.0;
  bool json = false;
  std::vector<std::string> only;
  list.value("--people", people, "").range(1, 20).show_default();
  list.value("--width", width, "");
  list.flag("--json", json, "");
  list.value("--only", only, "").list();
  CHECK(said(list, {Values{"7"}, std::nullopt, Values{"true"}, Values{"A,B", "C"}}) == "");
  CHECK(people == 7);
  CHECK(width == 180.0);
  CHECK(json);
  CHECK(only == Values{"A", "B", "C"});
  CHECK(list.all()[0].standard == "2");
}

TEST_CASE("nothing is handed over when one value of a call is wrong") {
  OptionList list;
  int people = 2;
  int built = -1;
  list.value("--people", people, "");
  list.value("--built", built, "").not_negative();
  CHECK(said(list, {Values{"7"}, Values{"-3"}}) == "--built: expected 0 or more, got '-3'");
  CHECK(people == 2);
}

TEST_CASE("numbers outside of what their type holds are refused, not cut") {
  OptionList list;
  int people = 2;
  list.value("--people", people, "");
  CHECK(said(list, {Values{"99999999999"}}) == "--people: expected -2147483648 to 2147483647, got '99999999999'");
  CHECK(said(list, {Values{"1e2"}}) == "--people: '1e2' is not a whole number");
  CHECK(said(list, {Values{"nan"}}) == "--people: 'nan' is not a number");
  CHECK(said(list, {Values{""}}) == "--people: '' is not a number");
}

TEST_CASE("an option may need another one, or exclude it") {
  OptionList list;
  std::string file;
  bool full = false;
  bool laid = false;
  const auto& output = list.value("-o,--output", file, "");
  list.flag("--full-size", full, "").needs(output);
  list.flag("--laid", laid, "").excludes(output);
  CHECK(said(list, {std::nullopt, Values{"true"}, std::nullopt}) == "--full-size needs --output");
  CHECK(said(list, {Values{"a.pdf"}, std::nullopt, Values{"true"}}) == "--output and --laid cannot go together");
  CHECK(said(list, {Values{"a.pdf"}, Values{"true"}, std::nullopt}) == "");
}

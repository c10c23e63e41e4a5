#include "cli/words/page_files.hpp"

#include <doctest/doctest.h>

using dryfit::cli::filled_in;

TEST_CASE("fields are filled in once, and what was filled in is not looked at again") {
  CHECK(filled_in("<p>@NAME@</p>", {{"NAME", "@NAME@ & Co"}}) == "<p>@NAME@ & Co</p>");
  CHECK(filled_in("a@b@NAME@", {{"NAME", "x"}}) == "a@bx");
  CHECK(filled_in("@OTHER@NAME@", {{"NAME", "x"}}) == "@OTHERx");
  CHECK(filled_in("one @ alone", {{"NAME", "x"}}) == "one @ alone");
  CHECK(filled_in("", {}) == "");
}

TEST_CASE("a page file that is not there is an error of ours, said by name") {
  CHECK(dryfit::cli::page_file("bench.css").find(":root") != std::string_view::npos);
  CHECK_THROWS_WITH(static_cast<void>(dryfit::cli::page_file("none.css")), "no page file 'none.css'");
}

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

using dryfit::tests::run;
using dryfit::tests::ScratchFolder;

TEST_CASE("a new frame can be built as it stands, in every unit and standard that has the sizes") {
  for (const char* units : {"in", "mm", "cm"}) {
    for (const char* size : {"1/2", "3/4", "1"}) {
      CAPTURE(units);
      CAPTURE(size);
      const auto started = run({"new", "--units", units, "--size", size});
      CHECK(started.code == 0);
      CHECK(started.err == "");
      CHECK(dryfit::tests::faults_by_schema("frame", dryfit::tests::json_of_yaml(started.out)).empty());
      const auto checked = run({"check", "-", "--json"}, started.out);
      CHECK(checked.code == 0);
      CHECK(nlohmann::json::parse(checked.out)["verdict"] == "buildable");
    }
  }
}

TEST_CASE("a new frame has a comment on every kind of line that a beginner meets") {
  const std::string text = run({"new"}).out;
  for (const char* word : {"units:", "pipe:", "surfaces:", "from:", "at:", "parts:", "to:", "through:", "reach:"}) {
    CAPTURE(word);
    const std::size_t at = text.find(word);
    REQUIRE(at != std::string::npos);
    const std::string line = text.substr(at, text.find('\n', at) - at);
    const bool told = line.find('#') != std::string::npos || line.ends_with(':');
    CHECK(told);
  }
}

TEST_CASE("new asks on standard error and takes an empty answer for what it offers") {
  const auto asked = run({"new", "--ask"}, "Boot \"bench\": two\nfeet\nmm\n\n1/2\n");
  CHECK(asked.code == 0);
  CHECK(asked.out.find("name: \"Boot \\\"bench\\\": two\"") != std::string::npos);
  CHECK(asked.out.find("units: mm ") != std::string::npos);
  CHECK(asked.out.find("{standard: iso7, size: 1/2}") != std::string::npos);
  CHECK(asked.err.find("Lengths in (in, mm or cm) [in]: Lengths in") != std::string::npos);
  CHECK(run({"new", "--ask"}, "").out == run({"new", "--size", "3/4"}).out);
}

TEST_CASE("new never writes over a file") {
  const ScratchFolder folder;
  const std::string file = folder.path("shelf.yaml");
  CHECK(run({"new", "-o", file}).code == 0);
  const std::string text = dryfit::tests::slurp(file);
  CHECK(text == run({"new"}).out);
  const auto again = run({"new", "-o", file, "--units", "mm"});
  CHECK(again.code == 2);
  CHECK(again.out == "");
  CHECK(again.err == "dryfit: '" + file + "' is there already\n");
  CHECK(dryfit::tests::slurp(file) == text);
}

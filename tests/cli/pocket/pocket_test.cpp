/// dryfit pocket: the page with a frame in it; and the answers that the page is made of.
#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>
#include <nlohmann/json.hpp>

#include "cli/io/usage_error.hpp"
#include "cli/pocket/pocket_file.hpp"
#include "tests/support/program/program.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;
using nlohmann::json;

namespace {

constexpr const char* kPage =
    "<!DOCTYPE html>\n<script type=\"application/json\" id=\"given-frame\">null</script>\n<script>run()</script>\n";

/// The environment says where the page is while a test runs.
struct PageNamed {
  explicit PageNamed(const std::string& file) { ::setenv("DRYFIT_POCKET", file.c_str(), 1); }
  ~PageNamed() { ::unsetenv("DRYFIT_POCKET"); }
  PageNamed(const PageNamed&) = delete;
  PageNamed& operator=(const PageNamed&) = delete;
};

/// What stands between the tags of the given frame.
std::string given_in(const std::string& page) {
  const std::string opening = "id=\"given-frame\">";
  const std::size_t begin = page.find(opening) + opening.size();
  return page.substr(begin, page.find("</script>", begin) - begin);
}

}  // namespace

TEST_CASE("dryfit pocket writes the page as it is, or with a frame in it") {
  const ScratchFolder folder;
  const PageNamed named(folder.file("page.html", kPage));
  const std::string out = folder.path("mine.html");
  const Ran bare = run({"pocket", "-o", out});
  CHECK(bare.code == 0);
  CHECK(bare.err == "");
  CHECK(slurp(out) == kPage);
  const Ran with = run({"pocket", scenario("plant-rack"), "-o", out});
  CHECK(with.code == 0);
  CHECK(with.out.find("with Plant rack in it") != std::string::npos);
  const json given = json::parse(given_in(slurp(out)));
  CHECK(given["name"] == "plant-rack.yaml");
  CHECK(given["text"] == slurp(scenario("plant-rack")));
  // Once more into the page that has a frame already.
  const PageNamed again(folder.file("again.html", slurp(out)));
  CHECK(run({"pocket", scenario("pot-rail"), "-o", out}).code == 0);
  CHECK(json::parse(given_in(slurp(out)))["name"] == "pot-rail.yaml");
}

TEST_CASE("nothing in a frame ends the element that it stands in") {
  const std::string text = "# </script><script>alert(1)</script> <!-- \xe2\x80\xa8 \"\\";
  const std::string page = dryfit::cli::pocket_with(kPage, "<b>.yaml", text);
  const json given = json::parse(given_in(page));
  CHECK(given["text"] == text);
  CHECK(given["name"] == "<b>.yaml");
  CHECK(given_in(page).find('<') == std::string::npos);
  CHECK(page.substr(page.size() - 24) == "\n<script>run()</script>\n");
}

TEST_CASE("without the page, with another page or with a faulty frame nothing is written") {
  const ScratchFolder folder;
  const std::string out = folder.path("mine.html");
  {
    const PageNamed named(folder.path("missing.html"));
    const Ran none = run({"pocket", "-o", out});
    CHECK(none.code == 2);
    CHECK(none.err.find("missing.html") != std::string::npos);
  }
  {
    const PageNamed named(folder.file("other.html", "<!DOCTYPE html>\n"));
    const Ran other = run({"pocket", scenario("plant-rack"), "-o", out});
    CHECK(other.code == 2);
    CHECK(other.err.find("belongs to another version") != std::string::npos);
  }
  {
    const PageNamed named(folder.file("page.html", kPage));
    const Ran faulty = run({"pocket", folder.file("faulty.yaml", "dryfit: 1\nruns: 3\n"), "-o", out});
    CHECK(faulty.code == 2);
    CHECK(faulty.err.find("faulty.yaml:2") != std::string::npos);
  }
  CHECK(run({"show", scenario("plant-rack"), "-o", folder.path("n.json")}).code == 0);
  CHECK_FALSE(std::ifstream(out).good());
}

TEST_CASE("a frame as numbers has every part where the file has it") {
  const ScratchFolder folder;
  const std::string file = folder.path("n.json");
  const Ran ran = run({"show", scenario("plant-rack"), "-o", file});
  CHECK(ran.code == 0);
  CHECK(ran.out == file + ": Plant rack as numbers\n");
  const json numbers = json::parse(slurp(file));
  REQUIRE(numbers["parts"].size() == 26);
  CHECK(numbers["units"] == "in");
  const std::string text = slurp(scenario("plant-rack"));
  for (const json& part : numbers["parts"]) {
    std::size_t at = 0;
    for (int line = 1; line < part["line"].get<int>(); ++line) at = text.find('\n', at) + 1;
    const std::string line = text.substr(at, text.find('\n', at) - at);
    CAPTURE(line);
    CHECK(line.find(part["label"].get<std::string>() + ":") != std::string::npos);
    CHECK(part["free_ends"].empty());
  }
  // P1 stands on the floor's flange: 6 in of it, screwed in by 1/2 in or so, on the axis x = y = 0.
  const json& pipe = numbers["parts"][1];
  CHECK(pipe["label"] == "P1");
  CHECK(pipe["kind"] == "pipe");
  CHECK(pipe["size"] == "3/4");
  CHECK(pipe["length_mm"] == 152.4);
  const json& body = pipe["bodies"][0];
  CHECK(body.size() == 7);
  CHECK(body[0] == 0.0);
  CHECK(body[5].get<double>() - body[2].get<double>() == doctest::Approx(152.4).epsilon(0.001));
}

TEST_CASE("cards as data say what the cards say") {
  const ScratchFolder folder;
  const std::string file = folder.path("d.json");
  CHECK(run({"cards", scenario("pot-rail"), "-o", file, "--no-pictures"}).code == 0);
  const json deck = json::parse(slurp(file));
  const json order = json::parse(run({"order", scenario("pot-rail"), "--json"}).out);
  REQUIRE(deck["cards"].size() == order["steps"].size());
  for (std::size_t i = 0; i < deck["cards"].size(); ++i) {
    for (const char* key : {"number", "contacts", "moving", "holding"}) {
      CHECK(deck["cards"][i][key] == order["steps"][i][key]);
    }
    // As the hands see it, where it is known how the work lies.
    const json& step = order["steps"][i];
    CHECK(deck["cards"][i]["text"] == (step.contains("text_in_pose") ? step["text_in_pose"] : step["text"]));
    CHECK_FALSE(deck["cards"][i].contains("picture"));
    CHECK_FALSE(deck["cards"][i]["new"].empty());
  }
  CHECK(run({"cards", scenario("pot-rail"), "-o", file}).code == 0);
  const json drawn = json::parse(slurp(file));
  for (const json& card : drawn["cards"]) {
    CHECK(card["picture"]["svg"].get<std::string>().find("<svg") != std::string::npos);
  }
}

TEST_CASE("two pipes are swept together by one range") {
  const json both = json::parse(run({"change", scenario("plant-rack"), "--set", "P4+P9.length=9..12", "--json"}).out);
  const json one = json::parse(run({"change", scenario("plant-rack"), "--set", "P4.length=9..12", "--json"}).out);
  // One post alone would push its coupling through the shelf; both together lift the shelf.
  for (const json& length : both["sweep"]) {
    CAPTURE(length.dump());
    CHECK(length["fits"] == true);
  }
  CHECK(one["sweep"].back()["fits"] == false);
  const Ran wrong = run({"change", scenario("plant-rack"), "--set", "P4+C1.length=9..12"});
  CHECK(wrong.code == 2);
  CHECK(wrong.err.find("is not a pipe's length") != std::string::npos);
  CHECK(run({"change", scenario("plant-rack"), "--set", "P4+.length=9..12"}).code == 2);
}

TEST_CASE("an order says which step reminds of a part before its last call") {
  const json order = json::parse(run({"order", scenario("plant-rack"), "--json"}).out);
  std::vector<std::string> forgettable;
  for (const json& step : order["steps"]) {
    for (const json& call : step["last_calls"]) {
      if (call["trap"] == true && (call["asked_for_step"].is_null() || call["asked_for_step"] > call["last_call_step"])) {
        forgettable.push_back(call["part"]);
      }
    }
  }
  std::sort(forgettable.begin(), forgettable.end());
  // The three shelves, and the right flange that the left one's screws would lock out: as `early` has them.
  CHECK(forgettable == std::vector<std::string>{"FR", "S1", "S2", "S3"});
}

/// What cards say for when it does not go as planned: people stop, or a part is missing.
#include <doctest/doctest.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <set>
#include <sstream>

#include "tests/support/program/program.hpp"
#include "tests/support/program/shell.hpp"

using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;
using dryfit::tests::text_of_pdf;
using dryfit::tests::without_blanks;
using nlohmann::json;

namespace {

json deck_of(const ScratchFolder& folder, const std::string& name) {
  const std::string file = folder.path("deck.json");
  REQUIRE(run({"cards", scenario(name), "-o", file, "--no-pictures"}).code == 0);
  return json::parse(slurp(file));
}

/// The numbers in "... do steps 5, 7 to 9 and 12, then you need it."
std::vector<int> numbers_in(const std::string& sentence) {
  std::vector<int> numbers;
  std::istringstream words(sentence.substr(sentence.find(" step")));
  bool through = false;
  for (std::string word; words >> word;) {
    if (word.find_first_of("0123456789") == 0) {
      const int number = std::stoi(word);
      if (through) {
        for (int k = numbers.back() + 1; k < number; ++k) numbers.push_back(k);
      }
      numbers.push_back(number);
    }
    through = word == "to";
  }
  return numbers;
}

}  // namespace

TEST_CASE("steps that cards name for when a part is missing can be done first, and the rest in turn") {
  const ScratchFolder folder;
  int told = 0, jumps = 0;
  for (const char* name : {"plant-rack", "bakery-cart", "pot-rail", "cellar-rail-union"}) {
    CAPTURE(name);
    const json deck = deck_of(folder, name);
    const json steps = json::parse(run({"order", scenario(name), "--json"}).out)["steps"];
    REQUIRE(deck["cards"].size() == steps.size());
    for (const json& card : deck["cards"]) {
      for (const json& sentence : card["missing"]) {
        CAPTURE(sentence.get<std::string>());
        const int here = card["number"];
        const std::vector<int> numbers = numbers_in(sentence);
        REQUIRE_FALSE(numbers.empty());
        CHECK(std::is_sorted(numbers.begin(), numbers.end()));
        CHECK(numbers.front() >= here);
        const std::set<int> first(numbers.begin(), numbers.end());
        json done = json::array();
        const auto put = [&](const json& step) {
          done.push_back({{"action", step["action"]}, {"contacts", step["contacts"]}});
        };
        for (int k = 1; k < here; ++k) put(steps[static_cast<std::size_t>(k - 1)]);
        for (const int k : numbers) put(steps[static_cast<std::size_t>(k - 1)]);
        for (int k = here; k <= static_cast<int>(steps.size()); ++k) {
          if (!first.contains(k)) put(steps[static_cast<std::size_t>(k - 1)]);
        }
        const std::string file = folder.file("done.json", json{{"steps", done}}.dump());
        const auto ran = run({"replay", scenario(name), file});
        CHECK_MESSAGE(ran.code == 0, ran.out);
        ++told;
        jumps += numbers.back() - numbers.front() + 1 > static_cast<int>(numbers.size()) ? 1 : 0;
      }
    }
  }
  // Floors set by hand: what is compared must be there.
  CHECK(told >= 60);
  CHECK(jumps >= 10);
}

TEST_CASE("cards say when a loose board must not be moved, and name good places to stop, on paper and on the page") {
  const ScratchFolder folder;
  const json deck = deck_of(folder, "plant-rack");
  const std::string pdf = folder.path("a.pdf"), page = folder.path("a.html");
  REQUIRE(run({"cards", scenario("plant-rack"), "-o", pdf}).code == 0);
  REQUIRE(run({"cards", scenario("plant-rack"), "-o", page}).code == 0);
  const std::string paper = without_blanks(text_of_pdf(pdf)), html = slurp(page);
  int good = 0, loose = 0, silent = 0;
  for (const json& card : deck["cards"]) {
    silent += card["stop"].empty() ? 1 : 0;
    for (const char* field : {"stop", "missing"}) {
      for (const json& sentence : card[field]) {
        const std::string text = sentence;
        good += text.find("Good place to stop") == 0 ? 1 : 0;
        loose += text.find("nothing holds S") != std::string::npos ? 1 : 0;
        CHECK(paper.find(without_blanks(text)) != std::string::npos);
        CHECK(html.find(text) != std::string::npos);
      }
    }
  }
  CHECK(good == 2);
  CHECK(loose == 3);  // each of the three shelves, until what is above it holds it
  CHECK(silent > 20);
  // With S1 on and nothing above it.
  const json& shelf = deck["cards"][12];
  REQUIRE(shelf["text"].get<std::string>().find("Slide S1") == 0);
  CHECK(shelf["stop"] == json{"If you stop here, leave the assembly where it is: nothing holds S1 yet."});
  CHECK(run({"cards", scenario("plant-rack"), "-o", page, "--language", "de"}).code == 0);
  CHECK(slurp(page).find("Ohne P8 gehen noch die Schritte") != std::string::npos);
}

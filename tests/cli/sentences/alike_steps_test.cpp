#include "cli/sentences/alike_steps.hpp"

#include <doctest/doctest.h>

#include <map>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/support/program/program.hpp"

using namespace dryfit;
using nlohmann::json;
using tests::run;
using tests::scenario;

namespace {

std::string in_one_line(const std::string& text) { return std::regex_replace(text, std::regex("\\s+"), " "); }

model::Frame parts_called(const std::vector<std::string>& labels) {
  model::Frame frame;
  for (const std::string& label : labels) {
    frame.parts.emplace_back();
    frame.parts.back().id = frame.parts.back().label = label;
  }
  return frame;
}

std::vector<cli::ToldStep> said(const std::vector<std::string>& texts) {
  std::vector<cli::ToldStep> steps;
  for (const std::string& text : texts) steps.push_back({{}, text});
  return steps;
}

/// What stands for the labels, in one go: "P2 for P1, P3 for P2" takes nothing twice.
std::string exchanged(const std::string& text, const std::map<std::string, std::string>& instead) {
  std::string out;
  const std::regex word("[A-Za-z0-9]+|[^A-Za-z0-9]+");
  for (std::sregex_iterator it(text.begin(), text.end(), word), end; it != end; ++it) {
    const auto known = instead.find(it->str());
    out += known == instead.end() ? it->str() : known->second;
  }
  return out;
}

/// Every "a-b. Do steps c to d again, with X for Y" of the text against the steps as JSON has them. How many there are.
int checked_runs(const std::string& file) {
  const std::string text = in_one_line(run({"order", scenario(file)}).out);
  const json steps = json::parse(run({"order", scenario(file), "--json"}).out)["steps"];
  const std::regex line(R"((\d+)-(\d+)\. Do steps (\d+) (?:and|to) (\d+) again, with ([^.]+)\.)");
  const std::regex pair("(\\w+) for (\\w+)");
  int runs = 0;
  for (std::sregex_iterator it(text.begin(), text.end(), line), end; it != end; ++it, ++runs) {
    const int first = std::stoi((*it)[1]), last = std::stoi((*it)[2]), like = std::stoi((*it)[3]);
    CHECK(std::stoi((*it)[4]) - like == last - first);
    std::map<std::string, std::string> instead;
    const std::string parts = (*it)[5];
    for (std::sregex_iterator p(parts.begin(), parts.end(), pair); p != end; ++p) instead[(*p)[2]] = (*p)[1];
    for (int n = 0; n <= last - first; ++n) {
      const std::string there = steps.at(static_cast<std::size_t>(like + n - 1))["text_in_pose"];
      CHECK(exchanged(there, instead) == steps.at(static_cast<std::size_t>(first + n - 1))["text_in_pose"]);
    }
  }
  return runs;
}

}  // namespace

TEST_CASE("steps that are told by other parts in their places are the steps that JSON has there") {
  CHECK(checked_runs("towel-ladder") >= 8);  // four rungs on each side
  CHECK(checked_runs("bakery-cart") == 6);
  CHECK(checked_runs("work-table") == 2);
}

TEST_CASE("a leg that is made like another is told once, with its trap") {
  const std::string text = in_one_line(run({"order", scenario("work-table")}).out);
  CHECK(text.find("Do steps 19 and 20 again, with P6 for P8, T3 for T4 and F3 for F4.") != std::string::npos);
}

TEST_CASE("two steps that are made once more are told in full, and with --explain all are") {
  CHECK(checked_runs("plant-rack") == 0);
  const std::string all = in_one_line(run({"order", scenario("towel-ladder"), "--explain"}).out);
  CHECK(all.find("Do steps") == std::string::npos);
}

TEST_CASE("what differs by more than names is told in full") {
  const model::Frame frame = parts_called({"A", "B", "C", "D", "E", "F", "G"});
  const auto alike = [&](const std::vector<cli::ToldStep>& steps) { return cli::alike_steps(frame, steps); };
  const auto legs = said(
      {"Screw A into B.", "Put C on A.", "Screw D into B.", "Put E on D.", "Screw F into B.", "Put G on F."});
  REQUIRE(alike(legs).size() == 2);
  CHECK(alike(legs).front().first == 2);
  CHECK(alike(legs).front().instead == std::vector<std::pair<std::string, std::string>>{{"D", "A"}, {"E", "C"}});
  CHECK(alike(legs).back().like == 0);
  CHECK(cli::alike_line(alike(legs).front(), 9, 2) == "  11-12. Do steps 9 and 10 again, with D for A and E for C.");
  const auto with = [&](std::size_t i, const std::string& text) {
    auto other = legs;
    other[i].said = text;
    return alike(other);
  };
  CHECK(with(3, "Put E on F.").empty());  // A is D and F
  CHECK(with(3, "Put D on D.").empty());  // D is A and C
  CHECK(with(3, "Lay E on D.").empty());
  CHECK(with(5, "Put G on E.").empty());  // one leg more is too little
  CHECK(alike(said({"Close A.", "Close B.", "Close C.", "Close D.", "Close E.", "Close F."})).empty());  // no pair done again
  auto turned = legs;
  turned[2].before = "Turn it over.";
  CHECK(alike(turned).empty());
  turned = legs;
  turned[0].before = "Turn it over.";  // before the first leg: the second is as the first still
  CHECK(alike(turned).size() == 2);
}

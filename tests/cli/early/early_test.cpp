/// `dryfit early` and `dryfit graph` as calls, and the same facts inside `order`.
#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <vector>

#include "tests/support/program/part_told.hpp"
#include "tests/support/program/program.hpp"

namespace {

using dryfit::tests::part_told;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using nlohmann::json;

json early(const std::vector<std::string>& more) {
  std::vector<std::string> args{"early", scenario("plant-rack"), "--json"};
  args.insert(args.end(), more.begin(), more.end());
  const auto ran = run(args);
  CHECK(ran.err == "");
  return json::parse(ran.out);
}

}  // namespace

TEST_CASE("early has the fields of its interface, and its step numbers are those that order prints") {
  const json document = early({});
  for (const char* key :
       {"dryfit", "command", "frame", "verdict", "parts", "pairs", "together", "legal_orders", "careless"}) {
    CAPTURE(key);
    CHECK(document.contains(key));
  }
  const json order = json::parse(run({"order", scenario("plant-rack"), "--json"}).out);
  int calls = 0;
  for (const json& part : document["parts"]) {
    for (const char* key : {"part", "last_call_step", "closed_out_by", "trap", "lockouts", "price_moves",
                            "price_proven", "comes_off", "why"}) {
      CAPTURE(key);
      CHECK(part.contains(key));
    }
    if (part["last_call_step"].is_null()) continue;
    ++calls;
    // The step of that number in `order` makes just what closes the part out.
    const json& step = order["steps"][part["last_call_step"].get<std::size_t>() - 1];
    std::set<std::string> made;
    for (const json& id : step["contacts"]) made.insert(id.get<std::string>());
    for (const json& id : part["closed_out_by"]) CHECK(made.contains(id.get<std::string>()));
    CHECK_FALSE(part["closed_out_by"].empty());
    CHECK_FALSE(part["why"].get<std::string>().empty());
  }
  CHECK(calls >= 3);  // each of the three shelves has one
}

TEST_CASE("order without prices is order with them, but for the prices") {
  const std::vector<std::string> call{"order", scenario("plant-rack"), "--json"};
  json whole = json::parse(run(call).out);
  const auto ran = run({call[0], call[1], call[2], "--no-prices"});
  CHECK(ran.code == 0);
  int priced = 0;
  for (json& step : whole["steps"]) {
    for (json& call_of : step["last_calls"]) {
      priced += call_of["price_moves"].get<int>() > 0 ? 1 : 0;
      call_of["price_moves"] = nullptr;
      call_of["price_proven"] = false;
    }
  }
  CHECK(priced >= 3);
  CHECK(json::parse(ran.out) == whole);
  CHECK(run({"order", scenario("plant-rack"), "--no-prices"}).code == 2);
}

TEST_CASE("order tells with each step what early tells of the parts that it puts on") {
  const json document = early({});
  const json order = json::parse(run({"order", scenario("plant-rack"), "--json"}).out);
  std::set<std::string> told;
  for (std::size_t i = 0; i < order["steps"].size(); ++i) {
    const json& step = order["steps"][i];
    std::set<std::string> before;
    for (const json& id : step["must_come_before"]) before.insert(id.get<std::string>());
    for (const json& call : step["last_calls"]) {
      const json& part = part_told(document, call["part"]);
      told.insert(call["part"]);
      for (const char* key : {"last_call_step", "closed_out_by", "trap", "price_moves"}) CHECK(call[key] == part[key]);
      CHECK(call["last_call_step"].get<std::size_t>() > i + 1);
      for (const json& id : call["closed_out_by"]) CHECK(before.contains(id.get<std::string>()));
    }
    // The strict relation, too.
    for (const json& pair : document["pairs"]) {
      for (const json& id : step["contacts"]) {
        if (pair[0] != id) continue;
        bool same_step = false;
        for (const json& other : step["contacts"]) same_step |= other == pair[1];
        if (!same_step) CHECK(before.contains(pair[1].get<std::string>()));
      }
    }
  }
  for (const json& part : document["parts"]) {
    CHECK(told.contains(part["part"].get<std::string>()) == !part["last_call_step"].is_null());
  }
  const std::string text = run({"order", scenario("plant-rack")}).out;
  CHECK(text.find("Put S1 on before step") != std::string::npos);
}

TEST_CASE("early --part tells the story of one part alone, and an unknown part is refused with the nearest") {
  const json document = early({"--part", "S2"});
  CHECK(document["parts"].size() == 1);
  CHECK(document["parts"][0] == part_told(early({}), "S2"));
  const auto text = run({"early", scenario("plant-rack"), "--part", "S2"});
  CHECK(text.out.find("To get it out of the finished frame") != std::string::npos);
  const auto wrong = run({"early", scenario("plant-rack"), "--part", "S22"});
  CHECK(wrong.code == 2);
  CHECK(wrong.out == "");
  CHECK(wrong.err.find("did you mean 'S2'?") != std::string::npos);
}

TEST_CASE("early --order speaks of the steps that are given") {
  const ScratchFolder folder;
  json order = json::parse(run({"order", scenario("plant-rack"), "--json"}).out);
  const std::string same = folder.file("same.json", order.dump());
  const json given = early({"--order", same});
  CHECK(given["parts"] == early({})["parts"]);

  // A board kept for the very end: the order is refused with its first illegal step, and said how to ask on.
  json first = json::array(), last = json::array();
  for (const json& step : order["steps"]) {
    bool board = false;
    for (const json& id : step["contacts"]) board |= id.get<std::string>().starts_with("S1/");
    (board ? last : first).push_back(step);
  }
  for (const json& step : last) first.push_back(step);
  const std::string late = folder.file("late.json", first.dump());
  const auto refused = run({"early", scenario("plant-rack"), "--order", late});
  CHECK(refused.code == 2);
  CHECK(refused.err.find("--built") != std::string::npos);

  SUBCASE("what it makes until then leaves the board closed, and says what comes off for it") {
    const auto built = run({"early", scenario("plant-rack"), "--order", late, "--built",
                            std::to_string(first.size() - last.size()), "--json"});
    CHECK(built.code == 1);
    const json state = json::parse(built.out);
    CHECK(state["verdict"] == "closed");
    const json& board = part_told(state, "S1");
    CHECK(board["state"] == "closed");
    CHECK(board["price_moves"].get<int>() >= 1);
    CHECK_FALSE(board["held_by"].empty());
  }
}

TEST_CASE("early --built tells what is on, open and closed after so many steps of the printed order") {
  const json order = json::parse(run({"order", scenario("plant-rack"), "--json"}).out);
  const auto count = order["steps"].size();
  for (const std::size_t built : {std::size_t{0}, count / 2, count}) {
    const json state = early({"--built", std::to_string(built)});
    CHECK(state["verdict"] == "open");  // a legal order never closes anything out
    for (const json& part : state["parts"]) {
      CHECK(part["state"] != "closed");
      if (built == 0) CHECK(part["state"] == "open");
      if (built == count) CHECK(part["state"] == "on");
    }
  }
  const auto beyond = run({"early", scenario("plant-rack"), "--built", std::to_string(count + 1)});
  CHECK(beyond.code == 2);
}

TEST_CASE("check, order and early name a union as cure of a rail without one, in words and as JSON") {
  for (const char* command : {"check", "order", "early"}) {
    CAPTURE(command);
    const auto text = run({command, scenario("cellar-rail-ring")});
    CHECK(text.code == 1);
    CHECK(text.out.find("Put a union in P7") != std::string::npos);
    const json document = json::parse(run({command, scenario("cellar-rail-ring"), "--json"}).out);
    REQUIRE(document.contains("cures"));
    bool unions = false;
    for (const json& cure : document["cures"]) {
      for (const char* key : {"change", "contacts", "text"}) CHECK(cure.contains(key));
      unions |= cure["change"] == "union";
    }
    CHECK(unions);
  }
}

TEST_CASE("graph draws each class once and an arrow for each link of the reduced relation, all with --all") {
  const auto links = [](const std::string& dot) {
    std::size_t count = 0;
    for (std::size_t at = dot.find(" -> "); at != std::string::npos; at = dot.find(" -> ", at + 1)) ++count;
    return count;
  };
  const auto less = run({"graph", scenario("hall-rack")});
  const auto all = run({"graph", scenario("hall-rack"), "--all"});
  CHECK(less.code == 0);
  CHECK(less.out.starts_with("digraph "));
  CHECK(less.out.ends_with("}\n"));
  CHECK(links(all.out) >= links(less.out));
  // Every pair of the strict relation is an arrow between classes.
  const json document = json::parse(run({"early", scenario("hall-rack"), "--json"}).out);
  CHECK(document["pairs"].size() >= links(all.out));
  CHECK((links(all.out) == 0) == document["pairs"].empty());
  // The document has the same arrows; in the plant rack there are some.
  for (const std::vector<std::string>& more : {std::vector<std::string>{}, {"--all"}}) {
    std::vector<std::string> call = {"graph", scenario("plant-rack")};
    call.insert(call.end(), more.begin(), more.end());
    const std::size_t drawn = links(run(call).out);
    CHECK(drawn > 0);
    call.emplace_back("--json");
    CHECK(json::parse(run(call).out)["links"].size() == drawn);
  }
  const auto locked = run({"graph", scenario("cellar-rail-ring"), "--json"});
  CHECK(locked.code == 1);
  CHECK(locked.err == "");
  CHECK(nlohmann::json::parse(locked.out)["verdict"] == "locked");
  CHECK(run({"graph", scenario("cellar-rail-ring")}).code == 1);
}

TEST_CASE("the same seed gives the same careless builders, and their number can be chosen") {
  const json once = early({"--builders", "25"});
  CHECK(once["careless"]["builders"] == 25);
  CHECK(once == early({"--builders", "25"}));
  CHECK(once["careless"]["stuck"].get<int>() <= 25);
}

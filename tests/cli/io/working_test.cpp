/// Long work at a terminal: what is shown of it, and what Ctrl-C makes of it.
#include "cli/io/working.hpp"

#include <doctest/doctest.h>

#include <chrono>
#include <csignal>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>
#include <vector>

#include "cli/cards/bench_page.hpp"
#include "cli/cards/card_pages.hpp"
#include "cli/input/frame_file.hpp"
#include "cli/order/planned_order.hpp"
#include "tests/support/frames/generated_frames.hpp"
#include "tests/support/program/child.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/schema_check.hpp"

using dryfit::tests::Child;
using dryfit::tests::ladder_text;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;

namespace {

/// Of so many rungs the least effort is not proven in hours.
std::string ladder(const ScratchFolder& folder) { return folder.file("ladder.yaml", ladder_text(14, true)); }

nlohmann::json valid(const std::string& command, const std::string& printed) {
  auto json = nlohmann::json::parse(printed);
  for (const std::string& fault : dryfit::tests::faults_by_schema(command, json)) FAIL_CHECK(fault);
  return json;
}

}  // namespace

TEST_CASE("Ctrl-C ends the search for the best order with the best so far, and the line of progress goes") {
  const ScratchFolder folder;
  Child child({"order", ladder(folder), "--seconds", "3000"}, Child::Errors::to_a_terminal);
  child.wait_for_error("comparing orders: ");
  child.wait_for_error(" moves tried; Ctrl-C: the best so far");
  child.send(SIGINT);
  CHECK(child.end() == 0);
  CHECK(child.out.find("Interrupted: this is the best order found until then.") != std::string::npos);
  CHECK(child.err.find("stopping with the best so far; Ctrl-C again stops at once") != std::string::npos);
  // What stood there is written over with blanks.
  const std::size_t last = child.err.find_last_not_of("\r ");
  CHECK(child.err.find('\r', last) != std::string::npos);
  CHECK(child.err.find('\n') == std::string::npos);
}

TEST_CASE("an interrupted answer for a program says so, and nothing is shown meanwhile") {
  const ScratchFolder folder;
  Child child({"order", ladder(folder), "--seconds", "3000", "--json"}, Child::Errors::to_a_terminal);
  child.wait_until_handled(SIGINT, true);
  child.send(SIGINT);
  CHECK(child.end() == 0);
  const auto order = valid("order", child.out);
  CHECK(order["effort"]["ended_by"] == "interrupted");
  CHECK(order["effort"]["proven"] == false);
  CHECK(order["effort"]["value"] > order["effort"]["lower_bound"]);
  CHECK(child.err == "");
}

TEST_CASE("an interrupted order is one that the judge calls legal") {
  const ScratchFolder folder;
  const std::string frame = ladder(folder);
  Child child({"order", frame, "--json", "--seconds", "3000"});
  child.wait_until_handled(SIGINT, true);
  child.send(SIGINT);
  REQUIRE(child.end() == 0);
  CHECK(run({"replay", frame, folder.file("steps.json", child.out)}).code == 0);
}

TEST_CASE("a second Ctrl-C ends the program at once, as it does where nothing is gathered") {
  const ScratchFolder folder;
  Child child({"order", folder.file("long.yaml", ladder_text(120, true)), "--seconds", "3000"});
  child.wait_until_handled(SIGINT, true);
  child.send(SIGINT);
  child.wait_until_handled(SIGINT, false);
  child.send(SIGINT);
  CHECK(child.end() == 128 + SIGINT);
  CHECK(child.out == "");
}

TEST_CASE("Ctrl-C leaves bounds for the prices that are not searched yet") {
  Child child({"early", scenario("seed-store"), "--json"});
  child.wait_until_handled(SIGINT, true);
  child.send(SIGINT);
  CHECK(child.end() == 0);
  const auto early = valid("early", child.out);
  CHECK(early["ended_by"] == "interrupted");
  const auto whole = nlohmann::json::parse(run({"early", scenario("seed-store"), "--json"}).out);
  CHECK(whole["ended_by"] == "proof");
  REQUIRE(early["parts"].size() == whole["parts"].size());
  int not_looked_at = 0;
  for (std::size_t i = 0; i < whole["parts"].size(); ++i) {
    const auto& part = early["parts"][i];
    CAPTURE(part["part"]);
    CHECK(part["price_at_least"] <= whole["parts"][i]["price_moves"]);
    CHECK(part["price_moves"] >= whole["parts"][i]["price_at_least"]);
    if (part["lockouts_complete"] == false) ++not_looked_at;
  }
  // It was ended soon: before the first part, or on a quick machine after it.
  CHECK(not_looked_at > 0);
}

TEST_CASE("after Ctrl-C no cards are drawn, and what stood there stays") {
  const ScratchFolder folder;
  const std::string frame = ladder(folder);
  for (const char* name : {"cards.html", "cards.pdf"}) {
    CAPTURE(name);
    const std::string file = folder.file(name, "yesterday's");
    Child child({"cards", frame, "-o", file});
    child.wait_until_handled(SIGINT, true);
    child.send(SIGINT);
    CHECK(child.end() == 3);
    CHECK(child.out.ends_with(": interrupted, so there are no cards.\n"));
    CHECK(dryfit::tests::slurp(file) == "yesterday's");
  }
  Child child({"cards", frame, "-o", folder.path("new.html"), "--json"});
  child.wait_until_handled(SIGINT, true);
  child.send(SIGINT);
  CHECK(child.end() == 3);
  const auto stopped = valid("cards", child.out);
  CHECK(stopped["verdict"] == "undecided");
  CHECK(stopped["ended_by"] == "interrupted");
  CHECK(folder.entries() == std::vector<std::string>{"cards.html", "cards.pdf", "ladder.yaml"});
}

TEST_CASE("a foreman who stops in the middle of the cards is asked no more, and nothing is handed out") {
  struct Foreman : dryfit::planner::Foreman {
    explicit Foreman(long long enough_) : enough(enough_) {}
    bool go_on(long long done, long long most) override {
      CHECK(most == all);
      last = done;
      return done < enough;
    }
    long long enough;
    long long all = 0;
    long long last = -1;
  };
  std::istringstream in;
  std::ostringstream out, err;
  const dryfit::cli::Streams streams{in, out, err};
  const auto loaded = dryfit::cli::load_frame(scenario("pot-rail"), streams);
  auto planned = dryfit::cli::planned_order(loaded, {});
  const auto deck =
      dryfit::cli::deck_of(loaded, planned.finding, std::move(planned.plan), dryfit::cli::Lengths(loaded.frame.units),
                           dryfit::planner::drill_sheets(loaded.frame, planned.finding.fit));
  REQUIRE(deck.cards.size() > 5);
  Foreman three(3), never(1000);
  three.all = never.all = static_cast<long long>(deck.cards.size());
  CHECK(dryfit::cli::card_pages(loaded.frame, deck, {}, &three).documents.empty());
  CHECK(three.last == 3);
  three.last = -1;
  CHECK(dryfit::cli::bench_page(loaded.frame, deck, &three).empty());
  CHECK(three.last == 3);
  CHECK_FALSE(dryfit::cli::card_pages(loaded.frame, deck, {}, &never).documents.empty());
  CHECK_FALSE(dryfit::cli::bench_page(loaded.frame, deck, &never).empty());
}

TEST_CASE("an interrupted range of lengths says from where on nobody looked, and decides nothing") {
  Child child({"change", scenario("seed-store"), "--set", "LF1.length=12..36"});
  child.wait_until_handled(SIGINT, true);
  child.send(SIGINT);
  CHECK(child.end() == 3);
  // It was ended while the old frame was planned, before the first length.
  CHECK(child.out.ends_with("\nInterrupted: lengths from 12 in on were not looked at.\n"));
}

TEST_CASE("nothing of the progress is written where standard error is no terminal") {
  CHECK(run({"early", scenario("seed-store"), "--part", "LF1"}).err == "");
  std::ostringstream err;
  {
    dryfit::cli::Working working(err, false);
    working.begin("weighing orders", "moves tried", true);
    CHECK(working.go_on(1, 2));
    CHECK(working.go_on(2, 2));
    CHECK_FALSE(working.interrupted());
  }
  CHECK(err.str() == "");
}

TEST_CASE("the search for an order says by name which limit ended it") {
  const ScratchFolder folder;
  const std::string frame = ladder(folder);
  const auto ended = [&](std::vector<std::string> args, const char* word, const std::string& sentence) {
    args.insert(args.begin(), {"order", frame});
    std::string text = run(args).out;
    for (char& c : text) c = c == '\n' ? ' ' : c;
    CAPTURE(text);
    CHECK(text.find(sentence) != std::string::npos);
    args.emplace_back("--json");
    CHECK(nlohmann::json::parse(run(args).out)["effort"]["ended_by"] == word);
  };
  // The first round alone takes longer than a thousandth of a second, and so does each after it.
  ended({"--seconds", "0.001"}, "seconds", "The search stopped at its limit of --seconds 0.001.");
  ended({}, "moves", "There may be an easier order: --seconds N searches on.");
  const auto proven = nlohmann::json::parse(run({"order", scenario("pot-rail"), "--json"}).out);
  CHECK(proven["effort"]["ended_by"] == "proof");
}

TEST_CASE("prices that a budget ended say so by name") {
  const auto early = run({"early", scenario("seed-store"), "--part", "LF1", "--budget", "1"});
  CAPTURE(early.out);
  CHECK(early.out.ends_with("A search stopped at its limit of --budget 1 undo steps a part.\n"));
  const auto change = run({"change", scenario("plant-rack"), "--set", "R1.length=24", "--budget", "1"});
  CAPTURE(change.out);
  CHECK(change.out.ends_with("A search stopped at its limit of --budget 1 states.\n"));
}

TEST_CASE("a listener hears how far long work is instead of the terminal, without word of keys it does not have") {
  std::ostringstream err;
  std::vector<std::string> heard;
  const dryfit::cli::Working::Listener listener = [&](const std::string& line) { heard.push_back(line); };
  dryfit::cli::Working working(err, false, &listener);
  working.begin("weighing orders", "moves tried", true);
  CHECK(working.go_on(1, 10));  // work that is over soon needs no line
  std::this_thread::sleep_for(std::chrono::milliseconds(450));
  CHECK(working.go_on(3, 10));
  CHECK(working.go_on(4, 10));  // not again at once
  working.end();
  CHECK(heard == std::vector<std::string>{"weighing orders: 3 of at most 10 moves tried"});
  CHECK(err.str() == "");
}

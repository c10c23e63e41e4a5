/// What is said to people, held to the style sheet as far as a machine can: words and phrases that no builder says, one
/// system of units an answer, no decimals of an inch, and answers that fit a screen. What reads well is for people to
/// judge.
#include <doctest/doctest.h>

#include <algorithm>
#include <cctype>
#include <filesystem>
#include <regex>
#include <sstream>

#include "cli/input/frame_file.hpp"
#include "cli/words/say.hpp"
#include "tests/support/program/program.hpp"

namespace {

using dryfit::tests::run;
using dryfit::tests::scenario_files;

struct Banned {
  const char* pattern;  ///< without regard to case; lines are joined
  const char* better;
};

const std::vector<Banned>& banned_in(const std::string& language) {
  static const std::vector<Banned> english = {
      {"\\bnobody (climbs|loads)", "Don't climb on ..."},
      {"\\bthe work (stands|lies|up|down|upside)", "the assembly"},
      {"\\bfast to\\b", "screwed to"},
      {"\\bcomes? off again\\b", "undo"},
      {"\\b(closed|shut|shuts|trapped) out\\b|\\bcloses out\\b|\\bcloses it out\\b", "locked out"},
      {"\\bprices?\\b", "joints to undo"},
      {"\\b(cheaper|cheapest|dearer)\\b", "joints to undo"},
      {"\\b(closes|closure|closures)\\b(?! the loop| union)", "lines up"},
      {"\\bgap\\b", "off by"},
      {"\\bfrom memory\\b|\\bconfirms?\\b", "unverified"},
      {"\\bcareless\\b|\\blegal orders?\\b|\\bno legal\\b", "only for who asks, in other words"},
      {"\\beasy work\\b", "effort score"},
      {"\\bspin(ning)? (loose|free)\\b", "turn freely"},
      {"\\bsolid anchors\\b", "rated anchors"},
      {"\\btape its label\\b", "Put a tape label on every part"},
      {"\\bring of (bearing|[0-9])", "... of board rests on ..."},
      {"\\bhang(s)? together\\b", "are joined"},
      {"\\bgive way\\b", "slide out of the way"},
      {"\\bgets? at\\b", "reaches"},
      {"\\bas it comes\\b", "fits without adjusting"},
      {"\\bin one place\\b", "in the same place"},
      {"\\b(cannot|can not)\\b", "can't, doesn't, don't"},
      {"\\b[A-Za-z][A-Za-z0-9]* ([a-z]+) \\1\\b", "each word once"},
  };
  static const std::vector<Banned> german = {
      {"\\bRahmen\\b|\\bWerkstück\\b", "Gestell"},
      {"\\bFinger weg\\b", "Quetschgefahr"},
      {"\\bAm Ende (steht|liegt|zeigt)\\b", "So drehen, dass ..."},
      {"\\bNiemand klettert\\b", "Gestell nicht betreten"},
      {"\\baus dem Gedächtnis\\b|\\bbestätigt\\b", "Ungeprüfte Maße"},
      {"\\bSchl(uss|üsse) (ist|sind)\\b", "Maßketten gehen genau auf"},
      {"\\bnachrichten\\b", "nachjustieren"},
      {"\\bUnachtsame", "planlos"},
      {"\\bPreis\\b|\\bbilliger\\b", "zu lösen"},
      {"\\bGESPERRT\\b", "NICHT BAUBAR"},
      {"\\bHauptarbeit\\b", "Hauptteil"},
      {"\\bleichte Arbeit\\b", "Aufwand"},
      {"\\b(wall|floor|ceiling)\\b", "Wand, Boden, Decke"},
      {"\\b[0-9]+ mm weit für\\b", "Loch Ø ... für"},
      {"\\b[A-Za-z][A-Za-z0-9]* ([a-z]+) \\1\\b", "jedes Wort einmal"},
  };
  return language == "de" ? german : english;
}

std::string joined_lines(const std::string& text) {
  std::string out;
  for (const char c : text) {
    const bool blank = c == '\n' || c == ' ';
    if (!blank || out.empty() || out.back() != ' ') out += blank ? ' ' : c;
  }
  return out;
}

/// Where the pattern is met, with some words round it; "" when it is not.
std::string met(const std::string& text, const char* pattern) {
  const std::regex wanted(pattern, std::regex::icase);
  std::smatch found;
  if (!std::regex_search(text, found, wanted)) return "";
  const auto at = static_cast<std::size_t>(found.position());
  const std::size_t from = at < 40 ? 0 : at - 40;
  return text.substr(from, static_cast<std::size_t>(found.length()) + 80);
}

void hold_to_style(const std::string& text, const std::string& language, bool inches) {
  for (const Banned& banned : banned_in(language)) {
    CHECK_MESSAGE(met(text, banned.pattern).empty(), met(text, banned.pattern), " -> ", banned.better);
  }
  // A nominal size, "3/4 in pipe", is the name of a size everywhere; lengths are told in the frame's own system.
  if (inches) {
    CHECK_MESSAGE(met(text, "[0-9] (mm|cm|kg)\\b").empty(), met(text, "[0-9] (mm|cm|kg)\\b"));
  } else {
    CHECK_MESSAGE(met(text, "[0-9] lb\\b").empty(), met(text, "[0-9] lb\\b"));
  }
  const char* decimal = language == "de" ? "[0-9],[0-9]+ Zoll" : "[0-9]\\.[0-9]+ in\\b";
  CHECK_MESSAGE(met(text, decimal).empty(), met(text, decimal));
}

/// A screen of a terminal that is not small.
constexpr std::ptrdiff_t kScreen = 50;
constexpr std::size_t kParts = 40;

/// Letters of a line that any terminal shows whole. A name that is longer than that can stand alone.
constexpr std::ptrdiff_t kWide = 96;

std::ptrdiff_t widest_line(const std::string& text) {
  std::istringstream in(text);
  std::ptrdiff_t widest = 0;
  for (std::string line; std::getline(in, line);) {
    const auto letters = std::count_if(line.begin(), line.end(), [](char c) { return (c & 0xC0) != 0x80; });
    widest = std::max(widest, letters);
  }
  return widest;
}

struct Answer {
  std::vector<std::string> args;
  bool screen;  ///< has to fit one, for a frame of up to kParts parts
};

void hold_answers(const std::vector<std::string>& files, const std::vector<Answer>& answers) {
  for (const std::string& file : files) {
    const auto loaded = dryfit::cli::loaded_from(dryfit::tests::slurp(file), file);
    const bool inches = loaded.frame.units == dryfit::model::Units::in;
    for (const Answer& answer : answers) {
      for (const char* language : {"en", "de"}) {
        std::vector<std::string> args = answer.args;
        args.insert(args.begin() + 1, file);
        args.insert(args.end(), {"--language", language});
        const auto ran = run(args);
        dryfit::cli::speak("en");
        CAPTURE(std::filesystem::path(file).filename().string());
        CAPTURE(args.front());
        CAPTURE(language);
        REQUIRE(ran.code != 2);
        hold_to_style(joined_lines(ran.out), language, inches);
        CHECK(widest_line(ran.out) <= kWide);
        if (answer.screen && loaded.frame.parts.size() <= kParts) {
          CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') <= kScreen);
        }
      }
    }
  }
}

std::vector<std::string> few() {
  std::vector<std::string> files = scenario_files();
  std::erase_if(files, [](const std::string& file) {
    const std::string name = std::filesystem::path(file).stem().string();
    return name != "pot-rail" && name != "cellar-rail-ring" && name != "boot-bench-metric" && name != "plant-rack";
  });
  REQUIRE(files.size() == 4);
  return files;
}

}  // namespace

TEST_CASE("what is answered on every scenario is in a builder's words, in one system of units, on a screen") {
  hold_answers(scenario_files(), {{{"check"}, true}, {{"fit"}, true}, {{"drill"}, false}, {{"buy"}, true}});
}

TEST_CASE("orders, and what must go on early, are told in a builder's words and in one system of units") {
  hold_answers(few(), {{{"order"}, false}, {{"early"}, true}});
}

TEST_CASE("an order takes little more than a line a step, and says each caution once") {
  for (const std::string& file : few()) {
    const auto ran = run({"order", file});
    if (ran.code != 0) continue;
    CAPTURE(ran.out);
    std::istringstream lines(ran.out);
    std::string line;
    std::vector<std::string> cautions;
    std::ptrdiff_t steps = 0, all = 0;
    while (std::getline(lines, line)) {
      ++all;
      const std::size_t at = line.find_first_not_of(' ');
      if (at != std::string::npos && line[at] == '!') cautions.push_back(line.substr(at));
      steps += std::regex_search(line, std::regex("^ {2,4}[0-9]+\\. ")) ? 1 : 0;
    }
    CHECK(all <= 2 * steps + 40);
    std::sort(cautions.begin(), cautions.end());
    CHECK(std::adjacent_find(cautions.begin(), cautions.end()) == cautions.end());
  }
}

TEST_SUITE("slow") {
  TEST_CASE("every scenario's order and traps, told in full, are in a builder's words and in one system of units") {
    hold_answers(scenario_files(), {{{"order", "--explain"}, false}, {{"early"}, true}, {{"early", "--all"}, false}});
  }
}

TEST_CASE("the style sheet's own check finds what it is there for") {
  CHECK_FALSE(met("FL fast to the floor", "\\bfast to\\b").empty());
  CHECK_FALSE(met("off by 0.03 in up", "[0-9]\\.[0-9]+ in\\b").empty());
  CHECK(met("off by 1/32 in up", "[0-9]\\.[0-9]+ in\\b").empty());
  for (const char* language : {"en", "de"}) CHECK(banned_in(language).size() > 10);
}

/// All wording in one table: the catalogues against the sources, and outputs in which whatever was not said through
/// them shows.
#include <doctest/doctest.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <map>
#include <memory>
#include <nlohmann/json.hpp>
#include <regex>
#include <set>
#include <sstream>

#include "cli/input/frame_file.hpp"
#include "cli/words/say.hpp"
#include "tests/support/program/message_catalogue.hpp"
#include "tests/support/program/one_letter.hpp"
#include "tests/support/program/program.hpp"
#include "tests/support/program/shell.hpp"

using namespace dryfit;
using tests::OneLetter;
using tests::output_of;
using tests::run;
using tests::scenario;
using tests::ScratchFolder;
using tests::slurp;
using tests::text_of_pdf;
using tests::without_blanks;
using tests::words_of;

namespace {

std::string source_path(const std::string& name) { return std::string(DRYFIT_SOURCE_DIR) + "/" + name; }

std::vector<std::string> all_scenarios() {
  std::vector<std::string> names;
  for (const std::string& file : tests::scenario_files()) names.push_back(std::filesystem::path(file).stem().string());
  std::sort(names.begin(), names.end());
  REQUIRE(names.size() > 10);
  return names;
}

/// Fields of a text and how each is formatted, numbered ones by their numbers.
std::map<int, std::string> fields_of(const std::string& text) {
  std::map<int, std::string> fields;
  int next = 0;
  for (std::size_t at = text.find('{'); at != std::string::npos; at = text.find('{', at + 1)) {
    const std::string inside = text.substr(at + 1, text.find('}', at) - at - 1);
    const std::size_t colon = std::min(inside.find(':'), inside.size());
    const int number = colon == 0 ? next++ : std::stoi(inside.substr(0, colon));
    fields[number] = inside.substr(colon);
  }
  return fields;
}

/// Names that a frame brings itself, and units that are written alike everywhere.
std::set<std::string> names_in(const model::Frame& frame) {
  std::string all = "mm cm kg " + frame.name;
  for (const model::Part& part : frame.parts) all += " " + part.id + " " + part.label;
  for (const model::Surface& surface : frame.surfaces) all += " " + surface.id;
  return words_of(all);
}

/// What people read of a page: text, and attributes for those who do not see.
std::string read_of_page(std::string html) {
  // By hand: a regular expression would recurse for every character of a script.
  for (const std::string name : {"style", "script"}) {
    for (std::size_t at = 0; (at = html.find("<" + name, at)) != std::string::npos;) {
      const std::string end = "</" + name + ">";
      html.replace(at, html.find(end, at) + end.size() - at, " ");
    }
  }
  std::string out;
  static const std::regex kSaid("(aria-label|data-name|title)=\"([^\"]*)\"");
  for (std::sregex_iterator it(html.begin(), html.end(), kSaid), end; it != end; ++it) out += (*it)[2].str() + " ";
  return out + std::regex_replace(std::regex_replace(html, std::regex("<[^>]*>"), " "), std::regex("&[a-z]+;"), " ");
}

}  // namespace

TEST_CASE("the template of the catalogues has every message of the sources exactly as expected") {
  const ScratchFolder folder;
  const std::string made = folder.path("made.pot");
  static_cast<void>(output_of("cd '" DRYFIT_SOURCE_DIR "' && sh cli/languages/extract '" + made + "' 2>&1"));
  const std::string now = slurp(made);
  if (std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr) {
    std::ofstream(source_path("cli/languages/dryfit.pot"), std::ios::binary) << now;
  }
  CHECK(tests::read_catalogue(now).size() > 500);  // a floor set by hand, so that an empty template cannot pass
  CHECK(slurp(source_path("cli/languages/dryfit.pot")) == now);
}

TEST_CASE("every catalogue translates every message, with the same fields, and nothing besides") {
  const auto wanted = tests::read_catalogue(slurp(source_path("cli/languages/dryfit.pot")));
  for (const std::string& language : cli::languages()) {
    if (language == "en") continue;
    const auto catalogue = tests::read_catalogue(slurp(source_path("cli/languages/" + language + ".po")));
    std::map<std::pair<std::string, std::string>, const tests::Message*> found;
    for (const tests::Message& message : catalogue) {
      CAPTURE(message.english);
      if (message.english.empty()) continue;  // the head
      CHECK_FALSE(message.fuzzy);
      CHECK(found.emplace(std::pair(message.context, message.english), &message).second);
    }
    for (const tests::Message& message : wanted) {
      CAPTURE(message.english);
      const auto at = found.find({message.context, message.english});
      const bool translated = at != found.end();
      CHECK(translated);
      if (!translated) continue;
      CHECK(at->second->plural == message.plural);
      REQUIRE(at->second->texts.size() == message.texts.size());
      for (std::size_t form = 0; form < message.texts.size(); ++form) {
        const std::string& text = at->second->texts[form];
        CAPTURE(text);
        CHECK_FALSE(text.empty());
        const auto theirs = fields_of(text), ours = fields_of(form == 0 ? message.english : message.plural);
        // One thing may be told without its number, or its number without a word: "a coupling", "2 couplings".
        if (message.plural.empty()) {
          CHECK(theirs == ours);
        } else {
          for (const auto& [number, format] : theirs) {
            CHECK(fields_of(message.plural).contains(number));
            CHECK(fields_of(message.plural)[number] == format);
          }
        }
      }
      found.erase(at);
    }
    for (const auto& [key, message] : found) CHECK_MESSAGE(false, "used nowhere: ", key.second);
  }
}

TEST_CASE("whatever a builder reads is said through the catalogues" * doctest::test_suite("slow") *
          doctest::timeout(600)) {
  const OneLetter one_letter;
  const ScratchFolder folder;
  const std::string pdf = folder.path("a.pdf"), page = folder.path("a.html");
  for (const std::string& name : all_scenarios()) {
    CAPTURE(name);
    const std::string file = scenario(name);
    std::istringstream in;
    std::ostringstream out, err;
    const auto known = names_in(cli::load_frame(file, {in, out, err}).frame);
    const auto check_words = [&](const std::string& what, const std::string& text) {
      CAPTURE(what);
      // A port is named in the frame file: "P3/T1.left"; so are straps and clips in ids: "B1/P1 strap".
      static const std::regex kPort("([A-Za-z0-9~])\\.[a-z]+(-[a-z]+)*"), kFastener("(/[^ /]+)\\s(strap|clip)\\b");
      for (const std::string& word :
           words_of(std::regex_replace(std::regex_replace(text, kFastener, "$1"), kPort, "$1"))) {
        CAPTURE(word);
        CHECK(known.contains(word));
      }
    };
    const auto check_pdf = [&](const std::string& what, const std::vector<std::string>& call) {
      std::filesystem::remove(pdf);
      (void)run(call);
      if (std::filesystem::exists(pdf)) check_words(what, text_of_pdf(pdf));
    };
    for (const std::vector<std::string>& call :
         std::vector<std::vector<std::string>>{{"order", file, "--explain", "--stats"},
                                               {"buy", file, "--spares"},
                                               {"drill", file},
                                               {"check", file},
                                               {"fit", file},
                                               {"early", file, "--all"}}) {
      const auto ran = run(call);
      CHECK(ran.err == "");
      CHECK(ran.out.find("ø") != std::string::npos);
      check_words(call.front(), ran.out);
    }
    check_pdf("the cards", {"cards", file, "-o", pdf});
    check_pdf("the drill sheets", {"drill", file, "-o", pdf, "--full-size"});
    check_pdf("the list to buy", {"buy", file, "-o", pdf, "--spares"});
    check_pdf("the picture", {"show", file, "-o", pdf});
    std::filesystem::remove(page);
    (void)run({"cards", file, "-o", page});
    if (std::filesystem::exists(page)) check_words("the bench page", read_of_page(slurp(page)));
  }
}

TEST_CASE("German orders, lists and sheets read exactly as expected") {
  const auto check_output = [](const std::vector<std::string>& call, const std::string& expected_name) {
    CAPTURE(expected_name);
    std::vector<std::string> args = call;
    args[1] = scenario(call[1]);
    args.insert(args.end(), {"--language", "de"});
    const auto ran = run(args);
    CHECK(ran.err == "");
    const std::string path = source_path("tests/cli/expected/" + expected_name);
    if (std::getenv("DRYFIT_RENEW_EXPECTED") != nullptr) std::ofstream(path, std::ios::binary) << ran.out;
    CHECK(ran.out == slurp(path));
  };
  check_output({"order", "plant-rack"}, "plant-rack.order.de.txt");
  check_output({"order", "trellis-arm", "--explain", "--units", "both"}, "trellis-arm.order.de.txt");
  check_output({"check", "cellar-rail-ring"}, "cellar-rail-ring.check.de.txt");
  check_output({"buy", "boot-bench-metric", "--spares"}, "boot-bench-metric.buy.de.txt");
  check_output({"drill", "potting-hoop-notched"}, "potting-hoop-notched.drill.de.txt");
}

TEST_CASE("cards and bench page speak German where the order does") {
  const ScratchFolder folder;
  const std::string pdf = folder.path("a.pdf"), page = folder.path("a.html");
  const auto order = nlohmann::json::parse(run({"order", scenario("plant-rack"), "--json", "--language", "de"}).out);
  REQUIRE(run({"cards", scenario("plant-rack"), "-o", pdf, "--language", "de"}).code == 0);
  REQUIRE(run({"cards", scenario("plant-rack"), "-o", page, "--language", "de"}).code == 0);
  const std::string cards = without_blanks(text_of_pdf(pdf)), html = slurp(page);
  CHECK(html.find("<html lang=\"de\">") != std::string::npos);
  CHECK(html.find(">Erledigt, weiter</button>") != std::string::npos);
  for (const auto& step : order["steps"]) {
    const auto text = step["text_in_pose"].get<std::string>();
    CAPTURE(text);
    CHECK(cards.find(without_blanks(text)) != std::string::npos);
    CHECK(html.find("<p class=\"do\">" + text + "</p>") != std::string::npos);
    CHECK(step["action"].get<std::string>().find_first_not_of("abcdefghijklmnopqrstuvwxyz") == std::string::npos);
  }
}

TEST_CASE("the language is that of the environment as gettext reads it, or the one that is asked for") {
  const auto spoken = [](const std::vector<std::pair<const char*, const char*>>& variables,
                         std::vector<std::string> more = {}) {
    for (const char* name : {"LANGUAGE", "LC_ALL", "LC_MESSAGES", "LANG"}) ::unsetenv(name);
    for (const auto& [name, value] : variables) ::setenv(name, value, 1);
    std::vector<std::string> call = {"drill", scenario("pot-rail")};
    call.insert(call.end(), more.begin(), more.end());
    const std::string said = run(call).out;
    for (const auto& [name, value] : variables) ::unsetenv(name);
    ::setenv("LC_ALL", "C", 1);
    return said == "Pot rail: no board to drill\n"      ? std::string("en")
           : said == "Pot rail: kein Brett zu bohren\n" ? std::string("de")
                                                        : said;
  };
  CHECK(spoken({}) == "en");
  CHECK(spoken({{"LANG", "de_AT.UTF-8"}}) == "de");
  CHECK(spoken({{"LANG", "fr_FR.UTF-8"}}) == "en");
  CHECK(spoken({{"LANG", "de_DE.UTF-8"}, {"LC_MESSAGES", "en_GB.UTF-8"}}) == "en");
  CHECK(spoken({{"LANG", "en_GB.UTF-8"}, {"LC_MESSAGES", "de"}}) == "de");
  CHECK(spoken({{"LC_MESSAGES", "en_GB.UTF-8"}, {"LC_ALL", "de_CH@euro"}}) == "de");
  CHECK(spoken({{"LANG", "fr_FR.UTF-8"}, {"LANGUAGE", "fr:de:en"}}) == "de");
  CHECK(spoken({{"LANG", "de_DE.UTF-8"}, {"LANGUAGE", "en"}}) == "en");
  CHECK(spoken({{"LANG", "C"}, {"LANGUAGE", "de"}}) == "en");
  CHECK(spoken({{"LC_ALL", "C.UTF-8"}, {"LANG", "de_DE.UTF-8"}}) == "en");
  CHECK(spoken({{"LANG", "C"}}, {"--language", "de"}) == "de");
  CHECK(spoken({{"LANG", "de_DE.UTF-8"}}, {"--language", "en"}) == "en");
  const auto other = run({"drill", scenario("pot-rail"), "--language", "la"});
  CHECK(other.code == 2);
  CHECK(other.out == "");
  CHECK(other.err == "dryfit: --language: expected en or de, got 'la'; see 'dryfit drill --help'\n");
}

TEST_CASE("lengths and weights are shown as asked, in words and as fields") {
  const std::string frame = scenario("pot-rail");
  const std::string metric = run({"order", scenario("hall-rack"), "--units", "mm"}).out;
  // The two pairs are what the program itself gives; 8.2 lb is 3.7 kg, and headroom of 180.8 mm goes up to both numbers.
  CHECK(metric.find("3.7 kg") != std::string::npos);
  CHECK(metric.find("lb") == std::string::npos);
  CHECK(metric.find("That takes 181 mm of headroom") != std::string::npos);
  const std::string both = run({"order", scenario("hall-rack"), "--units", "both"}).out;
  CHECK(both.find("8.2 lb (3.7 kg)") != std::string::npos);
  CHECK(both.find("7-1/8 in (181 mm)") != std::string::npos);
  const std::regex in_mm("[0-9] mm"), in_inches("[0-9] in[,;.)]");
  for (const std::vector<std::string>& call : std::vector<std::vector<std::string>>{
           {"early", frame, "--units", "mm"}, {"change", frame, "--set", "R1.length=24..30", "--units", "mm"}}) {
    CAPTURE(call.front());
    const auto ran = run(call);
    CHECK(ran.err == "");
    CHECK(std::regex_search(ran.out, in_mm));
    CHECK_FALSE(std::regex_search(ran.out, in_inches));
  }
  // A board after the coupling that should have caught it: the reason has the widths of both.
  auto steps = nlohmann::json::parse(run({"order", scenario("plant-rack"), "--json"}).out)["steps"];
  const auto slide =
      std::find_if(steps.begin(), steps.end(), [](const auto& step) { return step["action"] == "slide"; });
  REQUIRE(slide != steps.end());
  std::swap(*slide, *std::next(slide));
  const ScratchFolder folder;
  const std::string file = folder.file("steps.json", nlohmann::json{{"steps", steps}}.dump());
  const auto refusal = [&](const char* units) {
    return run({"replay", scenario("plant-rack"), file, "--units", units}).out;
  };
  // The band of 3/4, 1.458 in from memory, is 37 mm and to a sixty-fourth 1-29/64 in; 1-1/8 in is 28.6 mm.
  CHECK(refusal("in").find("(1-29/64 in against 1-1/8 in)") != std::string::npos);
  CHECK(refusal("mm").find("(37 mm against 28.6 mm)") != std::string::npos);
  CHECK(refusal("both").find("(1-29/64 in (37 mm) against 1-1/8 in (28.6 mm))") != std::string::npos);
  const std::string german = run({"replay", scenario("plant-rack"), file, "--language", "de"}).out;
  cli::speak("en");
  CHECK(german.find("Loch") != std::string::npos);
  CHECK(german.find("cannot") == std::string::npos);
  const auto json = nlohmann::json::parse(run({"order", frame, "--json", "--units", "in"}).out);
  CHECK(json["steps"][0].contains("swing_radius_in"));
  // What is printed as JSON is held against its schema by run().
  const auto range = run({"change", frame, "--set", "R1.length=24..26", "--json", "--units", "in"});
  CHECK(nlohmann::json::parse(range.out)["sweep"][1]["length_fraction_in"] == "25");
  CHECK(run({"change", frame, "--set", "R1.length=25", "--json", "--units", "both"}).out.find("_in\"") !=
        std::string::npos);
}

/// Words on paper: none over others, none cut by the edge of the page or of the board. German ones are the longest.
#include <doctest/doctest.h>

#include <cmath>
#include <filesystem>
#include <regex>
#include <string>
#include <vector>

#include "tests/support/program/program.hpp"

namespace {

using namespace dryfit::tests;

/// One line of text, mm on the page; `y` is the baseline.
struct Words {
  double x = 0.0, y = 0.0, width = 0.0, size = 0.0;
  std::string text;
};

double number_in(const std::string& element, const std::string& key) {
  std::smatch found;
  const std::regex pattern(" " + key + "=\"(-?[0-9.]+)\"");
  return std::regex_search(element, found, pattern) ? std::stod(found[1]) : 0.0;
}

/// All upright words on a page.
std::vector<Words> words_on(const std::string& page) {
  std::vector<Words> out;
  const std::regex pattern("<text( [^>]*)>([^<]*)<");
  for (std::sregex_iterator it(page.begin(), page.end(), pattern), end; it != end; ++it) {
    const std::string element = (*it)[1];
    if (element.find("transform=") != std::string::npos) continue;
    out.push_back({number_in(element, "x"), number_in(element, "y"), number_in(element, "textLength"),
                   number_in(element, "font-size"), (*it)[2]});
  }
  return out;
}

/// Of capitals; 0.73 em of usual faces (from memory).
bool overlap(const Words& a, const Words& b) {
  constexpr double kHair = 0.05;
  return a.x < b.x + b.width - kHair && b.x < a.x + a.width - kHair && a.y - 0.7 * a.size < b.y - kHair &&
         b.y - 0.7 * b.size < a.y - kHair;
}

/// Every page that the call writes.
std::vector<std::string> svg_pages(const std::string& command, const std::string& name,
                                   const std::vector<std::string>& more) {
  const ScratchFolder folder;
  std::vector<std::string> call = {command, scenario(name), "--language", "de", "-o", folder.path("p.svg")};
  call.insert(call.end(), more.begin(), more.end());
  REQUIRE(run(call).code == 0);
  std::vector<std::string> pages;
  for (int k = 1;; ++k) {
    const std::string path = folder.path("p-" + std::to_string(k) + ".svg");
    if (!std::filesystem::exists(path)) break;
    pages.push_back(slurp(path));
  }
  return pages;
}

/// Words on the page; what lies wholly beside it (a template is cut out of a board) is not on it.
std::vector<Words> seen_on(const std::string& page, double width, double height) {
  std::vector<Words> out = words_on(page);
  std::erase_if(out, [&](const Words& w) { return w.x > width || w.x + w.width < 0.0 || w.y < 0.0 || w.y > height; });
  return out;
}

void check_apart(const std::string& page, double width, double height) {
  const std::vector<Words> words = seen_on(page, width, height);
  for (std::size_t i = 0; i < words.size(); ++i) {
    CAPTURE(words[i].text);
    CHECK(words[i].x >= 4.0);
    CHECK(words[i].x + words[i].width <= width - 4.0);  // most printers leave about that much white (from memory)
    for (std::size_t j = 0; j < i; ++j) {
      CAPTURE(words[j].text);
      CHECK_FALSE(overlap(words[i], words[j]));
    }
  }
}

}  // namespace

TEST_CASE("on German cards no words stand over others, and none are cut by the page") {
  int pages = 0;
  for (const char* name : {"bakery-cart", "trellis-arm", "paint-shelf"}) {
    CAPTURE(name);
    for (const std::string& page : svg_pages("cards", name, {"--paper", "letter"})) {
      ++pages;
      CAPTURE(pages);
      check_apart(page, 215.9, 279.4);
    }
  }
  CHECK(pages > 15);
}

TEST_CASE("on German templates no words stand over others or over the edge of the board") {
  int templates = 0;
  for (const char* name : {"glove-stand", "bakery-cart"}) {
    CAPTURE(name);
    for (const std::string& page : svg_pages("drill", name, {"--full-size", "--paper", "a4"})) {
      const std::size_t rulers = page.find("100 mm");
      if (rulers == std::string::npos) continue;
      ++templates;
      const bool across = page.find("width=\"297mm\"") < 200;
      check_apart(page, across ? 297.0 : 210.0, across ? 210.0 : 297.0);
      if (std::string(name) != "glove-stand") continue;
      // The board, 9 in wide, lies on one page: the first line that is as long as that. 1 in is 25.4 mm.
      const std::regex line("d=\"M([0-9.]+) -?[0-9.]+L([0-9.]+) ");
      double right = 0.0;
      for (std::sregex_iterator it(page.begin(), page.end(), line), end; it != end && right == 0.0; ++it) {
        const double from = std::stod((*it)[1]), to = std::stod((*it)[2]);
        if (std::abs(to - from - 9 * 25.4) < 0.1) right = to;
      }
      REQUIRE(right > 0.0);
      for (const Words& words : seen_on(page, 297.0, 210.0)) {
        if (words.text.find("Bohrer") == 0) CHECK(words.x + words.width < right);
      }
    }
  }
  CHECK(templates > 1);
}

/// Cards, drill sheets and lists as SVG, a page a file, against the PDF of the same call.
#include <doctest/doctest.h>

#include <array>
#include <nlohmann/json.hpp>
#include <regex>

#include "tests/support/program/program.hpp"
#include "tests/support/program/shell.hpp"

using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;
using dryfit::tests::text_of_pdf;
using dryfit::tests::without_blanks;

namespace {

using Call = std::vector<std::string>;

/// The pages of a call that ends in "-o NAME.svg".
std::vector<std::string> pages_of(const ScratchFolder& folder, Call call) {
  call.insert(call.end(), {"-o", folder.path("p.svg"), "--json"});
  const auto ran = run(call);
  REQUIRE(ran.code == 0);
  std::vector<std::string> pages;
  const auto answer = nlohmann::json::parse(ran.out);
  for (const auto& file : answer["files"]) pages.push_back(slurp(file.get<std::string>()));
  return pages;
}

std::string replaced(std::string text, const std::string& from, const std::string& to) {
  for (std::size_t at = text.find(from); at != std::string::npos; at = text.find(from, at + to.size())) {
    text.replace(at, from.size(), to);
  }
  return text;
}

/// What is written on a page, in the order in which it was drawn; what stands beyond the sheet is not on it.
std::string words_of(const std::string& page) {
  const std::regex sheet("viewBox=\"0 0 ([0-9.]+) ([0-9.]+)\"");
  const std::regex text(
      "<text (?:x=\"([-0-9.]+)\" y=\"([-0-9.]+)\"|transform=\"translate\\(([-0-9.]+) ([-0-9.]+)\\)[^\"]*\")[^>]*>([^<]*)<");
  std::smatch size;
  REQUIRE(std::regex_search(page, size, sheet));
  std::string out;
  for (std::sregex_iterator it(page.begin(), page.end(), text), end; it != end; ++it) {
    const std::smatch& found = *it;
    const double x = std::stod(found[1].matched ? found[1] : found[3]);
    const double y = std::stod(found[2].matched ? found[2] : found[4]);
    if (x >= 0.0 && y >= 0.0 && x <= std::stod(size[1]) && y <= std::stod(size[2])) out += found[5].str() + "\n";
  }
  using Entity = std::array<const char*, 2>;
  for (const Entity& entity : {Entity{"&lt;", "<"}, {"&gt;", ">"}, {"&quot;", "\""}, {"&#39;", "'"}, {"&amp;", "&"}}) {
    out = replaced(out, entity[0], entity[1]);
  }
  return out;
}

}  // namespace

TEST_CASE("pages as SVG say what the PDF says, word for word, on as many sheets of the same size") {
  struct Paper {
    const char* name;
    const char* size;  // ISO 216; ANSI/ASME Y14.1, size A
  };
  for (const Call& call : {Call{"cards", scenario("plant-rack")},
                           {"drill", scenario("plant-rack"), "--full-size"},
                           {"buy", scenario("plant-rack"), "--spares"}}) {
    for (const Paper& paper :
         {Paper{"a4", "width=\"210mm\" height=\"297mm\""}, {"letter", "width=\"215.9mm\" height=\"279.4mm\""}}) {
      CAPTURE(call.front());
      CAPTURE(paper.name);
      const ScratchFolder folder;
      Call wanted = call;
      wanted.insert(wanted.end(), {"--paper", paper.name});
      const auto pages = pages_of(folder, wanted);
      wanted.insert(wanted.end(), {"-o", folder.path("p.pdf")});
      REQUIRE(run(wanted).code == 0);
      std::string words;
      std::size_t upright = 0;
      for (const std::string& page : pages) {
        words += words_of(page);
        if (page.find(paper.size) != std::string::npos) ++upright;
      }
      // A blank that keeps a number and its unit together is a blank as well.
      const auto plain = [](const std::string& text) { return without_blanks(replaced(text, "\u00a0", "")); };
      CHECK(plain(words) == plain(text_of_pdf(folder.path("p.pdf"))));
      // Sheets of wide boards lie across.
      CHECK((call.front() == "drill" ? upright < pages.size() : upright == pages.size()));
    }
  }
}

TEST_CASE("pages as SVG are the same bytes each time, and each card has its picture") {
  const ScratchFolder folder;
  const auto pages = pages_of(folder, {"cards", scenario("pot-rail")});
  CHECK(pages == pages_of(folder, {"cards", scenario("pot-rail")}));
  CHECK(pages.size() > 3);
  const auto two = pages_of(folder, {"cards", scenario("pot-rail"), "--per-page", "2"});
  CHECK(two.size() > pages.size());
}

TEST_CASE("templates as SVG have holes of the bit's size and rulers of 100 mm and 4 in") {
  const ScratchFolder folder;
  const auto pages = pages_of(folder, {"drill", scenario("plant-rack"), "--full-size"});
  // 1-1/8 in is 28.575 mm: half a circle is an arc of that radius, 14.2875 mm.
  std::size_t arcs = 0, metric = 0, inch = 0;
  for (const std::string& page : pages) {
    if (page.find("full size") == std::string::npos) continue;
    for (std::size_t at = page.find("A14.287 14.287"); at != std::string::npos;
         at = page.find("A14.287 14.287", at + 1))
      ++arcs;
    std::smatch line;
    std::string rest = page;
    const std::regex level("d=\"M([0-9.]+) ([0-9.]+)L([0-9.]+) ([0-9.]+)\"");
    for (; std::regex_search(rest, line, level); rest = line.suffix()) {
      const double length = std::stod(line[3]) - std::stod(line[1]);
      if (line[2] == line[4] && std::abs(length - 100.0) < 0.002) ++metric;
      if (line[2] == line[4] && std::abs(length - 101.6) < 0.002) ++inch;
    }
  }
  CHECK(arcs == 4);  // three shelves drilled alike share one template, of two holes
  CHECK(metric > 0);
  CHECK(metric == inch);
}

TEST_CASE("a board that needs no drilling has no pages, and none is written") {
  const ScratchFolder folder;
  const auto ran = run({"drill", scenario("pot-rail"), "-o", folder.path("p.svg"), "--json"});
  CHECK(ran.code == 1);
  const auto answer = nlohmann::json::parse(ran.out);
  CHECK(answer["file"] == nullptr);
  CHECK(answer["files"].empty());
  CHECK(folder.entries().empty());
}

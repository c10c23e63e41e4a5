/// The printed list of what to buy against the list itself.
#include "cli/draw/sheet/buy_sheet.hpp"

#include <doctest/doctest.h>

#include <cmath>

#include "tests/support/program/program.hpp"
#include "tests/support/program/shell.hpp"
#include "tests/support/seen/pdf_paths.hpp"

using namespace dryfit;
using tests::run;
using tests::scenario;
using tests::ScratchFolder;
using tests::text_of_pdf;
using tests::without_blanks;

namespace {

/// The list as `dryfit buy` prints it: from the first heading to the end, line by line joined to its entry.
std::vector<std::string> printed_lines(const std::string& out) {
  std::vector<std::string> lines;
  std::size_t at = out.find('\n') + 1;
  while (at < out.size()) {
    const std::size_t end = out.find('\n', at);
    const std::string line = out.substr(at, end - at);
    at = end + 1;
    if (line.empty()) continue;
    const bool continued =
        line.starts_with("       ") || (line.starts_with("  ") && !lines.empty() && lines.back()[0] == '*');
    if (continued && !lines.empty()) {
      lines.back() += " " + line;
    } else {
      lines.push_back(line);
    }
  }
  return lines;
}

}  // namespace

TEST_CASE("the printed shopping list reads, entry by entry, as the list on the screen does") {
  const ScratchFolder folder;
  for (const char* name : {"plant-rack", "boot-bench-metric", "trellis-arm", "work-table", "seed-store"}) {
    CAPTURE(name);
    const std::string file = folder.path(std::string(name) + ".pdf");
    const auto ran = run({"buy", scenario(name), "--spares", "-o", file});
    CHECK(ran.err == "");
    REQUIRE(ran.code == 0);
    const std::string text = without_blanks(text_of_pdf(file));
    std::size_t at = 0;
    for (const std::string& line : printed_lines(ran.out)) {
      CAPTURE(line);
      // On paper the star ends the words and the labels have their own column, headed once: no colon between them.
      std::string wanted = without_blanks(line);
      const bool star = wanted.size() > 1 && wanted.back() == '*';
      if (star) wanted.pop_back();
      const std::size_t colon = line.starts_with("  ") ? wanted.rfind(':') : std::string::npos;
      std::size_t found = text.find(wanted, at);
      if (found == std::string::npos && colon != std::string::npos) {
        wanted = wanted.substr(0, colon) + (star ? "*" : "") + wanted.substr(colon + 1);
        found = text.find(wanted, at);
      }
      REQUIRE(found != std::string::npos);
      at = found + wanted.size();
    }
  }
}

TEST_CASE("every entry has its own box to tick") {
  const cli::BuySection section{"Pipe",
                                {{2, "3/4 in nipple, 6 in long", "P1 and P6", ""},
                                 {1, "3/4 in pipe, cut to 9-1/4 in, both ends threaded", "P3", ""}},
                                {}};
  const cli::BuySheet sheet{"Rack", "what to buy, 3 lb in all", {section}, {"A remark."}};
  for (const cli::PaperSize paper : {cli::PaperSize::a4, cli::PaperSize::letter}) {
    const auto pages = tests::read_pdf(cli::buy_pages(sheet, paper).front());
    REQUIRE(pages.size() == 1);
    int boxes = 0;
    for (const tests::PdfPath& path : pages[0].paths) {
      if (!path.rectangle) continue;
      const double width = std::abs(path.points[1].x - path.points[0].x);
      const double height = std::abs(path.points[1].y - path.points[0].y);
      // Boxes are 4.2 mm wide, the program's own choice.
      boxes += std::abs(width - 4.2) < 0.1 && std::abs(height - 4.2) < 0.1 ? 1 : 0;
    }
    CHECK(boxes == 2);  // one for each entry
  }
}

TEST_CASE("a long list goes on to further pages under its heading, and no entry is lost") {
  cli::BuySection section{"Fittings", {}, {}};
  for (int i = 1; i <= 120; ++i)
    section.entries.push_back({i, "3/4 in coupling no " + std::to_string(1000 + i), "C", ""});
  const auto pages = tests::read_pdf(cli::buy_pages({"Rack", "much", {section}, {}}, cli::PaperSize::a4).front());
  REQUIRE(pages.size() >= 3);  // 120 lines do not go on two sheets of 297 mm when each takes 5 mm
  std::string all;
  for (const auto& page : pages) all += page.text;
  for (int i = 1; i <= 120; ++i) CHECK(all.find("3/4 in coupling no " + std::to_string(1000 + i)) != std::string::npos);
  for (std::size_t i = 1; i < pages.size(); ++i) CHECK(pages[i].text.find("Fittings (goes on)") != std::string::npos);
}

TEST_CASE("a list that cannot be written is refused with the reason, and a picture's name is no list's") {
  const auto png = run({"buy", scenario("plant-rack"), "-o", "list.png"});
  CHECK(png.code == 2);
  CHECK(png.err.find("ends in .pdf") != std::string::npos);
  const auto nowhere = run({"buy", scenario("plant-rack"), "-o", "/no/such/folder/list.pdf"});
  CHECK(nowhere.code == 2);
  CHECK(nowhere.err.find("/no/such/folder/list.pdf") != std::string::npos);
  CHECK(nowhere.out == "");
}

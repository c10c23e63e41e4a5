/// What stands on which page of the cards.
#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "tests/support/program/program.hpp"
#include "tests/support/program/shell.hpp"
#include "tests/support/seen/pdf_paths.hpp"

namespace {

using namespace dryfit::tests;

/// The words of each page, without blanks.
std::vector<std::string> pages_of(const std::string& name, const std::vector<std::string>& more = {}) {
  const ScratchFolder folder;
  std::vector<std::string> call = {"cards", scenario(name), "-o", folder.path("c.pdf")};
  call.insert(call.end(), more.begin(), more.end());
  REQUIRE(run(call).code == 0);
  std::vector<std::string> out;
  for (const PdfPage& page : read_pdf(slurp(folder.path("c.pdf")))) out.push_back(without_blanks(page.text));
  return out;
}

/// The first page that has the words; -1: none.
int page_with(const std::vector<std::string>& pages, const std::string& words) {
  for (std::size_t i = 0; i < pages.size(); ++i) {
    if (pages[i].find(without_blanks(words)) != std::string::npos) return static_cast<int>(i);
  }
  return -1;
}

}  // namespace

TEST_CASE("what comes after the last step stands under the last cards where half a page is left") {
  // Four cards to a page: of 17 and 13 one is on the last page, of 28 four.
  const auto rail = pages_of("cellar-rail-union");
  REQUIRE(page_with(rail, "After the last step") >= 0);
  CHECK(page_with(rail, "After the last step") == page_with(rail, "17 of 17"));
  const auto pots = pages_of("pot-rail");
  CHECK(page_with(pots, "After the last step") == page_with(pots, "13 of 13"));
  const auto rack = pages_of("plant-rack");
  CHECK(page_with(rack, "After the last step") == page_with(rack, "28 of 28") + 1);
}

TEST_CASE("the view of what the first one hides has no page of its own") {
  for (const char* name : {"potting-hoop-drilled", "work-table", "window-pole"}) {
    for (const char* paper : {"a4", "letter"}) {
      CAPTURE(name);
      CAPTURE(paper);
      const auto pages = pages_of(name, {"--paper", paper});
      REQUIRE(page_with(pages, "Hidden in this view") == 0);
      CHECK(page_with(pages, "Seen from") == 0);
    }
  }
}

TEST_CASE("a second person is on the card in German as well, and no band leads to nothing") {
  const auto pages = pages_of("bakery-cart", {"--language", "de", "--paper", "a4"});
  const int page = page_with(pages, "9 von 30");
  REQUIRE(page >= 0);
  CHECK(pages[static_cast<std::size_t>(page)].find("zweitePerson") != std::string::npos);
  CHECK(page_with(pages, "Weiter am Hauptteil.") == page);
  CHECK(page_with(pages, "Weiter am Hauptteil:") == -1);
}

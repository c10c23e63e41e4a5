#include "cli/draw/paint/paper_pages.hpp"

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "tests/support/program/program.hpp"
#include "tests/support/seen/pdf_paths.hpp"

using namespace dryfit::cli;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;

namespace {

std::vector<std::string> two_pages(PictureFormat format) {
  PaperPages pages(format, "Rack");
  for (const char* word : {"one", "two"}) pages.new_page(210.0, 297.0).text(10.0, 20.0, word, {3.0, false}, look::kInk);
  return pages.finish();
}

}  // namespace

TEST_CASE("pages are one PDF, or each an SVG in the size of the sheet") {
  const std::vector<std::string> pdf = two_pages(PictureFormat::pdf);
  REQUIRE(pdf.size() == 1);
  const auto read = dryfit::tests::read_pdf(pdf.front());
  REQUIRE(read.size() == 2);
  CHECK(read[1].text == "two");
  const std::vector<std::string> svg = two_pages(PictureFormat::svg);
  REQUIRE(svg.size() == 2);
  for (const std::string& page : svg) {
    CHECK(page.find("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\"") != std::string::npos);
    CHECK(page.find("<title>Rack</title>") != std::string::npos);
    CHECK(page.substr(page.size() - 7) == "</svg>\n");
  }
  CHECK(svg[0].find(">one</text>") != std::string::npos);
  CHECK(svg[0].find(">two</text>") == std::string::npos);
  CHECK(svg[1].find(">two</text>") != std::string::npos);
  CHECK_THROWS_AS(PaperPages(PictureFormat::png, ""), DrawError);
}

TEST_CASE("pages are PDF or SVG by the file's name in either case, and nothing else is a name for them") {
  CHECK(paper_format_for("a.PDF") == PictureFormat::pdf);
  CHECK(paper_format_for("b/a.svg") == PictureFormat::svg);
  for (const char* name : {"a.png", "a.html", "svg", ".svg", "a"}) {
    CAPTURE(name);
    CHECK_THROWS_AS(static_cast<void>(paper_format_for(name)), DrawError);
  }
}

TEST_CASE("a PDF has the name that was asked for, and pages as SVG are numbered in it") {
  const ScratchFolder folder;
  CHECK(write_documents(folder.path("a.pdf"), {"x"}) == std::vector<std::string>{folder.path("a.pdf")});
  const auto names = write_documents(folder.path("a.b.SVG"), {"x", "y"});
  CHECK(names == std::vector<std::string>{folder.path("a.b-1.SVG"), folder.path("a.b-2.SVG")});
  CHECK(folder.entries() == std::vector<std::string>{"a.b-1.SVG", "a.b-2.SVG", "a.pdf"});
  CHECK(slurp(names[1]) == "y");
  CHECK(documents_text({"a.pdf"}) == "a.pdf");
  CHECK(documents_text({"a-1.svg", "a-2.svg", "a-3.svg"}) == "a-1.svg to a-3.svg");
}

#include <doctest/doctest.h>

#include <nlohmann/json.hpp>

#include "tests/support/program/program.hpp"
#include "tests/support/seen/pdf_paths.hpp"

using dryfit::tests::Ran;
using dryfit::tests::run;
using dryfit::tests::scenario;
using dryfit::tests::ScratchFolder;
using dryfit::tests::slurp;

TEST_CASE("show writes the picture that the ending asks for, and says how it looks at the frame") {
  const ScratchFolder folder;
  const Ran svg = run({"show", scenario("pot-rail"), "-o", folder.path("a.svg")});
  CHECK(svg.code == 0);
  CHECK(svg.err == "");
  CHECK(svg.out.find("Pot rail, seen from the front right and above") != std::string::npos);
  CHECK(slurp(folder.path("a.svg")).find("</svg>") != std::string::npos);
  CHECK(run({"show", scenario("pot-rail"), "-o", folder.path("a.pdf"), "--width", "100"}).code == 0);
  const auto pages = dryfit::tests::read_pdf(slurp(folder.path("a.pdf")));
  REQUIRE(pages.size() == 1);
  CHECK(pages[0].text.find("Pot rail") != std::string::npos);
  CHECK(run({"show", scenario("pot-rail"), "-o", folder.path("a.png"), "--no-labels"}).code == 0);
  CHECK(folder.entries().size() == 3);
}

TEST_CASE("show --json lists the labels, the view and what is hidden") {
  const ScratchFolder folder;
  const Ran ran = run({"show", scenario("plant-rack"), "-o", folder.path("a.svg"), "--view=-30,10", "--json"});
  REQUIRE(ran.code == 0);
  const auto document = nlohmann::json::parse(ran.out);
  CHECK(document["dryfit"] == 1);
  CHECK(document["command"] == "show");
  CHECK(document["view"]["azimuth_deg"] == -30.0);
  // Two posts of 11 parts, the foot rail and three shelves.
  CHECK(document["labels"].size() + document["hidden"].size() == 2 * 11 + 1 + 3);
  CHECK(document["no_room"].empty());
}

TEST_CASE("show --step draws the work at that step, with the instruction beneath") {
  const ScratchFolder folder;
  const std::string file = folder.path("a.pdf");
  REQUIRE(run({"show", scenario("plant-rack"), "-o", file, "--step", "1"}).code == 0);
  const auto order = nlohmann::json::parse(run({"order", scenario("plant-rack"), "--json"}).out);
  const auto pages = dryfit::tests::read_pdf(slurp(file));
  const std::string wanted = order["steps"][0]["text_in_pose"];
  CAPTURE(pages[0].text);
  CHECK(pages[0].text.find(wanted.substr(0, 20)) != std::string::npos);
  CHECK(pages[0].text.find("step 1 of " + std::to_string(order["steps"].size())) != std::string::npos);
}

TEST_CASE("show --json answers a frame without an order with a document, and draws nothing") {
  const ScratchFolder folder;
  const Ran ran = run({"show", scenario("cellar-rail-ring"), "--step", "1", "-o", folder.path("a.svg"), "--json"});
  CHECK(ran.code == 1);
  CHECK(ran.err == "");
  const auto document = nlohmann::json::parse(ran.out);
  CHECK(document["verdict"] == "locked");
  CHECK(document["drawn"] == false);
  CHECK_FALSE(document["knot"].empty());
  CHECK(folder.entries().empty());
}

TEST_CASE("a PNG that is too large is refused with the largest that goes, which does go") {
  const ScratchFolder folder;
  const Ran wide = run({"show", scenario("pot-rail"), "-o", folder.path("a.png"), "--width", "2000"});
  CHECK(wide.code == 2);
  const std::string words = "the largest --width that goes is ";
  const std::size_t at = wide.err.find(words);
  REQUIRE(at != std::string::npos);
  const int largest = std::stoi(wide.err.substr(at + words.size()));
  CHECK(largest > 500);
  // One more is refused with the same number: the height was foreseen rightly.
  const Ran more =
      run({"show", scenario("pot-rail"), "-o", folder.path("a.png"), "--width", std::to_string(largest + 1)});
  CHECK(more.code == 2);
  CHECK(more.err.find(words + std::to_string(largest) + ";") != std::string::npos);
  // 10^8 dots at 12 a mm are 694,444 mm^2: 231 x 3000 mm, were it not higher than 32,767 dots, 2730 mm.
  CHECK(run({"show", scenario("pot-rail"), "-o", folder.path("a.png"), "--width", "300", "--height", "3000"}).err ==
        "dryfit: a PNG 3000 mm high is too large: the largest --height that goes is 2730; .svg and .pdf have no such "
        "limit\n");
  CHECK(run({"show", scenario("pot-rail"), "-o", folder.path("a.png"), "--width", "300", "--height", "2700"}).err ==
        "dryfit: a PNG of 300 x 2700 mm is too large: the largest --width that goes is 257; .svg and .pdf have no such "
        "limit\n");
  CHECK(folder.entries().empty());
  CHECK(run({"show", scenario("pot-rail"), "-o", folder.path("a.svg"), "--width", "2000"}).code == 0);
}

TEST_CASE("show refuses what it cannot draw or write, and leaves no file") {
  const ScratchFolder folder;
  const auto refused = [&](std::vector<std::string> args, const std::string& reason) {
    const Ran ran = run(args);
    CAPTURE(ran.err);
    CHECK(ran.code == 2);
    CHECK(ran.out == "");
    CHECK(ran.err.find(reason) != std::string::npos);
    CHECK(folder.entries().empty());
  };
  refused({"show", scenario("pot-rail"), "-o", folder.path("a.gif")}, "a picture's name ends in .svg, .pdf or .png");
  refused({"show", scenario("pot-rail"), "-o", folder.path("none/a.svg")}, "No such file or directory");
  refused({"show", scenario("pot-rail"), "-o", folder.path("a.svg"), "--step", "999"}, "there is no step 999");
  refused({"show", scenario("pot-rail"), "-o", folder.path("a.svg"), "--only", "NOPE"}, "there is no part 'NOPE'");
  refused({"show", scenario("pot-rail")}, "--output is needed");
  refused({"drill", scenario("plant-rack"), "-o", folder.path("a.png")}, "name ends in .pdf, or in .svg");
  refused({"drill", scenario("plant-rack"), "--full-size"}, "--full-size needs");
}

TEST_CASE("a frame without a board to drill has an answer and no drilling sheet") {
  const ScratchFolder folder;
  const Ran ran = run({"drill", scenario("pot-rail"), "-o", folder.path("a.pdf")});
  CHECK(ran.code == 1);
  CHECK(ran.err == "");
  CHECK(ran.out.ends_with(folder.path("a.pdf") + " is not written: it would be empty.\n"));
  CHECK(run({"drill", scenario("pot-rail")}).code == 0);
  CHECK(folder.entries().empty());
}

TEST_CASE("a frame that cannot be built has a picture but no picture of a step") {
  const ScratchFolder folder;
  CHECK(run({"show", scenario("cellar-rail-ring"), "-o", folder.path("a.svg")}).code == 0);
  const Ran ran = run({"show", scenario("cellar-rail-ring"), "-o", folder.path("b.svg"), "--step", "2"});
  CHECK(ran.code == 1);
  CHECK(ran.err.find("has no build order") != std::string::npos);
  CHECK(folder.entries() == std::vector<std::string>{"a.svg"});
}

TEST_CASE("drill -o writes a sheet per board, and templates when asked, on the paper of the frame's units") {
  const ScratchFolder folder;
  const std::string file = folder.path("a.pdf");
  REQUIRE(run({"drill", scenario("plant-rack"), "-o", file}).code == 0);
  auto pages = dryfit::tests::read_pdf(slurp(file));
  CHECK(pages.size() == 3);                          // the shelves
  CHECK(pages[0].height == doctest::Approx(215.9));  // Letter, 8-1/2 by 11 in, across
  REQUIRE(run({"drill", scenario("plant-rack"), "-o", file, "--full-size", "--paper", "a4"}).code == 0);
  pages = dryfit::tests::read_pdf(slurp(file));
  // Three sheets; the shelves are drilled alike, and of the template of one only the pages with its two holes are
  // printed, 811 mm apart against 281 mm that a page shows across.
  CHECK(pages.size() == 5);
  CHECK(pages[0].height == doctest::Approx(210.0));  // ISO 216
}

TEST_CASE("drill measures a board that stands upright from its lower edge, under the keys that files have") {
  const ScratchFolder folder;
  // Invented: a peg board on two nipples from the wall.
  const std::string frame = folder.file("pegs.yaml",
                                        "dryfit: 1\nname: Coat board\npipe: {standard: npt, size: 1/2}\n"
                                        "surfaces:\n  wall: {normal: front, at: 0}\n"
                                        "runs:\n"
                                        "  peg:\n    from: wall\n    at: [0, 60]\n    parts:\n"
                                        "      - FL: flange\n      - P1: {pipe: 6}\n      - C1: coupling\n"
                                        "      - P2: {pipe: 4}\n      - K1: cap\n"
                                        "boards:\n"
                                        "  BACK: {facing: front, through: [P2], rests-on: [C1],\n"
                                        "         size: {x: 24, y: 3/4, z: 9}, reach: {left: 4, down: 3}}\n");
  const Ran text = run({"drill", frame});
  CAPTURE(text.out);
  CHECK(text.out.find("4 in from the left edge, 3 in from the lower edge") != std::string::npos);
  CHECK(text.out.find("down edge") == std::string::npos);
  const auto hole = nlohmann::json::parse(run({"drill", frame, "--json"}).out)["boards"][0]["holes"][0];
  CHECK(hole["from_down_mm"].get<double>() == doctest::Approx(76.2));  // 3 in
  CHECK(hole["from_up_mm"].get<double>() == doctest::Approx(152.4));   // 6 in
  const std::string file = folder.path("a.pdf");
  REQUIRE(run({"drill", frame, "-o", file, "--full-size"}).code == 0);
  const auto pages = dryfit::tests::read_pdf(slurp(file));
  CHECK(pages[0].text.find("from lower edge") != std::string::npos);
  CHECK(pages[0].text.find("FRONT FACE") != std::string::npos);
  CHECK(pages[1].text.find("lower edge") != std::string::npos);
  CHECK(pages[1].text.find("FRONT FACE") != std::string::npos);
  CHECK(pages[1].text.find("grain") != std::string::npos);
}

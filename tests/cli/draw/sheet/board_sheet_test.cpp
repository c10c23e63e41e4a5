#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "cli/draw/sheet/board_sheet.hpp"
#include "model/text/length.hpp"
#include "tests/support/frames/hand_frame.hpp"
#include "tests/support/program/shell.hpp"
#include "tests/support/seen/pdf_paths.hpp"

namespace {

using namespace dryfit;
using cli::BoardPlan;
using cli::PaperSize;
using tests::PdfPage;
using tests::PdfPath;
using tests::PdfPoint;

constexpr double kWithin = 0.1;  // mm

BoardPlan shelf() {
  BoardPlan plan;
  plan.label = "S1";
  plan.width = 914.4;
  plan.height = 234.95;
  plan.thickness = 19.05;
  plan.stock = "pine";
  plan.face = "upper";
  plan.left = "left";
  plan.right = "right";
  plan.lower = "front";
  plan.upper = "back";
  plan.holes = {{"P3", 50.8, 117.475, 28.575, "1-1/8 in", false, 0, 0, {}},
                {"P8", 862.1, 117.475, 28.575, "1-1/8 in", false, 0, 0, {}},
                {"P9", 400.0, 60.0, 34.9, "1-3/8 in", true, 0, 1, {"hole is close to the edge"}},
                {"", 187.0, 30.0, 31.0, "", false, 0, 0, {}}};
  return plan;
}

std::vector<PdfPage> template_pages(const BoardPlan& plan, PaperSize paper) {
  cli::PaperPages pages(cli::PictureFormat::pdf, "template");
  cli::add_full_size(pages, "Rack", plan, model::Units::mm, paper);
  return tests::read_pdf(pages.finish().front());
}

struct Segment {
  PdfPoint a;
  PdfPoint b;
};

std::vector<Segment> segments(const PdfPage& page) {
  std::vector<Segment> out;
  for (const PdfPath& path : page.paths) {
    if (path.points.size() == 2 && !path.rectangle) out.push_back({path.points[0], path.points[1]});
  }
  return out;
}

double length_across(const Segment& s) { return std::abs(s.a.y - s.b.y) < 0.01 ? std::abs(s.a.x - s.b.x) : 0.0; }
double length_upright(const Segment& s) { return std::abs(s.a.x - s.b.x) < 0.01 ? std::abs(s.a.y - s.b.y) : 0.0; }
PdfPoint middle(const Segment& s) { return {(s.a.x + s.b.x) / 2.0, (s.a.y + s.b.y) / 2.0}; }

/// Lower left corner of the board on the page; the rectangle must have the board's own size.
PdfPoint origin_of(const PdfPage& page, const BoardPlan& plan) {
  for (const PdfPath& path : page.paths) {
    if (!path.rectangle) continue;
    const double width = std::abs(path.points[1].x - path.points[0].x);
    const double height = std::abs(path.points[1].y - path.points[0].y);
    if (std::abs(width - plan.width) < kWithin && std::abs(height - plan.height) < kWithin) {
      return {std::min(path.points[0].x, path.points[1].x), std::max(path.points[0].y, path.points[1].y)};
    }
  }
  FAIL("no rectangle of the board's size");
  return {};
}

/// Middles of crosses whose arms are `reach` long, relative to the board's corner (x right, y up).
std::vector<PdfPoint> crosses(const PdfPage& page, PdfPoint origin, double reach) {
  std::vector<PdfPoint> out;
  const auto all = segments(page);
  for (const Segment& level : all) {
    if (std::abs(length_across(level) - 2 * reach) > kWithin) continue;
    for (const Segment& upright : all) {
      if (std::abs(length_upright(upright) - 2 * reach) > kWithin) continue;
      const PdfPoint p = middle(level);
      const PdfPoint q = middle(upright);
      if (std::hypot(p.x - q.x, p.y - q.y) < kWithin) out.push_back({p.x - origin.x, origin.y - p.y});
    }
  }
  return out;
}

}  // namespace

TEST_CASE("on every template page both rulers are as long as they say") {
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
    const auto pages = template_pages(shelf(), paper);
    REQUIRE(pages.size() >= 3);
    for (const PdfPage& page : pages) {
      const auto all = segments(page);
      const auto has = [&](double length) {
        return std::any_of(all.begin(), all.end(),
                           [&](const Segment& s) { return std::abs(length_across(s) - length) < kWithin; });
      };
      CHECK(has(100.0));
      CHECK(has(101.6));  // 4 in
      CHECK(page.text.find("100 mm") != std::string::npos);
      CHECK(page.text.find("4 in") != std::string::npos);
      CHECK(page.text.find("Measure both rulers before drilling.") != std::string::npos);
    }
  }
}

// How a template is laid out is the program's own choice, no source: a cross reaches 6 mm beyond its hole's rim, the
// paper shows 6 mm beyond the board, neighbours share 10 mm, 8 mm of margin stay white, the grain's arrow is 28 mm
// long.
TEST_CASE("on a template every hole's cross lies where the plan says, within 0.1 mm of the board's own edges") {
  const BoardPlan plan = shelf();
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
    const auto pages = template_pages(plan, paper);
    for (const cli::PlanHole& hole : plan.holes) {
      CAPTURE(hole.label);
      bool found = false;
      for (const PdfPage& page : pages) {
        for (const PdfPoint p : crosses(page, origin_of(page, plan), hole.diameter / 2.0 + 6.0)) {
          if (std::hypot(p.x - hole.x, p.y - hole.y) < kWithin) found = true;
        }
      }
      CHECK(found);
    }
  }
}

// A drilled hole's rim is a full circle of the bit's width; a slot has half of one, at its bottom, and straight sides.
TEST_CASE("on a template every rim is as wide as the bit, four pages from the first hole too, within 0.1 mm") {
  BoardPlan plan = shelf();
  plan.holes.push_back({"P11", 690.0, 180.0, 22.2, "7/8 in", false, 0, 0, {}});
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
    const auto pages = template_pages(plan, paper);
    CHECK(pages.size() >= 4);
    for (const cli::PlanHole& hole : plan.holes) {
      CAPTURE(hole.label);
      bool found = false;
      for (const PdfPage& page : pages) {
        const PdfPoint origin = origin_of(page, plan);
        for (const PdfPath& path : page.paths) {
          if (path.rectangle) continue;
          std::size_t on_rim = 0;
          double left = 0.0, right = 0.0, low = 0.0, high = 0.0;
          for (const PdfPoint& p : path.points) {
            const double x = p.x - origin.x - hole.x, y = origin.y - p.y - hole.y;
            if (std::abs(std::hypot(x, y) - hole.diameter / 2.0) > kWithin / 2.0) continue;
            ++on_rim;
            left = std::min(left, x);
            right = std::max(right, x);
            low = std::min(low, y);
            high = std::max(high, y);
          }
          // The ends of a circle's curves lie a quarter apart, two of them across from each other in each way.
          const bool whole = on_rim == path.points.size() && std::abs(right - left - hole.diameter) < kWithin &&
                             std::abs(high - low - hole.diameter) < kWithin;
          found = found || (hole.notch ? on_rim >= 3 : whole);
        }
      }
      CHECK(found);
    }
  }
}

TEST_CASE("neighbouring template pages carry the same match marks at the same places of the board") {
  const BoardPlan plan = shelf();
  const auto pages = template_pages(plan, PaperSize::a4);
  std::map<std::pair<long, long>, int> marks;  // place to 0.1 mm
  for (const PdfPage& page : pages) {
    const PdfPoint origin = origin_of(page, plan);
    for (const PdfPath& path : page.paths) {
      // A diamond: four corners, closed, 5 mm wide.
      if (!path.closed || path.rectangle || path.points.size() < 4 || path.points.size() > 5) continue;
      if (std::abs(path.points[0].x - path.points[2].x) < 4.9 || std::abs(path.points[0].x - path.points[2].x) > 5.1)
        continue;
      const double x = (path.points[0].x + path.points[2].x) / 2.0 - origin.x;
      const double y = origin.y - path.points[0].y;
      ++marks[{std::lround(10.0 * x), std::lround(10.0 * y)}];
    }
  }
  // Two per seam of a single row: the first three pages are joined, the last hole is a page away from them.
  REQUIRE(pages.size() == 4);
  CHECK(marks.size() == 2 * 2);
  for (const auto& [place, count] : marks) {
    CAPTURE(place.first);
    CAPTURE(place.second);
    CHECK(count == 2);
  }
}

TEST_CASE("template pages overlap where there is something to drill, and say how far it is to the next where not") {
  BoardPlan plan = shelf();
  plan.holes[2] = {"P9", 400.0, 117.475, 34.9, "1-3/8 in", false, 0, 0, {}};
  plan.holes[3].y = 117.475;
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
    const auto pages = template_pages(plan, paper);
    double covered = -6.0;
    int alone = 0;
    for (const PdfPage& page : pages) {
      const double upright = paper == PaperSize::a4 ? 210.0 : 215.9, across = paper == PaperSize::a4 ? 297.0 : 279.4;
      const double paper_width = page.height > 250.0 && page.height > across - 1.0 ? upright : across;
      const PdfPoint origin = origin_of(page, plan);
      const double from = 8.0 - origin.x;
      const bool joined = from <= covered + 1e-3;
      if (joined && covered > 0.0) CHECK(covered - from > 9.9);
      CHECK((page.text.find("Not joined to another page.") != std::string::npos) == !joined);
      if (!joined) {
        ++alone;
        // Centre of P8, and from the first hole.
        CHECK(page.text.find("862") != std::string::npos);
        CHECK(page.text.find("811") != std::string::npos);
      }
      covered = from + paper_width - 16.0;
      // A page without a hole is not printed.
      CHECK(std::any_of(plan.holes.begin(), plan.holes.end(),
                        [&](const cli::PlanHole& hole) { return hole.x > from && hole.x < covered; }));
    }
    CHECK(alone == 1);
    CHECK(covered >= plan.width + 5.9);  // the last page shows the right edge
  }
}

TEST_CASE("no seam goes through a hole that finds room on a page") {
  // Where pages in equal steps would part a hole, for each hole on its own, and for all of them.
  for (int k = 0; k <= 20; ++k) {
    BoardPlan plan = shelf();
    plan.holes.clear();
    for (const double x : {60.0, 250.0 + 2.0 * k, 520.0 + 3.0 * k}) {
      plan.holes.push_back({"P", x, 100.0, 28.0, "28 mm", false, 0, 0, {}});
    }
    for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
      const auto pages = template_pages(plan, paper);
      for (const cli::PlanHole& hole : plan.holes) {
        CAPTURE(hole.x);
        const bool whole = std::any_of(pages.begin(), pages.end(), [&](const PdfPage& page) {
          const double from = 8.0 - origin_of(page, plan).x;
          const double shown = (page.height > 250.0 ? (paper == PaperSize::a4 ? 210.0 : 215.9)
                                                    : (paper == PaperSize::a4 ? 297.0 : 279.4)) -
                               16.0;
          return hole.x - 20.0 >= from - kWithin && hole.x + 20.0 <= from + shown + kWithin;
        });
        CHECK(whole);
      }
    }
  }
}

TEST_CASE("a template says beside its rulers what was measured, and what is still to be") {
  BoardPlan plan = shelf();
  plan.to_measure = {{"P3 to P8", 812.0, 1.9, 3.6, false, true}};
  for (const PdfPage& page : template_pages(plan, PaperSize::a4)) {
    const std::string text = tests::without_blanks(page.text);
    CHECK(text.find(tests::without_blanks("As measured, centre to centre: P3 to P8 812 mm.")) != std::string::npos);
  }
  plan.to_measure.front().measured = false;
  for (const PdfPage& page : template_pages(plan, PaperSize::a4)) {
    const std::string text = tests::without_blanks(page.text);
    CHECK(text.find(tests::without_blanks(
              "Measure the posts before you drill, centre to centre; drawn for P3 to P8 812 mm.")) !=
          std::string::npos);
  }
}

TEST_CASE("a template has no page beyond the last hole, and says by which edges it is laid on") {
  BoardPlan plan = shelf();
  plan.holes = {plan.holes[0]};  // one hole near the left edge: nothing to drill on the right three quarters
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
    const auto few = template_pages(plan, paper);
    CHECK(few.size() == 1);
    CHECK(few[0].text.find("nothing") != std::string::npos);
    const auto found = crosses(few[0], origin_of(few[0], plan), plan.holes[0].diameter / 2.0 + 6.0);
    CHECK(std::any_of(found.begin(), found.end(),
                      [&](PdfPoint p) { return std::hypot(p.x - plan.holes[0].x, p.y - plan.holes[0].y) < kWithin; }));
  }
  const auto all = template_pages(shelf(), PaperSize::a4);
  CHECK(all.size() >= 3);
  for (const PdfPage& page : all) CHECK(page.text.find("nothing") == std::string::npos);
}

TEST_CASE("every template page that shows enough of the board marks its face and the way of the grain, off the holes") {
  for (const char* stock : {"pine", "mdf"}) {
    CAPTURE(stock);
    BoardPlan plan = shelf();
    plan.stock = stock;
    for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
      const auto pages = template_pages(plan, paper);
      std::size_t marked = 0;
      for (const PdfPage& page : pages) {
        if (page.text.find("UPPER FACE") == std::string::npos) continue;
        ++marked;
        CHECK((page.text.find("grain") != std::string::npos) == (std::string(stock) == "pine"));
        if (std::string(stock) == "mdf") continue;
        // The grain's arrow: 28 mm long, along the longer side, no nearer to a hole's middle than its rim.
        const auto all = segments(page);
        const auto arrow = std::find_if(all.begin(), all.end(),
                                        [](const Segment& s) { return std::abs(length_across(s) - 28.0) < kWithin; });
        REQUIRE(arrow != all.end());
        const PdfPoint origin = origin_of(page, plan);
        for (const cli::PlanHole& hole : plan.holes) {
          const double dx = std::max(0.0, std::abs(middle(*arrow).x - origin.x - hole.x) - 28.0 / 2.0);
          CHECK(std::hypot(dx, origin.y - middle(*arrow).y - hole.y) > hole.diameter / 2.0);
        }
      }
      CHECK(marked + 1 >= pages.size());
    }
  }
}

TEST_CASE("of a board that is deeper than wide the grain runs up the template") {
  BoardPlan plan = shelf();
  std::swap(plan.width, plan.height);
  plan.holes = {{"P3", 120.0, 60.0, 28.575, "1-1/8 in", false, 0, 0, {}}};
  const auto pages = template_pages(plan, PaperSize::a4);
  REQUIRE(pages.size() >= 1);
  const auto all = segments(pages[0]);
  CHECK(std::any_of(all.begin(), all.end(),
                    [](const Segment& s) { return std::abs(length_upright(s) - 28.0) < kWithin; }));
}

TEST_CASE("boards that are drilled alike share a template, which names all of them and their pipes") {
  tests::HandFrame h;
  std::vector<planner::DrillSheet> sheets;
  for (const double z : {0.0, 300.0, 600.0}) {
    const std::string n = std::to_string(sheets.size() + 1);
    const double x = z < 500.0 ? 40.0 : 41.0;  // the third is drilled elsewhere
    const model::PartId post = h.pipe("P" + n, {x, 60, z - 50}, model::kUp, 200, 20);
    planner::DrillSheet sheet;
    sheet.board = h.board("B" + n, {0, 0, z}, {300, 200, z + 18}, 2, {{post, {x, 60, 0}, 22, {}}});
    sheet.axes = {0, 1};
    sheet.size = {300, 200};
    sheet.thickness = 18;
    planner::DrillHole hole;
    hole.pipe = post;
    hole.from_low = {x, 60};
    hole.from_high = {300 - x, 140};
    hole.hole = 22;
    sheet.holes = {hole};
    sheets.push_back(sheet);
  }
  const auto pages =
      tests::read_pdf(cli::drill_pages(h.frame, sheets, model::Units::mm, {PaperSize::a4, true}).front());
  std::vector<std::string> templates;
  for (const PdfPage& page : pages) {
    if (page.text.find("full size") != std::string::npos) templates.push_back(page.text);
  }
  REQUIRE(templates.size() == 2);
  CHECK(pages.size() == 3 + 2);  // a sheet for each board, and a page for each template
  CHECK(templates[0].find("B1, B2: upper face, full size") != std::string::npos);
  CHECK(templates[0].find("P1, P2") != std::string::npos);
  CHECK(templates[1].find("B3: upper face, full size") != std::string::npos);
}

TEST_CASE("a board sheet names edges, bits, faces and measures from two edges") {
  for (const PaperSize paper : {PaperSize::a4, PaperSize::letter}) {
    cli::PaperPages pages(cli::PictureFormat::pdf, "sheet");
    cli::add_board_sheet(pages, "Rack", shelf(), model::Units::in, paper);
    const auto read = tests::read_pdf(pages.finish().front());
    REQUIRE(read.size() == 1);
    const std::string& text = read[0].text;
    CAPTURE(text);
    for (const char* wanted : {"Board S1", "36 in x 9-1/4 in, 3/4 in thick, pine", "UPPER FACE", "grain", "front edge",
                               "left edge", "P8", "33-15/16 in", "4-5/8 in", "1-1/8 in", "slot, open to back",
                               "! P9: hole is close to the edge", "1-7/32 in"}) {
      CAPTURE(wanted);
      CHECK(text.find(wanted) != std::string::npos);
    }
  }
}

TEST_CASE("the dimensioned drawing keeps the proportions of the board") {
  cli::PaperPages pages(cli::PictureFormat::pdf, "sheet");
  const BoardPlan plan = shelf();
  cli::add_board_sheet(pages, "Rack", plan, model::Units::mm, PaperSize::a4);
  const auto read = tests::read_pdf(pages.finish().front());
  bool found = false;
  for (const PdfPath& path : read[0].paths) {
    if (!path.rectangle) continue;
    const double width = std::abs(path.points[1].x - path.points[0].x);
    const double height = std::abs(path.points[1].y - path.points[0].y);
    if (width > 100.0 && std::abs(width / height - plan.width / plan.height) < 0.01) found = true;
  }
  CHECK(found);
}

TEST_CASE("a long table of holes goes on over further pages and loses no row") {
  BoardPlan plan = shelf();
  plan.holes.clear();
  for (int i = 0; i < 70; ++i)
    plan.holes.push_back({"Q" + std::to_string(i) + ".", 10.0 + 12.0 * i, 100, 20, "20 mm", false, 0, 0, {}});
  cli::PaperPages pages(cli::PictureFormat::pdf, "sheet");
  cli::add_board_sheet(pages, "Rack", plan, model::Units::mm, PaperSize::a4);
  const auto read = tests::read_pdf(pages.finish().front());
  REQUIRE(read.size() > 1);
  std::string text;
  for (const PdfPage& page : read) text += page.text;
  for (int i = 0; i < 70; ++i) {
    const std::string cell = "Q" + std::to_string(i) + "." + model::in_units(10.0 + 12.0 * i, model::Units::mm);
    CAPTURE(cell);
    CHECK(text.find(cell) != std::string::npos);
  }
}

TEST_CASE("a plan is seen from the side that the board faces") {
  // A board that stands, 300 wide, 200 high, with a hole 40 from its low-x and 60 from its low-z edge.
  tests::HandFrame h;
  const model::PartId pipe = h.pipe("P", {40, -50, 60}, model::kBack, 200, 20);
  const model::PartId id = h.board("B", {0, 0, 0}, {300, 18, 200}, 1, {{pipe, {40, 0, 60}, 22, {}}});
  planner::DrillSheet sheet;
  sheet.board = id;
  sheet.axes = {0, 2};
  sheet.size = {300, 200};
  sheet.thickness = 18;
  planner::DrillHole hole;
  hole.pipe = pipe;
  hole.from_low = {40, 60};
  hole.from_high = {260, 140};
  hole.hole = 22;
  hole.notch = true;
  hole.open = model::kLeft;
  sheet.holes = {hole};
  h.frame.boards[0].facing = model::kFront;
  const BoardPlan front = cli::plan_of(h.frame, sheet);
  CHECK(front.face == "front");
  CHECK(front.left == "left");
  CHECK(front.lower == "lower");
  CHECK(front.holes[0].x == 40.0);
  CHECK(front.holes[0].y == 60.0);
  CHECK(front.holes[0].open_x == -1);
  h.frame.boards[0].facing = model::kBack;
  const BoardPlan back = cli::plan_of(h.frame, sheet);
  CHECK(back.face == "back");
  CHECK(back.left == "right");
  CHECK(back.right == "left");
  CHECK(back.holes[0].x == 300.0 - 40.0);
  CHECK(back.holes[0].y == 60.0);
  CHECK(back.holes[0].open_x == 1);

  tests::HandFrame flat;
  const model::PartId post = flat.pipe("P", {40, 60, -50}, model::kUp, 200, 20);
  sheet.board = flat.board("B", {0, 0, 0}, {300, 200, 18}, 2, {{post, {40, 60, 0}, 22, {}}});
  sheet.axes = {0, 1};
  const BoardPlan up = cli::plan_of(flat.frame, sheet);
  CHECK(up.face == "upper");
  CHECK(up.lower == "front");
  CHECK(up.holes[0].x == 40.0);
  CHECK(up.holes[0].y == 60.0);
  flat.frame.boards[0].facing = model::kDown;
  const BoardPlan down = cli::plan_of(flat.frame, sheet);
  CHECK(down.face == "lower");
  CHECK(down.lower == "back");
  CHECK(down.left == "left");
  CHECK(down.holes[0].y == 200.0 - 60.0);
}

TEST_CASE("a drilling document has the same bytes each time, and none is made when there is nothing to drill") {
  tests::HandFrame h;
  const model::PartId post = h.pipe("P", {40, 60, -50}, model::kUp, 200, 20);
  planner::DrillSheet sheet;
  sheet.board = h.board("B", {0, 0, 0}, {300, 200, 18}, 2, {{post, {40, 60, 0}, 22, {}}});
  sheet.axes = {0, 1};
  sheet.size = {300, 200};
  planner::DrillHole hole;
  hole.pipe = post;
  hole.from_low = {40, 60};
  hole.from_high = {260, 140};
  hole.hole = 22;
  sheet.holes = {hole};
  const auto first = cli::drill_pages(h.frame, {sheet}, model::Units::mm, {PaperSize::a4, true});
  CHECK(cli::drill_pages(h.frame, {sheet}, model::Units::mm, {PaperSize::a4, true}) == first);
  CHECK(tests::read_pdf(first.front()).size() == 1 + 1);  // the sheet, and the corner with the hole
  CHECK(tests::read_pdf(cli::drill_pages(h.frame, {sheet}, model::Units::mm, {}).front()).size() == 1);
  CHECK_THROWS_AS(static_cast<void>(cli::drill_pages(h.frame, {}, model::Units::mm, {})), cli::DrawError);
}

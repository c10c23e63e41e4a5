#include <doctest/doctest.h>

#include <unistd.h>

#include <cmath>
#include <filesystem>

#include "cli/draw/body/depth_tree.hpp"
#include "cli/draw/body/scene.hpp"
#include "cli/draw/picture/picture.hpp"
#include "cli/io/usage_error.hpp"
#include "model/geometry/at.hpp"
#include "tests/support/frames/hand_frame.hpp"
#include "tests/support/program/shell.hpp"
#include "tests/support/seen/pdf_paths.hpp"
#include "tests/support/seen/seen_picture.hpp"

namespace {

using namespace dryfit;
using cli::PictureFormat;
using cli::PictureOptions;
using cli::PictureReport;

constexpr PictureFormat kFormats[] = {PictureFormat::svg, PictureFormat::pdf, PictureFormat::png};

std::string head_of(const std::string& bytes) { return bytes.substr(0, 8); }

}  // namespace

TEST_CASE("the same picture has the same bytes, whatever was drawn before it") {
  const model::Frame rack = tests::hand_rack();
  PictureOptions options;
  options.title = "Rack";
  options.emphasised = {rack.find("S1")};
  options.arrow = cli::Arrow{cli::Arrow::Kind::slide, {}, {0, 0, -200}};
  PictureOptions other;
  other.shown = {rack.find("R"), rack.find("T1")};
  for (const PictureFormat format : kFormats) {
    const std::string first = cli::picture_bytes(format, rack, options);
    for (const PictureFormat between : kFormats) CHECK_FALSE(cli::picture_bytes(between, rack, other).empty());
    CHECK(cli::picture_bytes(format, rack, options) == first);
    CHECK(cli::picture_bytes(format, rack, other) != first);
  }
}

TEST_CASE("a picture is what the ending of its name says") {
  const model::Frame rack = tests::hand_rack();
  CHECK(head_of(cli::picture_bytes(cli::format_for("a.b/c.PDF"), rack, {})).substr(0, 5) == "%PDF-");
  CHECK(head_of(cli::picture_bytes(cli::format_for("x.svg"), rack, {})).substr(0, 5) == "<?xml");
  CHECK(head_of(cli::picture_bytes(cli::format_for("x.png"), rack, {})) == "\x89PNG\r\n\x1a\n");
  CHECK_THROWS_WITH_AS(static_cast<void>(cli::format_for("rack.jpeg")),
                       "'rack.jpeg': a picture's name ends in .svg, .pdf or .png", cli::DrawError);
  CHECK_THROWS_AS(static_cast<void>(cli::format_for("rack")), cli::DrawError);
}

TEST_CASE("labels never overlap and every visible part has one, on small and large pictures") {
  const model::Frame rack = tests::hand_rack();
  for (const double width : {90.0, 120.0, 180.0}) {
    CAPTURE(width);
    PictureOptions options;
    options.width_mm = width;
    const PictureReport report = tests::report_of(rack, options);
    tests::check_labels(report);
    CHECK(report.left_out.empty());
    CHECK(report.labels.size() + report.hidden.size() == rack.parts.size());
  }
}

TEST_CASE("a label stands on paper or on its own part, never over another part") {
  const model::Frame rack = tests::hand_rack();
  PictureOptions options;
  options.width_mm = 100;
  options.height_mm = 120;
  const PictureReport report = tests::report_of(rack, options);
  const cli::DepthTree tree(cli::pieces_of(rack, tests::all_parts(rack)));
  const cli::NumberGrid grid = cli::grid_of(tree, report.map, {0, 0, 100, 120}, 8.0);
  REQUIRE(report.labels.size() > 15);  // of 27 parts; a floor set by hand
  for (std::size_t i = 0; i < report.labels.size(); ++i) {
    CAPTURE(report.texts[i]);
    const cli::RectMm& box = report.labels[i].box;
    for (double y = box.y; y <= box.y + box.height; y += 0.125) {
      for (double x = box.x; x <= box.x + box.width; x += 0.125) {
        const model::PartId under = grid.at(grid.column(x), grid.row(y));
        if (under < 0) continue;
        REQUIRE(report.labels[i].on_part);
        REQUIRE(rack.parts[at(under)].label == report.texts[i]);
      }
    }
  }
}

TEST_CASE("where a new piece is hidden the view turns until it is seen") {
  tests::HandFrame h;
  h.board("B", {0, 0, 0}, {600, 20, 500}, 1);
  const model::PartId hidden = h.pipe("P", {100, 60, 100}, model::kRight, 300);
  PictureOptions options;
  options.emphasised = {hidden};
  PictureReport report = tests::report_of(h.frame, options);
  CHECK(report.turned);
  CHECK(report.visible > 0.6);  // what the choice of a view asks for, the program's own choice
  options.emphasised = {0};
  report = tests::report_of(h.frame, options);
  CHECK_FALSE(report.turned);
}

TEST_CASE("a picture that cannot be made or written leaves no file and says why") {
  const model::Frame rack = tests::hand_rack();
  const std::filesystem::path folder =
      std::filesystem::temp_directory_path() / ("dryfit-picture-" + std::to_string(::getpid()));
  std::filesystem::create_directories(folder);
  PictureOptions wrong;
  wrong.emphasised = {999};
  // The rack by hand has two posts of 11 parts, two rails and three boards.
  CHECK_THROWS_WITH_AS(static_cast<void>(cli::write_picture((folder / "a.svg").string(), rack, wrong)),
                       "emphasised part number 999 is not in the frame (it has 27 parts)", cli::DrawError);
  CHECK_THROWS_AS(static_cast<void>(cli::write_picture((folder / "none" / "a.svg").string(), rack, {})),
                  cli::UsageError);
  PictureOptions huge;
  huge.width_mm = 1e6;
  CHECK_THROWS_AS(static_cast<void>(cli::write_picture((folder / "a.png").string(), rack, huge)), cli::DrawError);
  CHECK_THROWS_AS(static_cast<void>(cli::write_picture((folder / "a.svg").string(), model::Frame{}, {})),
                  cli::DrawError);
  CHECK(std::filesystem::is_empty(folder));
  static_cast<void>(cli::write_picture((folder / "a.svg").string(), rack, {}));
  CHECK(std::filesystem::file_size(folder / "a.svg") > 1000);
  std::filesystem::remove_all(folder);
}

TEST_CASE("a title longer than its picture is wide is drawn whole") {
  const model::Frame rack = tests::hand_rack();
  const std::string title = "A rack with a name that nobody would print on sixty millimetres if it could be helped";
  PictureOptions options;
  options.width_mm = 60;
  options.labels = false;
  options.title = title;
  const auto pages = tests::read_pdf(cli::picture_bytes(PictureFormat::pdf, rack, options));
  REQUIRE(pages.size() == 1);
  CHECK(tests::without_blanks(pages[0].text).find(tests::without_blanks(title)) != std::string::npos);
}

TEST_CASE("on a small picture a label is left out and named rather than led across everything") {
  const model::Frame rack = tests::hand_rack();
  PictureOptions options;
  options.width_mm = 60;
  options.height_mm = 60;
  const PictureReport report = tests::report_of(rack, options);
  CHECK(report.labels.size() + report.hidden.size() + report.left_out.size() == rack.parts.size());
  for (const cli::PlacedLabel& label : report.labels) {
    // Of the shorter side, the program's own choice.
    CHECK(std::hypot(label.foot.x - label.anchor.x, label.foot.y - label.anchor.y) < 0.45 * 60.0);
  }
}

TEST_CASE("lettering is never smaller than 2.2 mm") {
  const model::Frame rack = tests::hand_rack();
  PictureOptions options;
  options.width_mm = 60;
  options.height_mm = 60;
  options.text_mm = 0.5;
  const PictureReport report = tests::report_of(rack, options);
  REQUIRE_FALSE(report.labels.empty());
  // 2.2 mm is the program's own choice; capitals of usual faces are 0.73 of that high (from memory).
  for (const cli::PlacedLabel& label : report.labels) CHECK(label.box.height >= 0.73 * 2.2);
}

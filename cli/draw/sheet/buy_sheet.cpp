#include "cli/draw/sheet/buy_sheet.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/draw/paint/pen.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace says {
constexpr const char* kTitle = marked("{}: what to buy");
constexpr const char* kFoot = marked("{0}: what to buy, page {1}");
constexpr const char* kFor = marked("for");
constexpr const char* kEach = marked("each");
constexpr const char* kGoesOn = marked("{} (goes on)");
}  // namespace says

constexpr double kListMargin = 16.0;
constexpr double kFootRoom = 8.0;
constexpr double kBox = 4.2;
constexpr double kCountRight = 16.0;  ///< right edge of the counts, from the left margin
constexpr double kWhat = 19.5;        ///< left edge of the words
constexpr double kForShare = 0.64;    ///< left edge of "for", of the width between the margins
constexpr double kPriceRoom = 18.0;
constexpr double kListLeading = 4.8;
constexpr double kRowGap = 1.7;
constexpr look::Tone kListFaint{0.40, 0.40, 0.40};
constexpr look::Tone kListRule{0.70, 0.70, 0.70};
const TextStyle kListText{3.6, false};
const TextStyle kListSmall{3.0, false};
const TextStyle kBold{3.6, true};

class Writer {
 public:
  Writer(const BuySheet& sheet, PaperMm paper, PictureFormat format)
      : sheet_(sheet), paper_(paper), pages_(format, say(says::kTitle, sheet.name)) {
    for (const BuySection& section : sheet.sections) {
      for (const BuyEntry& entry : section.entries) priced_ = priced_ || !entry.price.empty();
    }
  }

  std::vector<std::string> write() {
    begin();
    TextStyle title{8.0, true};
    const double wide = measure(*canvas_, sheet_.name, title).width;
    if (wide > width()) title.size *= width() / wide;
    draw_text(*canvas_, kListMargin, y_ + 6.0, sheet_.name, title);
    y_ = draw_paragraph(*canvas_, kListMargin, y_ + 12.5, width(), kListLeading, sheet_.summary, kListText);
    for (const BuySection& section : sheet_.sections) write_section(section);
    if (!sheet_.remarks.empty()) y_ += 4.0;
    for (const std::string& remark : sheet_.remarks) write_remark(remark);
    return pages_.finish();
  }

 private:
  [[nodiscard]] double width() const { return paper_.width - 2.0 * kListMargin; }
  [[nodiscard]] double left_over() const { return paper_.height - kListMargin - kFootRoom - y_; }
  [[nodiscard]] double for_left() const { return kListMargin + kForShare * width(); }
  [[nodiscard]] double for_right() const { return kListMargin + width() - (priced_ ? kPriceRoom : 0.0); }

  void begin() {
    canvas_ = &pages_.new_page(paper_.width, paper_.height);
    ++page_;
    draw_text(*canvas_, kListMargin, paper_.height - kListMargin + 4.0, say(says::kFoot, sheet_.name, page_),
              {2.8, false}, kListFaint);
    y_ = kListMargin;
  }

  void head(const std::string& text, bool labels) {
    y_ += 7.0;
    draw_text(*canvas_, kListMargin, y_, text, {5.0, true});
    if (labels) draw_text(*canvas_, for_left(), y_, say(says::kFor), kListSmall, kListFaint);
    if (priced_) {
      const std::string each = say(says::kEach);
      draw_text(*canvas_, kListMargin + width() - measure(*canvas_, each, kListSmall).width, y_, each, kListSmall,
                kListFaint);
    }
    y_ += 2.0;
    draw_line(*canvas_, kListMargin, y_, kListMargin + width(), y_, 0.35);
    y_ += 5.6;
  }

  /// Lines of what stands in the row's two columns.
  struct Row {
    std::vector<std::string> what;
    std::vector<std::string> labels;
    [[nodiscard]] double height() const {
      return kListLeading * static_cast<double>(std::max<std::size_t>({what.size(), labels.size(), 1}));
    }
  };

  Row row_of(const BuyEntry& entry, bool labels) {
    const double what_right = labels ? for_left() - 3.0 : for_right();
    Row row;
    row.what = broken_lines(*canvas_, entry.what, what_right - kListMargin - kWhat, kListText);
    row.labels = broken_lines(*canvas_, entry.labels, for_right() - for_left(), kListText);
    return row;
  }

  void write_section(const BuySection& section) {
    if (section.entries.empty()) return;
    const bool labels = std::any_of(section.entries.begin(), section.entries.end(),
                                    [](const BuyEntry& e) { return !e.labels.empty(); });
    // A heading is never left alone at the foot of a page.
    if (left_over() < 14.6 + row_of(section.entries.front(), labels).height()) begin();
    head(section.heading, labels);
    for (const BuyEntry& entry : section.entries) {
      const Row row = row_of(entry, labels);
      if (row.height() > left_over()) {
        begin();
        head(say(says::kGoesOn, section.heading), labels);
      }
      write_row(entry, row);
    }
    for (const std::string& note : section.notes) {
      if (left_over() < 2.0 * kListLeading) begin();
      y_ = draw_paragraph(*canvas_, kListMargin + kWhat, y_, width() - kWhat, kListLeading, note, kListSmall);
    }
  }

  void write_row(const BuyEntry& entry, const Row& row) {
    draw_box(*canvas_, kListMargin, y_ - 3.5, kBox, kBox, 0.35);
    const std::string count = fmt::format("{}", entry.count);
    draw_text(*canvas_, kListMargin + kCountRight - measure(*canvas_, count, kBold).width, y_, count, kBold);
    double y = y_;
    for (const std::string& line : row.what) {
      draw_text(*canvas_, kListMargin + kWhat, y, line, kListText);
      y += kListLeading;
    }
    y = y_;
    for (const std::string& line : row.labels) {
      draw_text(*canvas_, for_left(), y, line, kListText);
      y += kListLeading;
    }
    if (!entry.price.empty()) {
      draw_text(*canvas_, kListMargin + width() - measure(*canvas_, entry.price, kListText).width, y_, entry.price,
                kListText);
    }
    y_ += row.height();
    draw_line(*canvas_, kListMargin, y_ - 2.6, kListMargin + width(), y_ - 2.6, 0.12, kListRule);
    y_ += kRowGap;
  }

  void write_remark(const std::string& remark) {
    const auto lines = broken_lines(*canvas_, remark, width(), kListSmall);
    if (left_over() < kListLeading * static_cast<double>(lines.size())) {
      begin();
      y_ += 4.0;
    }
    y_ = draw_paragraph(*canvas_, kListMargin, y_, width(), 4.2, remark, kListSmall) + 1.5;
  }

  const BuySheet& sheet_;
  PaperMm paper_;
  PaperPages pages_;
  Canvas* canvas_ = nullptr;
  double y_ = 0.0;
  int page_ = 0;
  bool priced_ = false;
};

}  // namespace

std::vector<std::string> buy_pages(const BuySheet& sheet, PaperSize paper, PictureFormat format) {
  return Writer(sheet, paper_mm(paper), format).write();
}

}  // namespace dryfit::cli

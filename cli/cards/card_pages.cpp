#include "cli/cards/card_pages.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>

#include "cli/cards/paper_card.hpp"
#include "cli/draw/paint/pen.hpp"
#include "cli/draw/sheet/board_sheet.hpp"
#include "cli/words/say.hpp"
#include "cli/words/words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace pages_say {
constexpr const char* kTitle = marked("{}: build cards");
constexpr const char* kHidden = marked("Hidden in this view: {}.");
constexpr const char* kNoRoom = marked("No room here for the labels of {}.");
constexpr const char* kTapeStep = marked("step {}");
constexpr const char* kOtherSide = marked("Seen {}");
constexpr const char* kSafety = marked("Safety");
constexpr const char* kLayOut = marked("Lay out");
constexpr const char* kTools = marked("Tools");
constexpr const char* kBefore = marked("Before the first step");
constexpr const char* kTapes = marked("Labels to cut out and tape on, one on each part");
constexpr const char* kAfter = marked("After the last step");
constexpr const char* kNotes = marked("Notes");
constexpr const char* kSwaps = marked("If you change your mind");
constexpr const char* kSwapCorner = marked("steps");
constexpr const char* kFoot = marked("{0}, page {1}");
}  // namespace pages_say

constexpr double kMargin = 16.0;
constexpr double kLeastBelow = 70.0;  // mm for a second view of the frame, with its heading
constexpr look::Tone kCut{0.45, 0.45, 0.45};

/// Pages of running text: begins a new one when there is no more room.
class Sheets {
 public:
  Sheets(PaperPages& pages, PaperMm paper, const std::string& name, int& count)
      : pages_(pages), paper_(paper), name_(name), count_(count) {}

  Canvas& begin() {
    canvas_ = &pages_.new_page(paper_.width, paper_.height);
    ++count_;
    draw_foot();
    y_ = kMargin;
    return *canvas_;
  }
  /// Goes on below `y` of a page that has something else above.
  void go_on(Canvas& page, double y) {
    canvas_ = &page;
    y_ = y;
  }
  void draw_foot() {
    draw_text(*canvas_, kMargin, paper_.height - 9.0, say(pages_say::kFoot, name_, count_), {2.8, false});
  }
  [[nodiscard]] double width() const { return paper_.width - 2.0 * kMargin; }
  [[nodiscard]] Canvas& canvas() const { return *canvas_; }
  [[nodiscard]] double y() const { return y_; }
  void move_to(double y) { y_ = y; }
  [[nodiscard]] double left_over() const { return paper_.height - kMargin - y_; }

  /// A heading never stands alone at the foot: `first` is the height of what comes right under it.
  void heading(const std::string& text, double first = 9.8) {
    if (left_over() < kHeading + first) begin();
    y_ += y_ > kMargin ? 9.0 : 6.0;
    draw_text(*canvas_, kMargin, y_, text, {5.2, true});
    draw_line(*canvas_, kMargin, y_ + 1.8, kMargin + width(), y_ + 1.8, 0.35);
    y_ += 7.2;
  }
  void item(const std::string& text, bool tick, double indent = 0.0) {
    const double in = indent + (tick ? kTickIndent : kDashIndent);
    keep_together(height_of(text, in) - kItemGap);
    bool first = true;
    for (const std::string& line : broken_lines(*canvas_, text, width() - in, kItemStyle)) {
      if (left_over() < kLeading) begin_at_text();
      if (first && tick) draw_box(*canvas_, kMargin + indent, y_ - 3.3, 4.0, 4.0, 0.35);
      if (first && !tick) draw_line(*canvas_, kMargin + indent, y_ - 1.2, kMargin + indent + 1.8, y_ - 1.2, 0.4);
      first = false;
      draw_text(*canvas_, kMargin + in, y_, line, kItemStyle);
      y_ += kLeading;
    }
    y_ += kItemGap;
  }
  void items(const std::string& title, const std::vector<std::string>& lines, bool tick) {
    if (lines.empty()) return;
    constexpr double kLong = 90.0;  // mm: a shorter list is not broken
    const double height = height_of(lines, tick);
    heading(title, height < kLong ? height : 30.0);
    for (const std::string& line : lines) item(line, tick);
  }
  void chores(const std::string& title, const std::vector<Chore>& list) {
    if (list.empty()) return;
    heading(title, height_of(list.front()));
    for (const Chore& chore : list) {
      keep_together(height_of(chore));
      item(chore.text, true);
      for (const std::string& caution : chore.cautions) item(caution, false, kTickIndent);
    }
  }
  [[nodiscard]] bool has_room_for(const std::vector<std::string>& lines) const {
    return height_of(lines, true) + kHeading <= left_over();
  }
  [[nodiscard]] bool has_room_for(const std::vector<Chore>& list, const std::vector<std::string>& lines) const {
    double height = list.empty() ? 0.0 : kHeading;
    for (const Chore& chore : list) height += height_of(chore);
    if (!lines.empty()) height += kHeading + height_of(lines, false);
    return height <= left_over();
  }
  [[nodiscard]] double height_with_heading(const std::vector<std::string>& lines) const {
    return kHeading + height_of(lines, false);
  }
  [[nodiscard]] bool has_room_for_tapes(const std::vector<std::string>& labels) const {
    return kTape * static_cast<double>(tape_rows(labels)) + kHeading <= left_over();
  }
  /// Boxes with one label each and the step that brings the part, as many in a row as fit.
  void tapes(const std::string& title, const std::vector<std::string>& labels, const std::vector<int>& steps) {
    const int columns = tape_columns(labels);
    const double w = width() / columns;
    heading(title, kTape * static_cast<double>(std::min<std::size_t>(tape_rows(labels), 12)));
    int column = 0;
    for (std::size_t i = 0; i < labels.size(); ++i) {
      const std::string& label = labels[i];
      if (column == 0 && left_over() < kTape) begin();
      const double x = kMargin + column * w;
      draw_box(*canvas_, x, y_, w, kTape, 0.2, kCut);
      TextStyle style{5.6, true};
      const double wide = measure(*canvas_, label, style).width;
      if (wide > w - 3.0) style.size *= (w - 3.0) / wide;
      draw_text_centred(*canvas_, x + w / 2.0, y_ + 0.43 * kTape + 0.36 * style.size, label, style);
      if (steps[i] > 0) {
        draw_text_centred(*canvas_, x + w / 2.0, y_ + kTape - 0.9, say(pages_say::kTapeStep, steps[i]), {2.2, false});
      }
      if (++column == columns) {
        column = 0;
        y_ += kTape;
      }
    }
    if (column != 0) y_ += kTape;
  }

  /// Prices by step, in blocks of as many columns as fit.
  void swaps(const std::string& title, const std::vector<SwapRow>& rows, const std::vector<std::string>& about) {
    if (rows.empty()) return;
    const std::size_t columns = rows.front().at_most.size();
    const std::string corner = say(pages_say::kSwapCorner);
    // In several blocks all are alike wide: none is left with a few columns.
    const std::size_t blocks = (columns + swap_columns(width()) - 1) / swap_columns(width());
    const std::size_t most = (columns + blocks - 1) / blocks;
    const double cell = swap_cell(width(), most);
    const double block = swap_head_height() + swap_row_height() * static_cast<double>(rows.size());
    constexpr double kStart = 120.0, kSplit = 0.6;
    if (left_over() < height_with_heading(about) + std::min(block, kStart)) begin();
    heading(title);
    for (const std::string& line : about) item(line, false);
    for (std::size_t first = 0; first < columns; first += most) {
      const std::size_t count = std::min(most, columns - first);
      if (first > 0) y_ += 3.0;
      // A block is split where most of it finds room.
      if (left_over() < kSplit * std::min(block, paper_.height - 3.0 * kMargin)) begin_at_text();
      draw_swap_head(*canvas_, kMargin, y_, corner, first, count, cell);
      y_ += swap_head_height();
      for (const SwapRow& row : rows) {
        if (left_over() < swap_row_height()) {
          begin_at_text();
          draw_swap_head(*canvas_, kMargin, y_, corner, first, count, cell);
          y_ += swap_head_height();
        }
        draw_swap_row(*canvas_, kMargin, y_, row, first, count, cell);
        y_ += swap_row_height();
      }
    }
  }

 private:
  static constexpr TextStyle kItemStyle{3.6, false};
  static constexpr double kHeading = 16.2;  // with the space above
  static constexpr double kTape = 10.0;
  static constexpr double kLeading = 4.9;
  static constexpr double kItemGap = 1.0;
  static constexpr double kTickIndent = 6.5;
  static constexpr double kDashIndent = 3.5;

  /// Of an item whose text stands `in` mm in.
  [[nodiscard]] double height_of(const std::string& text, double in) const {
    return kLeading * static_cast<double>(broken_lines(*canvas_, text, width() - in, kItemStyle).size()) + kItemGap;
  }
  [[nodiscard]] double height_of(const std::vector<std::string>& lines, bool tick) const {
    double height = 0.0;
    for (const std::string& line : lines) height += height_of(line, tick ? kTickIndent : kDashIndent);
    return height;
  }
  [[nodiscard]] int tape_columns(const std::vector<std::string>& labels) const {
    double widest = 19.5;
    for (const std::string& label : labels)
      widest = std::max(widest, measure(*canvas_, label, {5.6, true}).width + 4.0);
    return std::max(3, static_cast<int>(width() / widest));
  }
  [[nodiscard]] std::size_t tape_rows(const std::vector<std::string>& labels) const {
    const auto columns = at(tape_columns(labels));
    return (labels.size() + columns - 1) / columns;
  }
  /// Of a chore with its cautions.
  [[nodiscard]] double height_of(const Chore& chore) const {
    double height = height_of(chore.text, kTickIndent);
    for (const std::string& caution : chore.cautions) height += height_of(caution, kTickIndent + kDashIndent);
    return height;
  }
  /// A new page where that much does not fit on this one, unless no page has room for it.
  void keep_together(double height) {
    if (height > left_over() && height < paper_.height - 2.0 * kMargin) begin_at_text();
  }
  void begin_at_text() {
    begin();
    y_ += 4.0;
  }
  PaperPages& pages_;
  PaperMm paper_;
  const std::string& name_;
  int& count_;
  Canvas* canvas_ = nullptr;
  double y_ = 0.0;
};

/// What the first view hides, from where most of it is seen.
std::optional<PictureOptions> other_side(const model::Frame& frame, const std::vector<std::string>& hidden) {
  PictureOptions other;
  for (std::size_t id = 0; id < frame.parts.size(); ++id) {
    if (std::find(hidden.begin(), hidden.end(), frame.parts[id].label) != hidden.end()) {
      other.emphasised.push_back(static_cast<model::PartId>(id));
    }
  }
  if (other.emphasised.empty()) return std::nullopt;
  other.view = views_in_a_row(frame, {&other}).front();
  other.labelled = std::move(other.emphasised);
  other.emphasised.clear();
  return other;
}

/// The second view beside the first one, in a column of its own.
void draw_beside(Canvas& canvas, RectMm area, const model::Frame& frame, const PictureOptions& other) {
  const double text = draw_paragraph(canvas, area.x, area.y + 3.0, area.width, 3.8,
                                     say(pages_say::kOtherSide, describe(*other.view)), {3.2, true});
  draw_picture(canvas, {area.x, text, area.width, area.height - (text - area.y)}, frame, other);
}

/// The same in what is left of the page; false where that is too little.
bool draw_below(Sheets& sheets, const model::Frame& frame, PictureOptions other) {
  constexpr double kHeading = 12.0;
  if (sheets.left_over() < kLeastBelow) return false;
  other.width_mm = sheets.width();
  sheets.heading(say(pages_say::kOtherSide, describe(*other.view)), kLeastBelow - kHeading - 6.0);
  const double height = std::min(sheets.left_over(), natural_height(frame, other));
  draw_picture(sheets.canvas(), {kMargin, sheets.y(), sheets.width(), height}, frame, other);
  sheets.move_to(sheets.y() + height);
  return true;
}

/// The labels of what the usual view hides.
std::vector<std::string> hidden_in(const model::Frame& frame, const PictureOptions& whole) {
  StampSheet tried;
  PictureReport report;
  static_cast<void>(stamped_picture(tried, frame, whole, &report));
  return report.hidden;
}

/// Returns the other view where this page has no room for it.
std::optional<PictureOptions> draw_first_page(Sheets& sheets, const model::Frame& frame, const Deck& deck) {
  Canvas& canvas = sheets.begin();
  TextStyle title{9.0, true};
  const double wide = measure(canvas, deck.name, title).width;
  if (wide > sheets.width()) title.size *= sheets.width() / wide;
  draw_text(canvas, kMargin, kMargin + 7.0, deck.name, title);
  draw_text(canvas, kMargin, kMargin + 14.0, deck.summary, {3.8, false});
  draw_text(canvas, kMargin, kMargin + 19.0, deck.size, {3.8, false});
  const double safety = sheets.height_with_heading(deck.safety);
  const double top = kMargin + 23.0;
  sheets.move_to(top);
  // A wide low frame leaves room for the lists on the same page.
  PictureOptions whole;
  whole.width_mm = sheets.width();
  whole.dimensions = deck.sizes;
  constexpr double kFoot = 5.0, kTall = 0.8, kLeastShare = 0.5, kMostShare = 0.72, kSideBySide = 0.6;
  const std::optional<PictureOptions> other = other_side(frame, hidden_in(frame, whole));
  const auto height_for = [&] {
    return std::min(std::max(90.0, sheets.left_over() - safety - 6.0),
                    std::max(60.0, natural_height(frame, whole)) + kFoot);
  };
  double height = height_for();
  // A tall frame leaves its sides empty: there is room for the other view. A low one leaves room below. Beside any
  // other it is better seen than on a page of its own.
  const double needed = height / natural_height(frame, whole);
  const bool tall = needed <= kTall;
  constexpr double kShrunk = 0.8;
  const double above = sheets.left_over() - safety - kLeastBelow - 2.0;
  const bool beside = other && (tall || above < kShrunk * height);
  if (other && !beside) height = std::min(height, above);
  double share = 1.0;
  if (beside) share = tall ? std::clamp(needed, kLeastShare, kMostShare) : kSideBySide;
  const double wide_share = share * sheets.width();
  if (beside && !tall) {
    whole.width_mm = wide_share;
    height = height_for();
  }
  const PictureReport seen = draw_picture(canvas, {kMargin, top, wide_share, height - kFoot}, frame, whole);
  if (beside) {
    draw_beside(canvas, {kMargin + wide_share + 4.0, top, sheets.width() - wide_share - 4.0, height - kFoot}, frame,
                *other);
  }
  std::string unmarked;
  if (!seen.hidden.empty()) unmarked = say(pages_say::kHidden, listed_briefly(seen.hidden, 12));
  if (!seen.left_out.empty()) {
    unmarked += (unmarked.empty() ? "" : " ") + say(pages_say::kNoRoom, listed_briefly(seen.left_out, 12));
  }
  draw_paragraph(canvas, kMargin, top + height - 1.0, sheets.width(), 3.8, unmarked, {2.8, false});
  sheets.move_to(top + height);
  sheets.items(say(pages_say::kSafety), deck.safety, false);
  return beside || !other || draw_below(sheets, frame, *other) ? std::nullopt : other;
}

/// `half`: cards are in the upper half alone.
void draw_cut_lines(Canvas& canvas, PaperMm paper, int columns, bool half) {
  const double foot = half ? paper.height / 2.0 : paper.height;
  if (columns == 2) draw_dashed(canvas, paper.width / 2.0, 0.0, paper.width / 2.0, foot, 0.2, 2.0, kCut);
  draw_dashed(canvas, 0.0, paper.height / 2.0, paper.width, paper.height / 2.0, 0.2, 2.0, kCut);
}

}  // namespace

CardPages card_pages(const model::Frame& frame, const Deck& deck, const CardPaper& wanted, planner::Foreman* foreman) {
  const PaperMm paper = paper_mm(wanted.size);
  CardPages out;
  PaperPages pages(wanted.format, say(pages_say::kTitle, deck.name));
  Sheets sheets(pages, paper, deck.name, out.pages);
  const std::optional<PictureOptions> other = draw_first_page(sheets, frame, deck);
  // The labels close the lists, or the first page, where that would stay empty.
  const bool tapes_first = !sheets.has_room_for(deck.lay_out) && sheets.has_room_for_tapes(deck.tapes);
  if (tapes_first) sheets.tapes(say(pages_say::kTapes), deck.tapes, deck.tape_steps);
  sheets.items(say(pages_say::kLayOut), deck.lay_out, true);
  sheets.items(say(pages_say::kTools), deck.tools, true);
  sheets.chores(say(pages_say::kBefore), deck.before);
  if (!tapes_first) sheets.tapes(say(pages_say::kTapes), deck.tapes, deck.tape_steps);
  if (other && !draw_below(sheets, frame, *other)) {
    sheets.begin();
    static_cast<void>(draw_below(sheets, frame, *other));
  }

  const int columns = wanted.per_page == 2 ? 1 : 2;
  const int per_page = 2 * columns;
  constexpr double kInset = 8.5;  // most printers leave 5 mm at the edge white
  const double cell_width = paper.width / columns;
  const double cell_height = paper.height / 2.0;
  Canvas* canvas = nullptr;
  bool shared = false;  // what comes after the last step stands under the last cards
  for (std::size_t i = 0; i < deck.cards.size(); ++i) {
    if (!planner::may_go_on(foreman, static_cast<long long>(i), static_cast<long long>(deck.cards.size()))) return {};
    const int place = static_cast<int>(i) % per_page;
    if (place == 0) {
      canvas = &pages.new_page(paper.width, paper.height);
      ++out.pages;
      if (deck.cards.size() - i <= at(columns)) {
        sheets.go_on(*canvas, cell_height + 2.0);
        shared = sheets.has_room_for(deck.after, deck.closing);
      }
      draw_cut_lines(*canvas, paper, columns, shared);
    }
    const int row = place / columns;
    const RectMm area{(place % columns) * cell_width + kInset, row * cell_height + kInset, cell_width - 2.0 * kInset,
                      cell_height - 2.0 * kInset};
    draw_card(*canvas, area, frame, deck.cards[i], static_cast<int>(deck.cards.size()), columns == 1 ? 1.3 : 1.0);
  }
  if (shared) {
    sheets.draw_foot();
  } else {
    sheets.begin();
  }
  sheets.chores(say(pages_say::kAfter), deck.after);
  sheets.items(say(pages_say::kNotes), deck.closing, false);
  sheets.swaps(say(pages_say::kSwaps), deck.swaps, deck.about_swaps);
  out.documents = pages.finish();
  return out;
}

}  // namespace dryfit::cli

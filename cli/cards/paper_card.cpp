#include "cli/cards/paper_card.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/draw/paint/pen.hpp"
#include "cli/words/say.hpp"

namespace dryfit::cli {
namespace {

/// All wording of this file.
namespace paper_says {
constexpr const char* kOf = marked("of {}");
constexpr const char* kDone = marked("done");
constexpr const char* kSeen = marked("Now seen {}");
constexpr const char* kBetweenFacts = "   |   ";
}  // namespace paper_says

constexpr look::Tone kBand{0.90, 0.90, 0.90};

/// A block of text of one sort, broken to the card's width.
struct TextBlock {
  std::vector<std::string> lines;
  TextStyle style;
  double leading = 0.0;
  double indent = 0.0;  ///< of all lines, mm
  bool warned = false;  ///< a warning sign stands before the first line
  bool banded = false;  ///< on a grey ground
  bool boxed = false;   ///< in a heavy frame
  [[nodiscard]] double height() const {
    return lines.empty() ? 0.0 : static_cast<double>(lines.size()) * leading + (boxed ? 4.0 : banded ? 1.6 : 0.6);
  }
};

TextBlock block_of(Canvas& canvas, const std::string& text, double width, const TextStyle& style, double indent = 0.0) {
  return {broken_lines(canvas, text, width - indent, style), style, 1.28 * style.size, indent, false, false};
}

/// A triangle with a stroke and a dot: needs no colour and no letter that a font may lack.
void draw_warning(Canvas& canvas, double x, double baseline, double size) {
  const double w = 1.05 * size;
  const double h = 0.92 * size;
  const double bottom = baseline + 0.08 * size;
  canvas.use(look::kInk);
  canvas.line_width(0.09 * size);
  canvas.round_corners();
  canvas.move_to(x, bottom);
  canvas.line_to(x + w, bottom);
  canvas.line_to(x + w / 2.0, bottom - h);
  canvas.close();
  canvas.stroke();
  draw_line(canvas, x + w / 2.0, bottom - 0.64 * h, x + w / 2.0, bottom - 0.30 * h, 0.11 * size);
  draw_line(canvas, x + w / 2.0, bottom - 0.22 * h, x + w / 2.0, bottom - 0.11 * h, 0.11 * size);
}

/// Draws a block whose top is at `y`; returns its bottom.
double draw_block(Canvas& canvas, const RectMm& area, double y, const TextBlock& block) {
  if (block.lines.empty()) return y;
  if (block.banded) {
    canvas.use(kBand);
    canvas.box(area.x, y, area.width, block.height() - 0.6);
    canvas.fill();
  }
  if (block.boxed) draw_box(canvas, area.x + 0.4, y + 0.6, area.width - 0.8, block.height() - 1.6, 0.8);
  double baseline = y + 0.95 * block.style.size + (block.boxed ? 1.6 : block.banded ? 0.4 : 0.0);
  if (block.warned) draw_warning(canvas, area.x + (block.boxed ? 2.0 : 0.0), baseline, block.style.size);
  for (const std::string& line : block.lines) {
    draw_text(canvas, area.x + block.indent, baseline, line, block.style);
    baseline += block.leading;
  }
  return y + block.height();
}

/// The words of a card at one size of lettering.
struct CardText {
  double k = 1.0;
  std::vector<TextBlock> above;
  std::vector<TextBlock> below;
  double head = 0.0;
  double caption = 0.0;
  [[nodiscard]] double height() const {
    double sum = head + caption;
    for (const TextBlock& block : above) sum += block.height();
    for (const TextBlock& block : below) sum += block.height();
    return sum;
  }
};

CardText text_of(Canvas& canvas, const Card& card, double width, double k) {
  CardText text;
  text.k = k;
  text.head = 10.5 * k;
  text.caption = (card.seen.empty() ? 3.6 : 6.0) * k;
  const TextStyle small{3.0 * k, false};
  for (const std::string& line : card.first) {
    TextBlock block = block_of(canvas, line, width, small, 1.0 * k);
    block.banded = true;
    text.above.push_back(std::move(block));
  }
  text.above.push_back(block_of(canvas, card.text, width, {4.0 * k, true}));
  for (const std::string& trap : card.traps) {
    TextBlock block = block_of(canvas, trap, width - 3.0, {5.0 * k, true}, 9.0 * k);
    block.boxed = true;
    block.warned = true;
    text.above.push_back(std::move(block));
  }
  const TextStyle bold{3.3 * k, true};
  std::string facts;
  for (const std::string& fact : card.facts) {
    // A line that begins with the mark between two facts looks like a mistake.
    const std::string longer = facts + (facts.empty() ? "" : paper_says::kBetweenFacts) + fact;
    if (!facts.empty() && measure(canvas, longer, bold).width > width) {
      text.below.push_back(block_of(canvas, facts, width, bold));
      facts = fact;
    } else {
      facts = longer;
    }
  }
  text.below.push_back(block_of(canvas, facts, width, bold));
  for (const auto* lines : {&card.notes, &card.stop, &card.missing}) {
    for (const std::string& line : *lines) text.below.push_back(block_of(canvas, line, width, small));
  }
  for (const std::string& caution : card.cautions) {
    TextBlock block = block_of(canvas, caution, width, small, 4.4 * k);
    block.warned = true;
    text.below.push_back(std::move(block));
  }
  return text;
}

void draw_head(Canvas& canvas, const RectMm& area, const Card& card, int of, const CardText& text) {
  const double k = text.k;
  const double baseline = area.y + 7.4 * k;
  const std::string number = fmt::format("{}", card.number);
  const TextStyle big{9.5 * k, true};
  const TextStyle small{3.4 * k, false};
  draw_text(canvas, area.x, baseline, number, big);
  double x = area.x + measure(canvas, number, big).width + 1.6 * k;
  const std::string count = say(paper_says::kOf, of);
  draw_text(canvas, x, baseline, count, small);
  x += measure(canvas, count, small).width + 4.0 * k;
  const double box = 6.4 * k;
  const std::string ticked = say(paper_says::kDone);
  const double done = measure(canvas, ticked, small).width;
  const double box_x = area.x + area.width - box - 0.3;
  draw_box(canvas, box_x, baseline - box + 0.4 * k, box, box, 0.45);
  const double strip_needs = card.strip.empty() ? 0.0 : measure(canvas, card.strip, {3.8 * k, true}).width + 5.0 * k;
  const double pose_needs = card.pose.empty() ? 0.0 : measure(canvas, card.pose, {3.4 * k, true}).width + 3.0 * k;
  // Where both do not fit, both are set smaller: none of them becomes too small to read.
  const double share = std::min(1.0, (box_x - 2.0 * k - x) / std::max(1e-9, strip_needs + pose_needs));
  if (!card.strip.empty()) {
    const TextStyle style{3.8 * k * share, true};
    const double width = measure(canvas, card.strip, style).width + 3.0 * k * share;
    canvas.use(look::kInk);
    canvas.box(x, baseline - 4.5 * k, width, 6.0 * k);
    canvas.fill();
    draw_text(canvas, x + 1.5 * k * share, baseline - 0.1 * k, card.strip, style, look::kPaper);
  }
  x += strip_needs * share;
  double free = box_x - 2.0 * k - x;  // for the pose; the box to tick needs no word where that has no room
  const double pose = pose_needs * share;
  if (pose + done + 2.0 * k < free) {
    draw_text(canvas, box_x - done - 1.5 * k, baseline, ticked, small);
    free -= done + 2.0 * k;
  }
  if (!card.pose.empty()) {
    const TextStyle style{3.4 * k * share, true};
    draw_box(canvas, x, baseline - 4.5 * k, pose, 6.0 * k, 0.3);
    draw_text(canvas, x + 1.5 * k * share, baseline - 0.2 * k, card.pose, style);
  }
  draw_line(canvas, area.x, area.y + 9.2 * k, area.x + area.width, area.y + 9.2 * k, 0.35);
}

}  // namespace

void draw_card(Canvas& canvas, RectMm area, const model::Frame& frame, const Card& card, int of, double size) {
  // The words first; a picture under a third of the height is not read at arm's length, so they shrink before it does.
  constexpr double kSmaller = 0.94;
  CardText text = text_of(canvas, card, area.width, size);
  for (double share : {0.34, 0.22, 0.0}) {
    while (text.k > 0.62 * size && text.height() + share * area.height > area.height) {
      text = text_of(canvas, card, area.width, text.k * kSmaller);
    }
    if (text.height() + share * area.height <= area.height) break;
  }
  while (text.height() > area.height && text.k > 0.1) text = text_of(canvas, card, area.width, text.k * kSmaller);

  draw_head(canvas, area, card, of, text);
  double y = area.y + text.head;
  for (const TextBlock& block : text.above) y = draw_block(canvas, area, y, block);
  const RectMm room{area.x, y, area.width, area.height - text.height()};
  if (room.height >= 12.0) {
    canvas.save();
    canvas.box(room.x, room.y, room.width, room.height);
    canvas.clip();
    PictureOptions picture = card.picture;
    picture.text_mm = 3.1 * size;
    draw_picture(canvas, room, frame, picture);
    canvas.restore();
  }
  const TextStyle name{2.4 * text.k, false};
  const double name_width = measure(canvas, frame.name, name).width;
  const double caption = room.y + std::max(0.0, room.height);
  draw_text(canvas, area.x + area.width - name_width, caption + 2.6 * text.k, frame.name, name);
  if (!card.seen.empty()) {
    const std::string seen = say(paper_says::kSeen, card.seen);
    TextStyle style{3.4 * text.k, true};
    const double free = area.width - name_width - 2.0;
    style.size *= std::min(1.0, free / measure(canvas, seen, style).width);
    draw_text(canvas, area.x, caption + 4.0 * text.k, seen, style);
  }
  y = room.y + std::max(0.0, room.height) + text.caption;
  for (const TextBlock& block : text.below) y = draw_block(canvas, area, y, block);
}

}  // namespace dryfit::cli

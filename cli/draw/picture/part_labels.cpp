#include "cli/draw/picture/part_labels.hpp"

#include <algorithm>
#include <utility>

#include "cli/draw/body/fixture_pieces.hpp"
#include "cli/draw/paint/lettering.hpp"
#include "cli/draw/paint/pen.hpp"
#include "cli/words/say.hpp"
#include "cli/words/trade_words.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using model::Frame;
using model::PartId;

/// All wording of this file.
namespace says {
constexpr const char* kStrap = marked("strap");
constexpr const char* kStraps = marked("straps");
constexpr const char* kClip = marked("clip");
constexpr const char* kHold = marked("hold {}");
}  // namespace says

/// What a new strap, a new clip or the surface that something is now screwed to is called.
std::string name_of_fixture(const Frame& frame, const Fixture& fixture) {
  switch (fixture.kind) {
    case Fixture::Kind::patch: return surface_word(frame.surface(fixture.surface).id);
    case Fixture::Kind::strap: return fixture.bands.size() > 1 ? say(says::kStraps) : say(says::kStrap);
    case Fixture::Kind::clip: break;
  }
  return say(says::kClip);
}

double figure_size(double text) { return 1.7 * text; }

LabelWish wish(Canvas& canvas, std::string name, PartId id, bool bold, double text) {
  const TextSize size = measure(canvas, name, {text, bold});
  const double margin = bold ? 0.5 * text : 0.2 * text;
  return {std::move(name), {id}, size.width + margin, size.height + margin};
}

}  // namespace

std::vector<LabelWish> wishes_for(Canvas& canvas, const Frame& frame, const std::vector<PartId>& labelled,
                                  const std::vector<Fixture>& fixtures, const std::vector<int>& new_fixtures,
                                  const std::vector<bool>& emphasised, const std::vector<PartId>& held,
                                  const std::map<PartId, std::string>& notes, double text) {
  std::vector<LabelWish> out;
  for (const int index : new_fixtures) {
    const std::string name = name_of_fixture(frame, fixtures[at(index)]);
    const PartId number = number_of(frame, index);
    const auto same = std::find_if(out.begin(), out.end(), [&](const LabelWish& w) { return w.text == name; });
    if (same != out.end()) {
      same->parts.push_back(number);
    } else {
      out.push_back(wish(canvas, name, number, emphasised[at(number)], text));
    }
  }
  std::vector<std::pair<int, std::string>> order;
  for (const PartId id : labelled) {
    const model::Part& part = frame.part(id);
    const std::string& label = part.label.empty() ? part.id : part.label;
    const bool is_held = !emphasised[at(id)] && std::find(held.begin(), held.end(), id) != held.end();
    std::string name = is_held ? say(says::kHold, label) : label;
    if (const auto note = notes.find(id); note != notes.end())
      name = say_in("a part and a note", "{0}: {1}", name, note->second);
    const auto same = std::find_if(out.begin(), out.end(), [&](const LabelWish& w) { return w.text == name; });
    if (same != out.end()) {
      same->parts.push_back(id);
      continue;
    }
    out.push_back(wish(canvas, name, id, emphasised[at(id)] || is_held, text));
    out.back().held = is_held;
    out.back().may_stand_on_part = part.kind == model::PartKind::board;
  }
  std::stable_sort(out.begin(), out.end(), [&](const LabelWish& a, const LabelWish& b) {
    const auto rank = [&](const LabelWish& w) {
      const auto id = at(w.parts.front());
      if (emphasised[id] || w.held) return 0;
      return id < frame.parts.size() && frame.parts[id].kind == model::PartKind::board ? 1 : 2;
    };
    return rank(a) < rank(b);
  });
  return out;
}

void draw_leader(Canvas& canvas, const PlacedLabel& label) {
  if (label.on_part) return;
  const auto line = [&](double width, look::Tone tone) {
    canvas.use(tone);
    canvas.line_width(width);
    canvas.move_to(label.foot.x, label.foot.y);
    canvas.line_to(label.anchor.x, label.anchor.y);
    canvas.stroke();
  };
  line(0.42, look::kPaper);
  line(0.13, look::kInk);
  canvas.arc(label.anchor.x, label.anchor.y, 0.34, 0.0, 6.2831853);
  canvas.fill();
}

LabelWish wish_for_help(Canvas& canvas, Figure figure, const std::vector<PartId>& parts, double text, bool wordless) {
  LabelWish out;
  out.text = word_beside(figure);
  out.parts = parts;
  out.figure = figure;
  out.wordless = wordless;
  const double words = wordless ? 0.0 : measure(canvas, out.text, {text, false}).width + 0.5 * text;
  out.width = figure_size(text) + words + 0.6 * text;
  out.height = figure_size(text) + 0.5 * text;
  return out;
}

void draw_label(Canvas& canvas, const PlacedLabel& label, const LabelWish& wish, double size, bool emphasised) {
  const RectMm& box = label.box;
  if (emphasised || wish.held || wish.figure) {
    // A dark tag: the new piece is found at once, also on a grey printer.
    const double r = 0.25 * std::min(box.height, 1.5 * size);
    canvas.begin();
    constexpr double kQuarter = 1.5707963;
    canvas.arc(box.x + box.width - r, box.y + r, r, -kQuarter, 0.0);
    canvas.arc(box.x + box.width - r, box.y + box.height - r, r, 0.0, kQuarter);
    canvas.arc(box.x + r, box.y + box.height - r, r, kQuarter, 2 * kQuarter);
    canvas.arc(box.x + r, box.y + r, r, 2 * kQuarter, 3 * kQuarter);
    canvas.close();
    if (wish.figure) {
      fill_outlined(canvas, look::kPaper, look::kInk, 0.15);
    } else if (wish.held) {
      fill_outlined(canvas, emphasised ? look::kInk : look::kPaper, look::kInk, 0.35);
    } else {
      canvas.use(look::kInk);
      canvas.fill();
    }
  }
  const double baseline = box.y + box.height / 2.0 + 0.365 * size;
  if (wish.figure) {
    const double side = figure_size(size);
    draw_figure(canvas, *wish.figure, box.x + 0.3 * size, box.y + (box.height - side) / 2.0, side);
    if (!wish.wordless) draw_text(canvas, box.x + 0.7 * size + side, baseline, wish.text, {size, false});
    return;
  }
  draw_text_centred(canvas, box.x + box.width / 2.0, baseline, wish.text, {size, emphasised || wish.held},
                    emphasised ? look::kPaper : look::kInk);
}

void add_holes(const DepthTree& tree, const PageMap& map, std::vector<RectMm>& taken) {
  for (const Piece& piece : tree.pieces()) {
    for (const Hollow& hollow : piece.hollows) {
      double x0 = 1e300;
      double y0 = 1e300;
      double x1 = -1e300;
      double y1 = -1e300;
      for (const Vec3& point : hollow.block.points) {
        const PageMap::Point p = map(point);
        x0 = std::min(x0, p.x);
        y0 = std::min(y0, p.y);
        x1 = std::max(x1, p.x);
        y1 = std::max(y1, p.y);
      }
      // A slot of a slanting board has a box much larger than itself, but boards have room elsewhere.
      if (x1 > x0) taken.push_back({x0, y0, x1 - x0, y1 - y0});
    }
  }
}

}  // namespace dryfit::cli

#include "cli/draw/picture/picture.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <memory>
#include <numeric>
#include <optional>
#include <utility>

#include "cli/draw/body/fixture_pieces.hpp"
#include "cli/draw/body/scene.hpp"
#include "cli/draw/body/staged.hpp"
#include "cli/draw/body/union_shape.hpp"
#include "cli/draw/paint/kept_canvas.hpp"
#include "cli/draw/paint/lettering.hpp"
#include "cli/draw/paint/look.hpp"
#include "cli/draw/paint/pen.hpp"
#include "cli/draw/paint/stamp_canvas.hpp"
#include "cli/draw/picture/choose_view.hpp"
#include "cli/draw/picture/fit_page.hpp"
#include "cli/draw/picture/lens.hpp"
#include "cli/draw/picture/part_labels.hpp"
#include "cli/draw/picture/signs.hpp"
#include "cli/io/atomic_file.hpp"
#include "cli/words/say.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using model::Frame;
using model::PartId;

/// Ascending, each once; all parts for an empty list.
std::vector<PartId> parts_named(const Frame& frame, std::vector<PartId> ids, const char* what) {
  for (const PartId id : ids) {
    if (id < 0 || at(id) >= frame.parts.size()) {
      throw DrawError(say("{} part number {} is not in the frame (it has {} parts)", what, id, frame.parts.size()));
    }
  }
  std::sort(ids.begin(), ids.end());
  ids.erase(std::unique(ids.begin(), ids.end()), ids.end());
  return ids;
}

std::vector<PartId> all_parts(const Frame& frame) {
  std::vector<PartId> out(frame.parts.size());
  std::iota(out.begin(), out.end(), 0);
  return out;
}

/// By number of part and fixture.
std::vector<bool> flags(std::size_t size, const std::vector<PartId>& ids) {
  std::vector<bool> out(size, false);
  for (const PartId id : ids) out[at(id)] = true;
  return out;
}

/// How large a part of a frame is drawn at most: a single nipple need not fill the page. Pipes of any size come out at
/// a tenth of the page, or the part is as much larger than the whole frame would be as is no surprise.
double closest_scale(const Frame& frame, const std::vector<PartId>& shown, double whole, RectMm area) {
  constexpr double kNoSurprise = 3.0;
  double thick = 0.0;
  for (const PartId id : shown) {
    const model::Part& part = frame.part(id);
    if (part.kind != model::PartKind::pipe) continue;
    for (const model::Solid& solid : part.solids) thick = std::max(thick, 2.0 * solid.radius);
  }
  const double by_pipe = thick > 0.0 ? 0.1 * std::min(area.width, area.height) / thick : 0.0;
  return std::max(kNoSurprise * whole, by_pipe);
}

/// The same picture at another scale about the middle of the area.
PageMap scaled_to(PageMap map, double scale, RectMm area) {
  const double x = area.x + area.width / 2.0;
  const double y = area.y + area.height / 2.0;
  map.left = x + (map.left - x) * scale / map.scale;
  map.top = y + (map.top - y) * scale / map.scale;
  map.scale = scale;
  return map;
}

/// How far a turn arrow keeps from its axis: outside everything round the axis there that is emphasised.
double ring_radius(const Frame& frame, const std::vector<PartId>& emphasised, const Arrow& arrow) {
  double radius = 12.0;
  const Vec3 along = arrow.along * (1.0 / norm(arrow.along));
  for (const PartId id : emphasised) {
    if (at(id) >= frame.parts.size()) continue;  // a fixture
    for (const model::Solid& solid : frame.part(id).solids) {
      if (solid.shape != model::Solid::Shape::cylinder) continue;
      const Vec3 d = solid.a - arrow.at;
      if (norm(d - dot(d, along) * along) < 1.0 && std::abs(dot(solid.along.unit(), along)) > 0.99) {
        radius = std::max(radius, solid.radius);
      }
    }
  }
  return 1.25 * radius + 6.0;
}

std::optional<ArrowDrawing> arrow_in(const Frame& frame, const PictureOptions& options,
                                     const std::vector<PartId>& emphasised, const std::vector<bool>& is_new,
                                     const PageMap& map, const NumberGrid& grid,
                                     const std::function<bool(PageMap::Point)>& inside = {}) {
  if (norm(options.arrow->along) < 1e-9) return std::nullopt;
  Arrow arrow = *options.arrow;
  if (options.start) arrow.at += options.start->by;
  return place_arrow(arrow, map, grid, is_new, ring_radius(frame, emphasised, arrow), inside);
}

/// Tones and line weights of all parts at a scale: outlines must not clot on parts that are drawn small.
std::vector<PartLook> looks_for(const Frame& frame, const std::vector<Fixture>& fixtures,
                                const std::vector<bool>& is_new, double width, double scale) {
  constexpr double kUsualRadius = 13.0;  // mm, of a pipe
  const double most = 0.22 * kUsualRadius * scale;
  const double usual = std::clamp(most, 0.12, look::weight(look::kOutline, width));
  const double heavy = std::clamp(most, 1.3 * usual, look::weight(look::kNewOutline, width));
  std::vector<PartLook> out;
  for (std::size_t i = 0; i < frame.parts.size(); ++i) {
    out.push_back({look::base_tone(frame.parts[i].kind, is_new[i]), is_new[i] ? heavy : usual, look::kInk});
  }
  for (std::size_t i = 0; i < fixtures.size(); ++i) {
    if (fixtures[i].kind == Fixture::Kind::patch) {
      out.push_back({look::kRoom, 0.7 * usual, look::kRoomLine});
      continue;
    }
    const bool fresh = is_new[frame.parts.size() + i];
    out.push_back({fresh ? look::kNew : look::kStrap, fresh ? heavy : usual, look::kInk});
  }
  return out;
}

/// The parts named in the options, and the numbers of the fixtures that are new.
std::vector<PartId> emphasised_of(const Frame& frame, const PictureOptions& options,
                                  const std::vector<Fixture>& fixtures) {
  std::vector<PartId> emphasised = parts_named(frame, options.emphasised, "emphasised");
  for (const int index : options.new_fixtures) {
    if (fixtures[at(index)].kind != Fixture::Kind::patch) emphasised.push_back(number_of(frame, index));
  }
  return emphasised;
}

/// A shank and a head, as wide as a screw for flanges is (from memory).
void add_screw(const Screw& screw, std::vector<Piece>& pieces) {
  constexpr double kShank = 2.4, kHead = 5.0, kLong = 26.0, kThick = 3.5;
  constexpr int kFacets = 12;
  const auto add = [&](Vec3 from, Vec3 to, double radius) {
    Piece piece;
    piece.part = screw.part;
    piece.block = round_block(from, to, radius, kFacets, FaceKind::flat, FaceKind::flat);
    pieces.push_back(std::move(piece));
  };
  const Vec3 neck = screw.tip - kLong * screw.into;
  add(neck, screw.tip, kShank);
  add(neck - kThick * screw.into, neck, kHead);
}

DepthTree tree_of(const Frame& frame, const PictureOptions& options, const std::vector<Fixture>& fixtures,
                  const std::vector<PartId>& shown) {
  const std::vector<int> drawn = options.fixtures ? *options.fixtures : fixtures_at(fixtures, shown);
  std::optional<Frame> changed;
  if (has_unions(frame)) changed = with_unions_drawn(frame, options.open_unions);
  if (options.start) changed = staged(changed ? *changed : frame, options.start->parts, options.start->by);
  std::vector<Piece> pieces = pieces_of(changed ? *changed : frame, shown, fixtures, drawn);
  for (const Screw& screw : options.screws) add_screw(screw, pieces);
  return DepthTree(std::move(pieces));
}

SightWish wish_of(const PictureOptions& options, const std::vector<Fixture>& fixtures,
                  const std::vector<bool>& is_new) {
  SightWish wish{is_new, {}, {}, options.lies};
  if (options.arrow && options.arrow->kind == Arrow::Kind::slide) wish.move = options.arrow->along;
  for (const int index : options.new_fixtures) {
    const Fixture& fixture = fixtures[at(index)];
    if (fixture.kind == Fixture::Kind::patch) wish.surface = fixture.patch.normal;
  }
  return wish;
}

/// One picture, drawn phase by phase: the view, the words above and below, the place on the page, the parts, then what
/// lies over them.
class Drawing {
 public:
  Drawing(Canvas& canvas, RectMm area, const Frame& frame, const PictureOptions& options)
      : canvas_(canvas),
        area_(area),
        frame_(frame),
        options_(options),
        fixtures_(fixtures_of(frame)),
        shown_(options.shown.empty() ? all_parts(frame) : parts_named(frame, options.shown, "shown")),
        emphasised_(emphasised_of(frame, options, fixtures_)),
        labelled_(options.labelled.empty() ? shown_ : parts_named(frame, options.labelled, "labelled")),
        is_new_(flags(frame.parts.size() + fixtures_.size(), emphasised_)),
        tree_(tree_of(frame, options, fixtures_, shown_)),
        text_(options.text_mm > 0.0 ? std::max(options.text_mm, look::kSmallestText)
                                    : std::clamp(area.width / 50.0, look::kSmallestText, 3.2)) {}

  PictureReport run() {
    choose_where_from();
    RectMm inner = area_;
    if (!options_.title.empty()) write_title(inner);
    if (!options_.caption.empty()) write_caption(inner);
    place_on(inner);
    const std::unique_ptr<KeptCanvas> over = options_.labels || options_.arrow ? settle(inner) : nullptr;
    draw_bench();
    paint_shaded(canvas_, tree_, map_, looks_at(map_.scale));
    if (over) {
      over->draw();
      canvas_.check("drawing the picture");
    }
    return std::move(report_);
  }

 private:
  [[nodiscard]] std::vector<PartLook> looks_at(double scale) const {
    return looks_for(frame_, fixtures_, is_new_, area_.width, scale);
  }

  /// The view that is asked for, or one in which most of what is new is seen.
  void choose_where_from() {
    if (options_.view) {
      report_.view = *options_.view;
      report_.view.lies = options_.lies;
      report_.visible = emphasised_.empty() ? 1.0 : visible_share(tree_, is_new_, report_.view);
      return;
    }
    const ChosenView chosen = choose_view(tree_, wish_of(options_, fixtures_, is_new_));
    report_.view = chosen.view;
    report_.turned = chosen.turned;
    report_.visible = chosen.visible;
  }

  /// A long name on a narrow picture: smaller first, then more lines. Takes its room off `inner`.
  void write_title(RectMm& inner) const {
    const double wide = measure(canvas_, options_.title, {1.5 * text_, true}).width;
    const double size = 1.5 * text_ * std::clamp((area_.width - 2.0) / wide, 0.75, 1.0);
    const double last = draw_paragraph(canvas_, area_.x + 1.0, area_.y + 1.3 * text_, area_.width - 2.0, 1.3 * size,
                                       options_.title, {size, true});
    const double below = last - 1.3 * size - area_.y + 0.9 * text_;
    inner.y += below;
    inner.height -= below;
  }

  void write_caption(RectMm& inner) const {
    const TextStyle style{0.9 * text_, false};
    const auto lines = broken_lines(canvas_, options_.caption, area_.width - 2.0, style);
    const double leading = 1.3 * text_;
    const double below = leading * static_cast<double>(lines.size());
    draw_paragraph(canvas_, area_.x + 1.0, area_.y + area_.height - below + leading - 0.5 * text_, area_.width - 2.0,
                   leading, options_.caption, style);
    inner.height -= below + 0.6 * text_;
  }

  /// Where the parts come on the page. Labels find most of their room beside the frame.
  void place_on(RectMm inner) {
    const double beside = options_.dimensions.empty() ? 0.0 : dimension_room(text_);
    const double side = beside + (options_.labels ? std::min(3.2 * text_, 0.12 * inner.width) : 1.0);
    const double edge = beside / 2.0 + (options_.labels ? std::min(1.8 * text_, 0.08 * inner.height) : 1.0);
    const RectMm body{inner.x + side, inner.y + edge, inner.width - 2 * side, inner.height - 2 * edge};
    map_ = fit_page(tree_.pieces(), report_.view, body);
    if (shown_.size() != frame_.parts.size()) {
      const std::vector<PartId> all = all_parts(frame_);
      const PageMap whole =
          fit_page(pieces_of(frame_, all, fixtures_, fixtures_at(fixtures_, all)), report_.view, body);
      map_ = options_.room_for_all
                 ? whole
                 : scaled_to(map_, std::min(map_.scale, closest_scale(frame_, shown_, whole.scale, body)), body);
    }
    std::vector<Vec3> ends;
    for (const Dimension& one : options_.dimensions) {
      for (const Vec3& end : {one.from, one.to}) ends.push_back(end);
    }
    make_room_for(ends, body);
    if (!options_.room_for_all)
      make_room_for(bench_corners(), {inner.x + 1.0, inner.y, inner.width - 2.0, inner.height});
  }

  /// The corners of the bench, and those that sizes are measured from, may lie beside the frame: then all is drawn
  /// smaller.
  void make_room_for(const std::vector<Vec3>& corners, RectMm body) {
    double x0 = body.x, x1 = body.x + body.width, y0 = body.y, y1 = body.y + body.height;
    for (const Vec3& corner : corners) {
      const PageMap::Point p = map_(corner);
      x0 = std::min(x0, p.x);
      x1 = std::max(x1, p.x);
      y0 = std::min(y0, p.y);
      y1 = std::max(y1, p.y);
    }
    const double factor = std::min(body.width / (x1 - x0), body.height / (y1 - y0));
    if (factor > 1.0 - 1e-9) return;
    map_ = scaled_to(map_, factor * map_.scale, body);
    map_.left += factor * (body.x + body.width / 2.0 - (x0 + x1) / 2.0);
    map_.top += factor * (body.y + body.height / 2.0 - (y0 + y1) / 2.0);
  }

  /// Of the floor or the bench under what does not lie as it will stand, for who looks down on it; else none.
  [[nodiscard]] std::vector<Vec3> bench_corners() const {
    if (options_.lies.as_finished() || report_.view.elevation_deg < 5.0) return {};
    const Vec3 up = options_.lies.own(Vec3{0.0, 0.0, 1.0});
    const Vec3 right = options_.lies.own(Vec3{1.0, 0.0, 0.0});
    const Vec3 back = options_.lies.own(Vec3{0.0, 1.0, 0.0});
    double low = 1e300;
    Block::Range across{1e300, -1e300};
    Block::Range deep{1e300, -1e300};
    const auto widen = [](Block::Range& range, const Block::Range& by) {
      range.lo = std::min(range.lo, by.lo);
      range.hi = std::max(range.hi, by.hi);
    };
    for (const Piece& piece : tree_.pieces()) {
      low = std::min(low, piece.block.range_along(up).lo);
      widen(across, piece.block.range_along(right));
      widen(deep, piece.block.range_along(back));
    }
    constexpr double kBeyond = 25.0;
    const auto corner = [&](double x, double y) { return low * up + x * right + y * back; };
    return {corner(across.lo - kBeyond, deep.lo - kBeyond), corner(across.hi + kBeyond, deep.lo - kBeyond),
            corner(across.hi + kBeyond, deep.hi + kBeyond), corner(across.lo - kBeyond, deep.hi + kBeyond)};
  }

  void draw_bench() {
    const std::vector<Vec3> corners = bench_corners();
    if (corners.empty()) return;
    for (const Vec3& corner : corners) canvas_.line_to(map_(corner).x, map_(corner).y);
    canvas_.close();
    fill_outlined(canvas_, look::kRoom, look::kRoomLine, 0.12);
  }

  /// Words and signs need free paper near what they belong to. Where they find none, and a line would cross a board or
  /// a name be missing, names go before signs, or all is drawn a little smaller. Sets the map; returns what lies over
  /// the parts.
  std::unique_ptr<KeptCanvas> settle(RectMm inner) {
    constexpr double kShares[] = {1.0, 0.88, 0.76}, kSmaller = 10.0, kWell = 1.0;
    const bool fixed =
        options_.room_for_all || !options_.dimensions.empty() || (emphasised_.empty() && !options_.signs);
    const PageMap usual = map_;
    const PictureReport before = std::move(report_);
    std::unique_ptr<KeptCanvas> best;
    PictureReport told;
    for (const double share : kShares) {
      ground_.reset();
      for (const bool signs_first : {true, false}) {
        if (best && (fixed || told.trouble <= kWell)) break;
        map_ = scaled_to(usual, share * usual.scale, inner);
        report_ = before;
        report_.map = map_;
        report_.scale = map_.scale;
        auto kept = std::make_unique<KeptCanvas>(canvas_);
        over_ = kept.get();
        draw_over(inner, signs_first);
        report_.trouble += kSmaller * (1.0 - share);
        if (best && report_.trouble >= told.trouble) continue;
        best = std::move(kept);
        told = std::move(report_);
      }
    }
    over_ = nullptr;
    report_ = std::move(told);
    map_ = report_.map;
    return best;
  }

  /// Whether the part shows at the point or right beside it.
  [[nodiscard]] static bool shows(const NumberGrid& grid, PartId part, PageMap::Point at) {
    for (int dy = -1; dy <= 1; ++dy) {
      for (int dx = -1; dx <= 1; ++dx) {
        if (grid.at(grid.column(at.x) + dx, grid.row(at.y) + dy) == part) return true;
      }
    }
    return false;
  }

  /// Where a way comes out from behind what moves; its end when it never does.
  [[nodiscard]] PageMap::Point seen_from(const NumberGrid& grid, PageMap::Point from, PageMap::Point to) const {
    const int steps = static_cast<int>(std::hypot(to.x - from.x, to.y - from.y) * grid.per_mm) + 1;
    for (int k = steps; k >= 0; --k) {
      const double t = static_cast<double>(k) / steps;
      const PageMap::Point p{from.x + t * (to.x - from.x), from.y + t * (to.y - from.y)};
      const PartId id = grid.at(grid.column(p.x), grid.row(p.y));
      if (id >= 0 && is_new_[at(id)]) return k == steps ? to : p;
    }
    return from;
  }

  /// From where the moving parts are drawn to where they end. Of a screw that something hides no way is drawn.
  void draw_way_in(const NumberGrid& grid, std::vector<RectMm>& taken) {
    std::vector<std::pair<PageMap::Point, PageMap::Point>> ways;
    if (options_.start) {
      for (const Vec3& seat : options_.start->seats) {
        const PageMap::Point to = map_(seat);
        ways.emplace_back(seen_from(grid, map_(seat + options_.start->by), to), to);
      }
    }
    for (const Screw& screw : options_.screws) {
      const PageMap::Point tip = map_(screw.tip);
      if (shows(grid, screw.part, tip)) ways.emplace_back(tip, map_(screw.tip + 14.0 * screw.into));
    }
    for (const auto& [from, to] : ways) {
      if (from.x == to.x && from.y == to.y) continue;
      draw_line(*over_, from.x, from.y, to.x, to.y, 0.8, look::kPaper);
      draw_dashed(*over_, from.x, from.y, to.x, to.y, 0.3, 1.2);
      taken.push_back({std::min(from.x, to.x) - 0.4, std::min(from.y, to.y) - 0.4, std::abs(from.x - to.x) + 0.8,
                       std::abs(from.y - to.y) + 0.8});
    }
  }

  /// A fork on a post with a foot, under what it holds.
  void draw_props(std::vector<RectMm>& taken) {
    for (const Prop& prop : options_.props) {
      const PageMap::Point head = map_(prop.head);
      const PageMap::Point foot = map_(prop.foot);
      const double wide = std::clamp(0.12 * std::hypot(foot.x - head.x, foot.y - head.y), 0.9, 2.2);
      const auto strokes = [&](double width, look::Tone tone) {
        draw_line(*over_, head.x, head.y + wide, foot.x, foot.y, width, tone);
        draw_line(*over_, head.x - wide, head.y, head.x, head.y + wide, width, tone);
        draw_line(*over_, head.x + wide, head.y, head.x, head.y + wide, width, tone);
        draw_line(*over_, foot.x - wide, foot.y, foot.x + wide, foot.y, width, tone);
      };
      strokes(1.1, look::kPaper);
      strokes(0.45, look::kInk);
      taken.push_back({std::min(head.x, foot.x) - wide, std::min(head.y, foot.y),
                       std::abs(head.x - foot.x) + 2.0 * wide, std::abs(head.y - foot.y) + 0.5});
    }
  }

  /// Lens, arrow and labels: they go where nothing of importance is, so the picture is looked at through a grid.
  void draw_over(RectMm inner, bool signs_first) {
    const double per_mm = std::clamp(900.0 / std::max(area_.width, area_.height), 2.0, 6.0);
    if (!ground_) ground_ = Ground{grid_of(tree_, map_, inner, per_mm), std::nullopt};
    const NumberGrid& grid = ground_->grid;
    std::vector<RectMm> taken;
    // A straight move is clearer against the whole work, a turn where the piece is large.
    draw_dimensions(*over_, map_, options_.dimensions, text_, taken);
    draw_way_in(grid, taken);
    draw_props(taken);
    const bool arrow_drawn = draw_lens(grid, per_mm, taken);
    if (options_.arrow && !arrow_drawn) {
      if (const auto arrow = arrow_in(frame_, options_, emphasised_, is_new_, map_, grid)) {
        draw_arrow(*over_, *arrow);
        taken.insert(taken.end(), arrow->taken.begin(), arrow->taken.end());
      }
    }
    if (signs_first) put_signs(grid, taken);
    if (options_.labels) draw_labels(grid, taken);
    if (!signs_first) put_signs(grid, taken);
  }

  void put_signs(const NumberGrid& grid, std::vector<RectMm>& taken) {
    constexpr double kNoSign = 4.0;
    if (!options_.signs) return;
    for (const Vec3& corner : bench_corners()) report_.bench.push_back(map_(corner));
    report_.trouble += kNoSign * draw_signs(*over_, grid, report_.view, text_, report_.bench, taken, report_.insets);
  }

  /// Draws a lens where one is wanted and finds its place, with the arrow of a turn in it; true when that was drawn.
  bool draw_lens(const NumberGrid& grid, double per_mm, std::vector<RectMm>& taken) {
    if (!options_.lens) return false;
    const bool turns =
        options_.arrow && options_.arrow->kind == Arrow::Kind::turn && norm(options_.arrow->along) > 1e-9;
    const double ring = turns ? map_.scale * ring_radius(frame_, emphasised_, *options_.arrow) : 0.0;
    if (!ground_->lens) ground_->lens = place_lens(map_, grid, is_new_, ring, taken);
    const std::optional<Lens>& lens = *ground_->lens;
    if (!lens) return false;
    report_.enlarged = true;
    if (lens->has_line()) {
      report_.lens_over = lens->over;
      report_.trouble += 2.0 * lens->over;
    }
    taken.push_back(lens->box());
    const double ringed = lens->radius / lens->zoom;  // the small circle round what is enlarged
    taken.push_back({lens->subject.x - ringed, lens->subject.y - ringed, 2.0 * ringed, 2.0 * ringed});
    report_.insets.push_back(lens->box());
    begin_lens(*over_, *lens);
    paint_shaded(*over_, tree_, lens->map, looks_at(lens->map.scale));
    std::optional<ArrowDrawing> arrow;
    if (turns) {
      const NumberGrid close = grid_of(tree_, lens->map, lens->box(), per_mm);
      arrow = arrow_in(frame_, options_, emphasised_, is_new_, lens->map, close,
                       [&](PageMap::Point p) { return lens->shows(p); });
      if (arrow) draw_arrow(*over_, *arrow);
    }
    end_lens(*over_, *lens);
    return arrow.has_value();
  }

  [[nodiscard]] bool is_new(const LabelWish& wish) const { return !wish.figure && is_new_[at(wish.parts.front())]; }

  /// The name of all of several parts: of those that move, or of those that something comes to.
  [[nodiscard]] LabelWish wish_for_piece() const {
    LabelWish piece;
    piece.text = options_.piece;
    for (const PartId id : options_.piece_parts) {
      if (std::find(shown_.begin(), shown_.end(), id) != shown_.end()) piece.parts.push_back(id);
    }
    if (piece.parts.empty()) return piece;
    const bool bold = is_new(piece);
    const TextSize size = measure(canvas_, piece.text, {text_, bold});
    piece.width = size.width + (bold ? 0.5 : 0.2) * text_;
    piece.height = size.height + (bold ? 0.5 : 0.2) * text_;
    return piece;
  }

  /// What is to be labelled, the most important first; `notes`: what labels say besides names; `wordless`: figures
  /// stand for their words.
  [[nodiscard]] std::vector<LabelWish> all_wishes(const std::map<PartId, std::string>& notes, bool wordless) const {
    std::vector<LabelWish> wishes =
        wishes_for(canvas_, frame_, labelled_, fixtures_, options_.new_fixtures, is_new_, options_.held, notes, text_);
    // Help and a piece that stands come after what is new and held, before what merely has a name.
    auto place =
        std::find_if(wishes.begin(), wishes.end(), [&](const LabelWish& wish) { return !wish.held && !is_new(wish); });
    for (const Help& help : options_.help) {
      place = std::next(wishes.insert(place, wish_for_help(canvas_, help.figure, help.parts, text_, wordless)));
    }
    if (LabelWish piece = wish_for_piece(); !piece.parts.empty()) {
      wishes.insert(is_new(piece) ? wishes.begin() : place, std::move(piece));
    }
    return wishes;
  }

  /// A name without its note is better than none, and so is a figure without its words.
  [[nodiscard]] Labelling labels_placed(const NumberGrid& grid, const std::vector<RectMm>& taken,
                                        std::vector<LabelWish>& wishes) const {
    wishes = all_wishes(options_.notes, false);
    Labelling labelling = place_labels(grid, wishes, taken, report_.insets);
    std::map<PartId, std::string> notes = options_.notes;
    bool wordless = false;
    for (const std::size_t i : labelling.left_out) {
      wordless = wordless || wishes[i].figure.has_value();
      for (const PartId id : wishes[i].parts) notes.erase(id);
    }
    if (notes.size() == options_.notes.size() && !wordless) return labelling;
    wishes = all_wishes(notes, wordless);
    return place_labels(grid, wishes, taken, report_.insets);
  }

  /// How far the labels are from what one would wish, as of mm of lines over other parts.
  [[nodiscard]] double trouble_with(const Labelling& labelling, const std::vector<LabelWish>& wishes) const {
    constexpr double kLittle = 0.5, kOverWords = 8.0, kLeftOut = 12.0, kMinor = 0.3, kCut = 3.0;
    const auto weight = [&](std::size_t i) {
      return wishes[i].held || wishes[i].figure || is_new(wishes[i]) ? 1.0 : kMinor;
    };
    double sum = 0.0;
    for (const PlacedLabel& label : labelling.placed) {
      const LabelWish& wish = wishes[label.wish];
      sum += weight(label.wish) * (std::max(0.0, label.over - kLittle) + (label.over_words ? kOverWords : 0.0));
      const auto note = options_.notes.find(wish.parts.front());
      if (wish.wordless || (note != options_.notes.end() && !wish.text.ends_with(note->second))) sum += kCut;
    }
    for (const std::size_t i : labelling.left_out) sum += kLeftOut * weight(i);
    return sum;
  }

  /// Adds the labels and their lines to what is taken.
  void draw_labels(const NumberGrid& grid, std::vector<RectMm>& taken) {
    std::vector<RectMm> avoided = taken;
    add_holes(tree_, map_, avoided);
    std::vector<LabelWish> wishes;
    const Labelling labelling = labels_placed(grid, avoided, wishes);
    report_.trouble += trouble_with(labelling, wishes);
    over_->save();
    over_->round_ends(true);
    for (const PlacedLabel& label : labelling.placed) draw_leader(*over_, label);
    for (const PlacedLabel& label : labelling.placed) {
      const LabelWish& wish = wishes[label.wish];
      draw_label(*over_, label, wish, text_, is_new(wish));
      report_.labels.push_back(label);
      report_.texts.push_back(wish.text);
      taken.push_back(label.box);
      const int steps = static_cast<int>(std::hypot(label.anchor.x - label.foot.x, label.anchor.y - label.foot.y)) + 1;
      for (int k = 0; k <= steps; ++k) {
        const double t = static_cast<double>(k) / steps;
        taken.push_back({label.foot.x + t * (label.anchor.x - label.foot.x) - 0.5,
                         label.foot.y + t * (label.anchor.y - label.foot.y) - 0.5, 1.0, 1.0});
      }
    }
    over_->restore();
    for (const std::size_t i : labelling.hidden) report_.hidden.push_back(wishes[i].text);
    for (const std::size_t i : labelling.left_out) report_.left_out.push_back(wishes[i].text);
  }

  Canvas& canvas_;
  RectMm area_;
  const Frame& frame_;
  const PictureOptions& options_;
  std::vector<Fixture> fixtures_;
  std::vector<PartId> shown_;
  std::vector<PartId> emphasised_;  ///< parts, and fixtures by their numbers
  std::vector<PartId> labelled_;
  std::vector<bool> is_new_;  ///< by number of part and fixture
  DepthTree tree_;
  /// What is the same whichever comes first at a scale, signs or labels.
  struct Ground {
    NumberGrid grid;
    std::optional<std::optional<Lens>> lens;  ///< once it is looked for
  };
  std::optional<Ground> ground_;
  KeptCanvas* over_ = nullptr;                      ///< what lies over the parts, while that is settled
  double text_;                                     ///< height of the labels' letters, mm
  PageMap map_{Projection(View{}), 1.0, 0.0, 0.0};  ///< set by place_on
  PictureReport report_;
};

}  // namespace

PictureReport draw_picture(Canvas& canvas, RectMm area, const Frame& frame, const PictureOptions& options) {
  if (frame.parts.empty()) throw DrawError(say("the frame has no parts to draw"));
  if (area.width < 10.0 || area.height < 10.0) throw DrawError(say("a picture needs at least 10 x 10 mm"));
  return Drawing(canvas, area, frame, options).run();
}

std::vector<View> views_in_a_row(const Frame& frame, const std::vector<const PictureOptions*>& pictures) {
  const std::vector<Fixture> fixtures = fixtures_of(frame);
  std::vector<SightWish> wishes;
  for (const PictureOptions* picture : pictures) {
    const std::vector<bool> is_new =
        flags(frame.parts.size() + fixtures.size(), emphasised_of(frame, *picture, fixtures));
    wishes.push_back(wish_of(*picture, fixtures, is_new));
  }
  std::vector<std::optional<DepthTree>> trees(pictures.size());
  const auto sight = [&](std::size_t i) -> Sight {
    if (!trees[i]) {
      // Pictures are asked in order, some ahead: what lies further back is not asked again, and takes much memory.
      for (std::size_t old = 0; old + kPicturesAhead < i; ++old) trees[old].reset();
      const PictureOptions& picture = *pictures[i];
      trees[i] = tree_of(frame, picture, fixtures,
                         picture.shown.empty() ? all_parts(frame) : parts_named(frame, picture.shown, "shown"));
    }
    return {&*trees[i], &wishes[i]};
  };
  std::vector<View> out;
  for (const ChosenView& chosen : choose_views(pictures.size(), sight)) out.push_back(chosen.view);
  return out;
}

double natural_height(const Frame& frame, const PictureOptions& options) {
  const std::vector<PartId> shown =
      options.shown.empty() || options.room_for_all ? all_parts(frame) : parts_named(frame, options.shown, "shown");
  const std::vector<Fixture> fixtures = fixtures_of(frame);
  const std::vector<int> drawn =
      options.fixtures && !options.room_for_all ? *options.fixtures : fixtures_at(fixtures, shown);
  const std::vector<Piece> pieces = pieces_of(frame, shown, fixtures, drawn);
  View view = options.view.value_or(View{});
  view.lies = options.lies;
  const Projection projection(view);
  double u0 = 1e300;
  double u1 = -1e300;
  double v0 = 1e300;
  double v1 = -1e300;
  for (const Piece& piece : pieces) {
    const Block::Range u = piece.block.range_along(projection.right);
    const Block::Range v = piece.block.range_along(projection.up);
    u0 = std::min(u0, u.lo);
    u1 = std::max(u1, u.hi);
    v0 = std::min(v0, v.lo);
    v1 = std::max(v1, v.hi);
  }
  const double shape = u1 > u0 ? (v1 - v0) / (u1 - u0) : 0.75;
  const double lines = (options.title.empty() ? 0.0 : 8.0) + (options.caption.empty() ? 0.0 : 6.0);
  return options.width_mm * std::clamp(0.8 * shape + 0.1, 0.4, 1.4) + lines;
}

namespace {

/// Refuses a PNG that would take more memory than a picture is worth, and says what goes.
void check_dots(const Frame& frame, const PictureOptions& options, double width, double height) {
  constexpr double kMostDots = 1e8;     // 400 MB while it is drawn
  constexpr double kLongest = 32767.0;  // the most dots that the drawing library has along a side
  const double most_mm2 = kMostDots / (kDotsPerMm * kDotsPerMm);
  if (height * kDotsPerMm > kLongest) {
    throw DrawError(
        say("a PNG {:.0f} mm high is too large: the largest --height that goes is {:.0f}; .svg and "
            ".pdf have no such limit",
            height, std::floor(kLongest / kDotsPerMm)));
  }
  if (width * height <= most_mm2) return;
  double largest = most_mm2 / height;
  if (options.height_mm == 0.0) {
    // The height follows the width in a straight line: slope * width + lines.
    PictureOptions half = options;
    half.width_mm = width / 2.0;
    const double slope = (height - natural_height(frame, half)) / (width / 2.0);
    const double lines = height - slope * width;
    largest = (std::sqrt(lines * lines + 4.0 * slope * most_mm2) - lines) / (2.0 * slope);
  }
  throw DrawError(
      say("a PNG of {:.0f} x {:.0f} mm is too large: the largest --width that goes is {:.0f}; .svg and .pdf "
          "have no such limit",
          width, height, std::floor(largest)));
}

}  // namespace

namespace {

PictureReport draw_on_page(Canvas& canvas, double width, double height, const Frame& frame,
                           const PictureOptions& options) {
  constexpr double kMargin = 4.0;
  return draw_picture(canvas, {kMargin, kMargin, width - 2 * kMargin, height - 2 * kMargin}, frame, options);
}

double page_height(const Frame& frame, const PictureOptions& options) {
  return options.height_mm != 0.0 ? options.height_mm : natural_height(frame, options);
}

}  // namespace

std::string stamped_picture(StampSheet& sheet, const Frame& frame, const PictureOptions& options,
                            PictureReport* report) {
  StampCanvas canvas(sheet);
  PictureReport made = draw_on_page(canvas, options.width_mm, page_height(frame, options), frame, options);
  if (report != nullptr) *report = std::move(made);
  return canvas.finish();
}

std::string stamped_box(const Frame& frame, const PictureOptions& options) {
  return fmt::format("0 0 {:.0f} {:.0f}", options.width_mm / StampCanvas::kUnit,
                     page_height(frame, options) / StampCanvas::kUnit);
}

std::string picture_bytes(PictureFormat format, const Frame& frame, const PictureOptions& options,
                          PictureReport* report) {
  const double width = options.width_mm;
  const double height = page_height(frame, options);
  if (format == PictureFormat::png) check_dots(frame, options, width, height);
  return one_page(format, width, height, options.title, [&](Canvas& canvas) {
    PictureReport made = draw_on_page(canvas, width, height, frame, options);
    if (report != nullptr) *report = std::move(made);
  });
}

PictureReport write_picture(const std::string& path, const Frame& frame, const PictureOptions& options) {
  const PictureFormat format = format_for(path);
  PictureReport report;
  const std::string bytes = picture_bytes(format, frame, options, &report);
  write_file(path, bytes);
  return report;
}

}  // namespace dryfit::cli

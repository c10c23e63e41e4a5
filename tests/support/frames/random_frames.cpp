#include "tests/support/frames/random_frames.hpp"

#include <algorithm>
#include <cmath>

#include "model/geometry/at.hpp"
#include "model/placing/reader.hpp"
#include "model/standards/standards.hpp"
#include "tests/support/frames/frame_draft.hpp"
#include "tests/support/frames/near_holes.hpp"
#include "tests/support/oracle/oracle.hpp"

namespace dryfit::test {
namespace {

/// Four sides and four corners, lying open or on legs, with a union in a side or none: a picture frame of pipe.
void ring(Draft& d) {
  d.spec.name = "random ring";
  const double width = d.one_in(2) ? d.length(100, 180) : d.one_in(2) ? d.length(200, 420) : d.length(520, 800);
  const double height = d.length(140, 360);
  const bool two_unions = d.one_in(12);
  const bool one_union = two_unions || d.one_in(2);
  const int legs = d.one_in(4) ? 1 + below(d.rng, 2) : 0;
  const int union_side = d.one_in(2) ? 0 : below(d.rng, 4);
  std::vector<std::string> corners;
  std::vector<std::vector<PartSpec>> sides;
  for (int k = 0; k < 4; ++k) {
    const double total = k % 2 == 0 ? width : height;
    const bool with_union = one_union && (k == union_side || (two_unions && k == (union_side + 2) % 4));
    sides.push_back(with_union    ? d.joined(total, "union")
                    : d.one_in(6) ? d.joined(total, "coupling")
                                  : d.joined(total, ""));
    corners.push_back(d.id("E"));
  }
  const std::array<Direction, 4> turns{model::kUp, model::kLeft, model::kDown, model::kRight};
  RunSpec r{.id = "ring", .from = {}, .at = Vec3{0, 0, 400}, .go = model::kRight, .parts = {}, .to = {}};
  for (std::size_t k = 0; k < 4; ++k) {
    r.parts.insert(r.parts.end(), sides[k].begin(), sides[k].end());
    // The lower corners may have a third outlet, for legs toward the front.
    PartSpec corner{
        .id = corners[k], .kind = "elbow", .length = {}, .toward = turns[k], .side = {}, .plane = {}, .options = {}};
    if (k == 0 && legs == 2) {
      corner = d.side_elbow(corners[k], turns[k], model::kFront);
    }
    if (k == 3 && legs >= 1) corner = d.side_elbow(corners[k], turns[k], model::kFront);
    r.parts.push_back(corner);
  }
  r.to = LinkSpec{r.parts.front().id, {}, "start"};
  d.spec.runs.push_back(r);
  const double leg_length = d.length(100, 300);
  for (const int k : {3, 0}) {
    if (legs < (k == 3 ? 1 : 2)) continue;
    // Two legs that end on one plane are set on a surface in front.
    RunSpec leg{.id = d.id("leg"),
                .from = LinkSpec{corners[at(k)], model::kFront, ""},
                .at = {},
                .go = {},
                .parts = {d.pipe(leg_length)},
                .to = {}};
    if (!d.one_in(3)) leg.parts.push_back(d.plain("FL", "flange"));
    d.spec.runs.push_back(leg);
  }
  // A board trapped on the two upright sides.
  const bool straight = sides[1].size() == 1 && sides[3].size() == 1;
  if (straight && !d.one_in(3)) {
    BoardSpec b = d.board({sides[3][0].id, sides[1][0].id}, 0.0, width + d.corner_gap());
    b.underside = 400 + d.corner_gap() / 2 + height * (0.3 + 0.1 * below(d.rng, 4));
    if (d.one_in(4)) b.hole = d.length(60, 100);  // a fitting may pass it, or turn in it
    d.spec.boards.push_back(b);
  }
}

/// One to three posts of the same pattern, with rails between the first two, boards through them or laid on top.
void posts(Draft& d) {
  d.spec.name = "random posts";
  const int count = 1 + (d.one_in(4) ? 0 : 1) + (d.one_in(6) ? 1 : 0);
  const int levels = d.one_in(4) ? 2 : d.one_in(5) ? 0 : 1;
  const bool on_floor = d.one_in(2);
  const bool flanged = on_floor && !d.one_in(4);
  std::vector<double> lengths;
  std::vector<std::string> joints;
  for (int k = 0; k <= levels; ++k) lengths.push_back(d.length(70, 260));
  const int want_rails = count >= 2 ? std::min(2, below(d.rng, 5)) : 0;
  int rails = 0;
  for (int k = 0; k < levels; ++k) {
    const bool rail = rails < want_rails && !d.one_in(3);
    rails += rail ? 1 : 0;
    joints.emplace_back(rail ? "rail" : d.one_in(4) ? "stub" : d.one_in(6) ? "bare" : "coupling");
  }
  std::string top = d.one_of({"none", "none", "cap", "coupling", "elbow"});
  if (rails < want_rails && !d.one_in(3)) {
    top = "top rail";
    ++rails;
  }
  const double rail = d.length(140, 380);
  const double gap = rails > 0 ? rail + d.corner_gap() : d.length(140, 380);
  if (on_floor) d.spec.surfaces.push_back({"floor", model::kUp, 0.0});

  std::vector<std::vector<std::string>> pipes, fittings;  // per post
  for (int p = 0; p < count; ++p) {
    RunSpec r{.id = d.id("post"), .from = {}, .at = {}, .go = model::kUp, .parts = {}, .to = {}};
    if (on_floor) r.from = LinkSpec{"floor", {}, ""};
    if (p != 1 || rails == 0) r.at = Vec3{p * gap, p == 2 && d.one_in(2) ? d.length(60, 200) : 0.0, 0.0};
    if (flanged) r.parts.push_back(d.plain("FL", "flange"));
    const Direction inward = p == 0 ? model::kRight : model::kLeft;
    pipes.emplace_back();
    fittings.emplace_back();
    for (int k = 0; k <= levels; ++k) {
      r.parts.push_back(d.pipe(lengths[at(k)]));
      pipes.back().push_back(r.parts.back().id);
      const std::string joint = k < levels ? joints[at(k)] : top;
      if (joint == "bare" || joint == "none") {
        if (k < levels) break;
        continue;
      }
      if (joint == "rail" && p < 2) {
        r.parts.push_back(d.aimed("T", "tee", inward));
      } else if (joint == "stub") {
        r.parts.push_back(d.aimed("T", "tee", d.one_of({model::kFront, model::kBack, model::kRight, model::kLeft})));
        d.stubs.push_back({r.parts.back().id, *r.parts.back().toward});
      } else if (joint == "top rail" && p < 2) {
        r.parts.push_back(d.aimed("E", "elbow", inward));
      } else if (joint == "elbow") {
        r.parts.push_back(d.aimed("E", "elbow", d.one_of({model::kFront, model::kBack, inward})));
        d.stubs.push_back({r.parts.back().id, *r.parts.back().toward});
      } else if (joint == "cap") {
        r.parts.push_back(d.plain("K", "cap"));
      } else {
        r.parts.push_back(d.plain("C", "coupling"));
      }
      fittings.back().push_back(r.parts.back().id);
    }
    d.spec.runs.push_back(r);
  }
  for (int k = 0; k <= levels && count >= 2; ++k) {
    const auto level = at(k);
    const std::string joint = k < levels ? joints[level] : top;
    if ((joint != "rail" && joint != "top rail") || fittings[0].size() <= level || fittings[1].size() <= level)
      continue;
    RunSpec r{.id = d.id("rail"),
              .from = LinkSpec{fittings[0][level], model::kRight, ""},
              .at = {},
              .go = {},
              .parts = {},
              .to = LinkSpec{fittings[1][level], model::kLeft, ""}};
    r.parts = d.joined(rail, d.one_of({"", "", "", "", "union", "union", "union tee", "coupling", "tee"}));
    if (r.parts.size() == 1) d.rails.push_back(r.parts[0].id);
    d.spec.runs.push_back(r);
  }
  d.fill_stubs();

  std::optional<double> back_edge;
  const int boards = below(d.rng, 5) < 2 ? 1 : d.one_in(4) ? 2 : 0;
  for (int i = 0; i < boards && levels > 0; ++i) {
    const auto level = at(1 + below(d.rng, levels));
    std::vector<std::string> through, carriers;
    int last = 0;
    for (int p = 0; p < count; ++p) {
      const auto& mine = pipes[at(p)];
      if (mine.size() <= level) continue;
      if (p > 0 && d.one_in(3)) break;
      through.push_back(mine[level]);
      carriers.push_back(fittings[at(p)][level - 1]);
      last = p;
    }
    if (through.empty()) continue;
    BoardSpec b = d.board(through, 0.0, last * gap);
    b.rests_on = carriers;
    if (!back_edge && d.one_in(3)) back_edge = b.size.y - b.reach[1].second;
    if (back_edge && std::abs(b.size.y - b.reach[1].second - *back_edge) < 0.01 && !d.one_in(4))
      b.fix.push_back("wall");
    d.spec.boards.push_back(b);
  }
  if (!d.rails.empty() && d.one_in(4)) d.lay_on({d.rails.back()});
  if (d.one_in(8) && count >= 2 && (top == "cap" || top == "coupling") && fittings[0].size() == fittings[1].size() &&
      !fittings[0].empty()) {
    d.lay_on({fittings[0].back(), fittings[1].back()});
  }
  if (back_edge || d.one_in(5)) {
    d.spec.surfaces.push_back({"wall", model::kFront, back_edge ? *back_edge : d.length(30, 160)});
    if (!d.rails.empty() && d.one_in(4)) d.spec.clips.emplace_back(d.rails.front(), "wall");
  }
}

/// Two uprights and two or three rungs: cells side by side, with a union here and there.
void ladder(Draft& d) {
  d.spec.name = "random ladder";
  const double rung = d.one_in(2) ? d.length(100, 180) : d.length(180, 600);
  const double width = rung + d.corner_gap();
  const int cells = 1 + below(d.rng, 2);
  std::vector<double> steps;
  for (int k = 0; k < cells; ++k) steps.push_back(d.length(80, 240));
  const bool open_top = d.one_in(3);
  const bool toed = d.one_in(2);
  std::array<std::vector<std::string>, 2> corners, uprights;
  for (const std::size_t side : {0U, 1U}) {
    const Direction inward = side == 0 ? model::kRight : model::kLeft;
    RunSpec r{.id = d.id("upright"), .from = {}, .at = {}, .go = model::kUp, .parts = {}, .to = {}};
    if (side == 0) r.at = Vec3{0, 0, 200};
    const double foot = steps.front();
    r.parts.push_back(d.aimed("T", toed ? "side-tee" : "tee", inward));
    if (toed) {
      r.parts.back().side = model::kFront;
      d.stubs.emplace_back(r.parts.back().id, model::kFront);
    }
    corners[side].push_back(r.parts.back().id);
    for (int k = 0; k < cells; ++k) {
      const auto pieces = d.joined(k == 0 ? foot : steps[at(k)], side == 1 && d.one_in(5) ? "union" : "");
      r.parts.insert(r.parts.end(), pieces.begin(), pieces.end());
      uprights[side].push_back(pieces.size() == 1 ? pieces[0].id : "");
      r.parts.push_back(d.aimed("T", k + 1 == cells && !open_top ? "elbow" : "tee", inward));
      corners[side].push_back(r.parts.back().id);
    }
    d.spec.runs.push_back(r);
  }
  for (std::size_t k = 0; k < corners[0].size(); ++k) {
    if (k > 0 && k + 1 < corners[0].size() && d.one_in(4)) continue;
    RunSpec r{.id = d.id("rung"),
              .from = LinkSpec{corners[0][k], model::kRight, ""},
              .at = {},
              .go = {},
              .parts = {},
              .to = LinkSpec{corners[1][k], model::kLeft, ""}};
    r.parts = d.joined(rung, d.one_of({"", "", "", "union", "union", "union", "union tee", "tee"}));
    if (r.parts.size() == 1) d.rails.push_back(r.parts[0].id);
    d.spec.runs.push_back(r);
  }
  d.fill_stubs();
  const std::size_t cell = d.rng() % uprights[0].size();
  if (!uprights[0][cell].empty() && !uprights[1][cell].empty() && d.one_in(3)) {
    BoardSpec b = d.board({uprights[0][cell], uprights[1][cell]}, 0.0, width);
    b.rests_on = {corners[0][cell], corners[1][cell]};
    d.spec.boards.push_back(b);
  }
  if (!d.rails.empty() && d.one_in(5)) d.lay_on({d.rails.back()});
}

/// Random branching work, with a wall or a floor near it now and then.
void tree(Draft& d) {
  d.spec.name = "random tree";
  RunSpec r{.id = "stem", .from = {}, .at = Vec3{0, 0, 0}, .go = model::kUp, .parts = {}, .to = {}};
  if (d.one_in(2)) {
    d.spec.surfaces.push_back({"floor", model::kUp, 0.0});
    r.from = LinkSpec{"floor", {}, ""};
    if (!d.one_in(3)) r.parts.push_back(d.plain("FL", "flange"));
  }
  d.walk(r.parts, model::kUp, 2 + below(d.rng, 3));
  d.spec.runs.push_back(r);
  d.fill_stubs();
  if (d.one_in(3)) d.spec.surfaces.push_back({"wall", model::kFront, d.length(30, 250)});
  const auto& parts = d.spec.runs.front().parts;
  if (d.one_in(3) && d.spec.runs.front().parts.size() >= 2) {
    const PartSpec& pipe = parts[d.spec.surfaces.empty() || parts[0].kind == "pipe" ? 0 : 1];
    if (pipe.kind == "pipe") {
      BoardSpec b = d.board({pipe.id}, 0.0, 0.0);
      b.underside = d.length(20, 120);
      if (d.one_in(4)) b.hole = d.length(60, 100);
      d.spec.boards.push_back(b);
    }
  }
}

/// A rail held off a wall by flanges at both ends, hooks and a laid board on it.
void arm(Draft& d) {
  d.spec.name = "random arm";
  d.spec.surfaces.push_back({"wall", model::kFront, 0.0});
  const double out = d.length(60, 200);
  const double along = d.length(160, 420);
  RunSpec r{.id = "arm", .from = LinkSpec{"wall", {}, ""}, .at = Vec3{0, 0, 500}, .go = {}, .parts = {}, .to = {}};
  if (!d.one_in(6)) r.parts.push_back(d.plain("FL", "flange"));
  r.parts.push_back(d.pipe(out));
  r.parts.push_back(d.aimed("E", "elbow", model::kRight));
  const auto middle = d.joined(along, d.one_of<std::string>({"", "", "union", "coupling", "tee"}));
  r.parts.insert(r.parts.end(), middle.begin(), middle.end());
  if (middle.size() == 1) d.rails.push_back(middle[0].id);
  r.parts.push_back(d.aimed("E", "elbow", model::kBack));
  r.parts.push_back(d.pipe(out));
  if (!d.one_in(5)) {
    r.parts.push_back(d.plain("FL", "flange"));
    r.to = LinkSpec{"wall", {}, ""};
  }
  d.spec.runs.push_back(r);
  d.fill_stubs();
  if (!d.rails.empty() && d.one_in(3)) d.lay_on({d.rails.back()});
  if (d.one_in(4)) d.spec.surfaces.push_back({"floor", model::kUp, 500 - d.length(40, 300)});
  if (middle.size() == 1 && d.one_in(4)) {
    // A slat hung on the two arms: drilled along the wall's normal.
    BoardSpec b = d.board({r.parts[r.parts[0].kind == "flange" ? 1 : 0].id}, 0.0, 0.0);
    b.size = {d.length(60, 140), 19, d.length(60, 200)};
    b.facing = model::kFront;
    b.reach = {{model::kLeft, b.size.x / 2}, {model::kDown, b.size.z / 2}};
    b.rests_on = {};
    b.underside = {};
    if (d.spec.boards.empty() && r.parts[0].kind == "flange") {
      b.rests_on = {r.parts[0].id};
      d.spec.boards.push_back(b);
    }
  }
}

/// A top on the flanges of pipe legs, with a stretcher between two of them.
void table(Draft& d) {
  d.spec.name = "random table";
  const bool on_floor = d.one_in(2);
  if (on_floor) d.spec.surfaces.push_back({"floor", model::kUp, 0.0});
  const int legs = 1 + below(d.rng, 2);
  const double low = d.length(80, 160);
  const double high = d.length(80, 240);
  const bool stretcher = legs == 2 && !d.one_in(3);
  const double rail = d.length(160, 360);
  std::vector<std::string> tees;
  for (int p = 0; p < legs; ++p) {
    RunSpec r{.id = d.id("leg"),
              .from = {},
              .at = {},
              .go = model::kUp,
              .parts = {},
              .to = LinkSpec{"TOP", model::kDown, ""}};
    if (on_floor) r.from = LinkSpec{"floor", {}, ""};
    if (p == 0 || !stretcher) r.at = Vec3{p * (rail + d.corner_gap()), 0, 0};
    if (on_floor && d.one_in(2)) r.parts.push_back(d.plain("FF", "flange"));
    r.parts.push_back(d.pipe(stretcher ? low : low + high));
    if (stretcher) {
      r.parts.push_back(d.aimed("T", "tee", p == 0 ? model::kRight : model::kLeft));
      tees.push_back(r.parts.back().id);
      r.parts.push_back(d.pipe(high));
    }
    r.parts.push_back(d.plain("FT", "flange"));
    d.spec.runs.push_back(r);
  }
  if (stretcher) {
    RunSpec r{.id = "stretcher",
              .from = LinkSpec{tees[0], model::kRight, ""},
              .at = {},
              .go = {},
              .parts = {},
              .to = LinkSpec{tees[1], model::kLeft, ""}};
    r.parts = d.joined(rail, d.one_in(3) ? "union" : "");
    if (r.parts.size() == 1) d.rails.push_back(r.parts[0].id);
    d.spec.runs.push_back(r);
  }
  BoardSpec top{.id = "TOP",
                .through = {},
                .notches = {},
                .rests_on = {},
                .underside = {},
                .size = {(legs - 1) * (rail + d.corner_gap()) + 200, d.length(120, 300), 19},
                .facing = model::kUp,
                .reach = {},
                .corner = {},
                .hole = {},
                .fix = {},
                .strap = {}};
  top.corner = Vec3{-100, -top.size.y / 2, 0};
  d.spec.boards.push_back(top);
  if (!d.rails.empty() && d.one_in(3)) d.lay_on({d.rails.back()});
}

/// What may stop a shelf that goes along with a turning pipe: a tray laid on it, a bracket board on a wall beside it
/// that reaches over it or over the tray, a thread's length above or less; both or one.
void company(Draft& d) {
  std::vector<model::Board> shelves;
  try {
    const model::Frame frame = model::read_frame(yaml_of(d.spec), "draft.yaml");
    for (const model::Board& b : frame.boards) {
      if (!b.laid() && b.facing == model::kUp) shelves.push_back(b);
    }
    if (shelves.empty()) return;
    const model::Board& shelf = shelves[d.rng() % shelves.size()];
    double top = shelf.hi.z;
    BoardSpec add{.id = d.id("W"),
                  .through = {},
                  .notches = {},
                  .rests_on = {},
                  .underside = {},
                  .size = {90, 60, 19},
                  .facing = model::kUp,
                  .reach = {},
                  .corner = {},
                  .hole = {},
                  .fix = {},
                  .strap = {}};
    if (d.one_in(3)) {
      BoardSpec tray = add;
      tray.id = d.id("TRAY");
      tray.rests_on = {frame.part(shelf.part).id};
      tray.size = {30, 90, 25};
      tray.corner = Vec3{shelf.lo.x, shelf.lo.y, 0};
      d.spec.boards.push_back(tray);
      top += tray.size.z;
      if (d.one_in(3)) return;
    }
    // The shelf's edge is 50 mm or more from the middle of its first pipe: 30 mm of it are clear of every coupling.
    d.spec.surfaces.push_back({"side", model::kRight, shelf.lo.x - 60});
    add.underside = top + d.one_of<double>({1.5, 3.0, 5.0, 25.0, 25.0});
    add.corner = Vec3{shelf.lo.x - 60, shelf.lo.y + 10, 0};
    add.fix = {"side"};
    d.spec.boards.push_back(add);
  } catch (const model::InputError&) {
    return;  // told where the frame is read
  }
}

/// One or two poles from floor flanges with a shelf on a coupling, and something near it.
void pole(Draft& d) {
  d.spec.name = "random pole";
  d.spec.surfaces.push_back({"floor", model::kUp, 0.0});
  const int count = d.one_in(3) ? 2 : 1;
  const double low = d.length(80, 200), high = d.length(80, 260), gap = d.length(200, 380);
  std::vector<std::string> through;
  std::string carrier;
  for (int p = 0; p < count; ++p) {
    RunSpec r{.id = d.id("pole"),
              .from = LinkSpec{"floor", {}, ""},
              .at = Vec3{p * gap, 0, 0},
              .go = model::kUp,
              .parts = {},
              .to = {}};
    r.parts.push_back(d.plain("FL", "flange"));
    // The second coupling may stand lower than the first, which carries the shelf: that leaves it play.
    r.parts.push_back(d.pipe(p == 0 ? low : low - d.one_of<double>({0.0, 0.0, 3.0, 6.0, 20.0})));
    r.parts.push_back(d.plain("C", "coupling"));
    if (p == 0) carrier = r.parts.back().id;
    r.parts.push_back(d.pipe(high));
    through.push_back(r.parts.back().id);
    if (d.one_in(3)) r.parts.push_back(d.plain("K", d.one_of({"cap", "coupling"})));
    d.spec.runs.push_back(r);
  }
  BoardSpec b = d.board(through, 0.0, (count - 1) * gap);
  b.rests_on = {carrier};
  d.spec.boards.push_back(b);
  company(d);
}

bool wide_closure(const model::Frame& frame) {
  return std::any_of(frame.closures.begin(), frame.closures.end(),
                     [](const model::Closure& c) { return norm(c.gap) > 0.01; });
}

/// Turns the whole frame some way about z or over a mirror; on its side where nothing says which way is up.
Axes some_axes(Draft& d) {
  Axes axes;
  if (d.one_in(2)) axes = {axes.x, -axes.y, axes.z};
  for (int i = below(d.rng, 4); i > 0; --i) axes = {kQuarterTurn.of(axes.x), kQuarterTurn.of(axes.y), axes.z};
  const bool upright = std::any_of(d.spec.boards.begin(), d.spec.boards.end(),
                                   [](const BoardSpec& b) { return b.underside || b.corner; });
  if (!upright && d.one_in(4)) axes = {axes.z, axes.x, axes.y};
  return axes;
}

}  // namespace

int contact_count(const model::Frame& frame) {
  std::size_t n = frame.joints.size() + frame.fastenings.size();
  for (const model::Part& p : frame.parts) n += p.union_mate != model::kNone && p.id.ends_with("~a") ? 1U : 0U;
  for (const model::Board& b : frame.boards) n += b.laid() ? b.carriers.size() : b.holes.size();
  return static_cast<int>(n);
}

RandomFrame random_frame(std::uint32_t seed, FrameSize size, Rejects* rejects) {
  std::mt19937 rng(seed);
  NearHoles near_holes(seed);
  Rejects none;
  Rejects& count = rejects != nullptr ? *rejects : none;
  while (true) {
    Draft d(rng);
    RandomFrame out;
    constexpr std::array kFamilies{
        std::pair{"posts", &posts},   std::pair{"posts", &posts},   std::pair{"posts", &posts},
        std::pair{"ring", &ring},     std::pair{"ring", &ring},     std::pair{"ring", &ring},
        std::pair{"ladder", &ladder}, std::pair{"ladder", &ladder}, std::pair{"ladder", &ladder},
        std::pair{"tree", &tree},     std::pair{"arm", &arm},       std::pair{"table", &table},
        std::pair{"pole", &pole}};
    const auto& [family, draw] = kFamilies[rng() % kFamilies.size()];
    draw(d);
    if (d.one_in(3) && draw != &pole) company(d);
    out.family = family;
    out.spec = turned(d.spec, some_axes(d));
    out.near_hole = near_holes.draw(out.spec);
    // Every third takes a driver of its own, so that flanges come to lie in and out of its reach.
    if (seed % 3 == 0) out.spec.driver = 60.0 + 45.0 * (seed / 3 % 10);
    out.text = yaml_of(out.spec);
    try {
      out.frame = model::read_frame(out.text, "random.yaml");
    } catch (const model::InputError& error) {
      ++count.unreadable;
      count.last_fault = std::string(error.what()) + "\n" + out.text;
      continue;
    }
    const int contacts = contact_count(out.frame);
    if (contacts < size.least_contacts || contacts > size.most_contacts) {
      ++count.wrong_size;
      continue;
    }
    if (wide_closure(out.frame) || !overlaps(out.frame, 0.3).empty()) {
      ++count.overlapping;
      continue;
    }
    return out;
  }
}

}  // namespace dryfit::test

#include "tests/support/logic/frame_facts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <numbers>
#include <optional>
#include <set>

#include "model/geometry/at.hpp"
#include "model/geometry/convex.hpp"
#include "model/geometry/turn.hpp"
#include "planner/state/body_index.hpp"
#include "tests/support/oracle/sampled_motion.hpp"

namespace dryfit::test {
namespace {

using model::Board;
using model::kNone;
using model::kTouch;
using model::PartId;
using planner::Contact;
using planner::ContactId;
using planner::ContactKind;

/// Directions are numbered +x -x +y -y +z -z.
constexpr std::array<Direction, 6> kSix{model::kRight, model::kLeft, model::kBack,
                                        model::kFront, model::kUp,   model::kDown};

int number_of(Direction d) { return static_cast<int>(std::find(kSix.begin(), kSix.end(), d) - kSix.begin()); }

long long microns(double mm) { return std::llround(mm * 1000.0); }

double low(const Solid& s, Vec3 unit) { return -reach_along(s, -unit); }
double high(const Solid& s, Vec3 unit) { return reach_along(s, unit); }

/// The hole is wider by what counts as touching, give or take the rounding of a sum.
bool goes_through(const Solid& body, const model::Hole& hole) {
  return 2.0 * body.radius <= hole.diameter - kTouch + 1e-6;
}

class Writer {
 public:
  Writer(const model::Frame& frame, const planner::ContactList& list) : frame_(frame), list_(list) {
    for (const Board& b : frame.boards) woods_.push_back(wood_of(b));
  }

  std::string write() {
    fact("touch({})", microns(kTouch));
    graph();
    boards();
    for (ContactId c = 0; c < contacts(); ++c) {
      if (at(c).kind == ContactKind::thread) thread(c);
    }
    for (const Direction d : kSix) slides(d);
    for (int k = 0; k < kPositions; ++k) fact("position({})", k);
    for (ContactId c = 0; c < contacts(); ++c) {
      if (at(c).kind == ContactKind::fastening) screws(c);
    }
    return std::move(out_);
  }

 private:
  template <typename... Values>
  void fact(fmt::format_string<Values...> form, Values&&... values) {
    fmt::format_to(std::back_inserter(out_), form, std::forward<Values>(values)...);
    out_ += ".\n";
  }

  [[nodiscard]] ContactId contacts() const { return static_cast<ContactId>(list_.contacts.size()); }
  [[nodiscard]] PartId parts() const { return static_cast<PartId>(frame_.parts.size()); }
  [[nodiscard]] const Contact& at(ContactId c) const { return list_.contact(c); }
  [[nodiscard]] const std::vector<Solid>& bodies(PartId p) const { return frame_.part(p).solids; }
  /// A body of the part with its holes and slots open.
  [[nodiscard]] model::Thing thing(PartId p, const Solid& body) const {
    const int b = frame_.part(p).board;
    return {body, b == kNone ? nullptr : &woods_[dryfit::at(b)]};
  }
  [[nodiscard]] bool is_board(PartId p) const { return frame_.part(p).board != kNone; }
  [[nodiscard]] const Board& board(PartId p) const { return frame_.board_of(p); }
  [[nodiscard]] const model::Hole& hole(ContactId c) const { return board(at(c).a).holes[dryfit::at(at(c).hole)]; }
  [[nodiscard]] bool holed(ContactId c) const {
    return at(c).kind == ContactKind::hole || at(c).kind == ContactKind::notch;
  }
  [[nodiscard]] double touch(PartId a, PartId b) const { return frame_.part(a).union_mate == b ? 3.0 : kTouch; }
  /// The body is a cylinder about the contact's axis.
  [[nodiscard]] bool on_line(const Solid& body, ContactId c) const {
    return body.shape == Solid::Shape::cylinder && parallel(body.along, at(c).axis) &&
           norm(cross(body.a - at(c).on_axis, at(c).axis.unit())) < 0.05;
  }
  /// The hole contact of the board on whose axis the body lies, or kNone.
  [[nodiscard]] ContactId hole_round(PartId board_part, const Solid& body) const {
    for (ContactId c = 0; c < contacts(); ++c) {
      if (holed(c) && at(c).a == board_part && on_line(body, c)) return c;
    }
    return kNone;
  }
  [[nodiscard]] bool joined(PartId a, PartId b, ContactId thread) const {
    return (at(thread).a == a && at(thread).b == b) || (at(thread).a == b && at(thread).b == a);
  }

  void graph() {
    fact("room({})", list_.room());
    static constexpr const char* kWords[] = {"thread", "hole", "notch", "rest", "free", "free"};
    for (ContactId c = 0; c < contacts(); ++c) {
      const int a = list_.vertex(at(c).a), b = list_.vertex(at(c).b);
      fact("contact({0}). {1}({0}). ends({0},{2},{3}). edge({0},{2},{3}). edge({0},{3},{2}). at({0},{2}). at({0},{3})",
           c, kWords[static_cast<int>(at(c).kind)], a, b);
      if (at(c).kind == ContactKind::rest) fact("carries({},{})", c, b);
      for (const PartId p : {at(c).a, at(c).b}) {
        if (at(c).kind == ContactKind::fastening && p != model::kRoom && is_board(p)) {
          fact("fastens({},{}). secured({})", c, p, p);
        }
      }
      for (ContactId h = 0; h < contacts(); ++h) {
        if (at(c).kind != ContactKind::thread || !holed(h) || !parallel(at(h).axis, at(c).axis)) continue;
        fact("parallel({},{})", c, h);
        if (norm(cross(at(h).on_axis - at(c).on_axis, at(c).axis.unit())) < 0.05) fact("on({},{})", c, h);
      }
    }
    for (std::size_t i = 0; i < kSix.size(); ++i) fact("opposite({},{}). runs({},{})", i, i ^ 1U, i, i / 2);
  }

  void thread(ContactId j) {
    const model::Joint& joint = frame_.joint(at(j).joint);
    fact("engaged({},{})", j, microns(joint.engaged));
    if (at(j).axis.axis() == 2) fact("vertical({})", j);
    const model::Axis axis{at(j).on_axis, at(j).axis};
    for (const bool male : {true, false}) {
      const char end = male ? 'm' : 'f';
      const Direction out = male ? at(j).axis : -at(j).axis;
      const double shift = male ? joint.engaged : -joint.engaged;
      if (out.along_axis()) {
        fact("away({},{},{})", j, end, number_of(out));
        axis_gaps(j, out, joint.engaged);
      }
      const Vec3 face = frame_.part(joint.female).ports[dryfit::at(joint.female_port)].at;
      for (const Board& b : frame_.boards) {
        if (dot(frame_.part(b.part).centre - face, out.unit()) > 0.0) fact("in_front({},{},{})", j, end, b.part);
      }
      for (PartId x = 0; x < parts(); ++x) {
        if (turns_into_room(x, axis, shift)) fact("turn_room({},{},{})", j, end, x);
        for (PartId y = 0; y < parts(); ++y) {
          if (x != y && !joined(x, y, j) && turns_into(j, x, y, axis, shift)) {
            fact("turn_hit({},{},{},{})", j, end, x, y);
          }
        }
      }
    }
  }
  bool turns_into_room(PartId x, const model::Axis& axis, double shift) const {
    for (const model::Surface& s : frame_.surfaces) {
      const Vec3 n = s.normal.unit();
      for (const Solid& body : bodies(x)) {
        if (turn_reach(body, axis, shift, -n) + s.at * n[s.normal.axis()] >= kTouch) return true;
      }
    }
    return false;
  }
  /// A board with a hole or notch on the axis is judged by the float rule against what lies there.
  bool turns_into(ContactId j, PartId x, PartId y, const model::Axis& axis, double shift) const {
    const auto floats = [&](PartId b, const Solid& body) {
      if (!is_board(b)) return false;
      const ContactId h = hole_round(b, body);
      return h != kNone && at(h).line == at(j).line;
    };
    for (const Solid& a : bodies(x)) {
      for (const Solid& b : bodies(y)) {
        if (!floats(x, b) && !floats(y, a) && turn_hits(thing(x, a), thing(y, b), axis, shift, touch(x, y)))
          return true;
      }
    }
    return false;
  }

  void boards() {
    double farthest = 0.0;
    std::set<Direction> ways;
    for (const model::Joint& joint : frame_.joints) farthest = std::max(farthest, joint.engaged + kTouch);
    for (const Board& b : frame_.boards) {
      fact("board({})", b.part);
      if (b.laid()) fact("laid({})", b.part);
    }
    for (ContactId h = 0; h < contacts(); ++h) {
      if (at(h).kind == ContactKind::rest) goes_of_rest(h);
      if (!holed(h)) continue;
      fact("normal({0},{1}). line({0},{2})", h, at(h).axis.axis(), at(h).line);
      ways.insert({at(h).axis, -at(h).axis});
      if (at(h).kind == ContactKind::notch) push_of_notch(h);
      if (at(h).kind == ContactKind::hole) swings(h);
      if (at(h).kind == ContactKind::hole) asides(h);
    }
    for (const Direction d : ways) gaps(d, farthest);
    for (const Board& b : frame_.boards) board_hits(b);
    for (int i = 0; i < 16; ++i) fact("bar({})", i);
    for (const Board& b : frame_.boards) {
      if (b.laid()) cage(b);
    }
  }

  /// cage(B,Z,I,Y): with the lid at height Z, Y is bar I of the cage round the laid board B: its lid over the rim of
  /// an edge (0 to 3), or what bears it there (4 to 7), or stands beside the edge at a corner (8 to 15). cage_room: a
  /// surface.
  void cage(const Board& b) {
    const Solid plank = model::box(b.lo, b.hi);
    const Vec3 up = b.facing.unit();
    const double middle = 0.5 * (low(plank, up) + high(plank, up)), thick = high(plank, up) - low(plank, up);
    std::vector<std::pair<Solid, PartId>> near;
    for (PartId y = 0; y < parts(); ++y) {
      for (const Solid& body : bodies(y)) {
        const bool square = body.shape == Solid::Shape::box || body.along.along_axis();
        if (y != b.part && !b.lies_over(y) && square) near.emplace_back(body, y);
      }
    }
    for (const model::Surface& s : frame_.surfaces) {
      model::Bounds all{{-1e6, -1e6, -1e6}, {1e6, 1e6, 1e6}};
      (s.normal.x + s.normal.y + s.normal.z > 0 ? all.hi : all.lo)[s.normal.axis()] = s.at;
      near.emplace_back(model::box(all.lo, all.hi), model::kRoom);
    }
    std::vector<Direction> edges;
    double shorter = 1e6;
    for (const Direction d : kSix) {
      if (d.axis() == b.normal) continue;
      edges.push_back(d);
      shorter = std::min(shorter, high(plank, d.unit()) - low(plank, d.unit()));
    }
    std::set<double> lids;
    for (const auto& [body, y] : near) {
      const double under = low(body, up);
      if (under >= middle && under <= high(plank, up) + shorter / 4.0) lids.insert(under);
    }
    for (const double lid : lids) {
      fact("lid({},{}). faces({},{})", b.part, microns(lid), b.part, number_of(b.facing));
      for (std::size_t i = 0; i < edges.size(); ++i) {
        const Direction d = edges[i], left = edges[i < 2 ? 2 : 0], right = edges[i < 2 ? 3 : 1];
        const int edge = static_cast<int>(i);
        const double length = high(plank, d.unit()) - low(plank, d.unit());
        const auto over = [&](const Solid& body, double share) {
          return shares(body, plank, d, 0.0, share * length) && shares(body, plank, left, 0.0, 1e6);
        };
        for (const auto& [body, y] : near) {
          if (low(body, up) >= middle && low(body, up) <= lid && over(body, 0.125)) bar(b, lid, edge, y);
          const double gap = low(body, d.unit()) - high(plank, d.unit());
          if (gap < -kTouch || gap > shorter / 16.0 || low(body, up) > high(plank, up) - 0.25 * thick) continue;
          if (high(body, up) < lid - 0.5 * thick) continue;
          if (shares(body, plank, left, 0.1 * shorter, 0.35 * shorter)) bar(b, lid, 8 + 2 * edge, y);
          if (shares(body, plank, right, 0.1 * shorter, 0.35 * shorter)) bar(b, lid, 9 + 2 * edge, y);
        }
        for (const PartId y : b.carriers) {
          for (const Solid& body : bodies(y)) {
            if (high(body, up) > low(plank, up) - kTouch && over(body, 0.25)) bar(b, lid, 4 + edge, y);
          }
        }
      }
    }
  }
  /// The body lies beside what of the plank is so far behind its end towards d.
  [[nodiscard]] static bool shares(const Solid& body, const Solid& plank, Direction d, double from, double to) {
    const double end = high(plank, d.unit()), other_end = low(plank, d.unit());
    return std::min(high(body, d.unit()), end - from) - std::max({low(body, d.unit()), end - to, other_end}) > kTouch;
  }
  void bar(const Board& b, double lid, int number, PartId y) {
    if (y == model::kRoom) {
      fact("cage_room({},{},{})", b.part, microns(lid), number);
    } else {
      fact("cage({},{},{},{})", b.part, microns(lid), number, y);
    }
  }

  /// gap(X,Y,D,T) and room_gap(X,D,T), as far as any thread is long.
  void gaps(Direction d, double farthest) {
    for (PartId x = 0; x < parts(); ++x) {
      for (PartId y = 0; y < parts(); ++y) {
        const double gap = x == y || drawn_out(x, y, d) ? farthest : gap_of(x, y, d, farthest);
        if (gap < farthest) fact("gap({},{},{},{})", x, y, number_of(d), microns(gap));
      }
      for (const model::Surface& s : frame_.surfaces) {
        if (s.normal != -d) continue;
        const double skin = -s.at * s.normal.unit()[s.normal.axis()];
        for (const Solid& body : bodies(x)) {
          const double gap = std::max(0.0, skin - high(body, d.unit()));
          if (gap < farthest) fact("room_gap({},{},{})", x, number_of(d), microns(gap));
        }
      }
    }
  }
  void axis_gaps(ContactId j, Direction d, double farthest) {
    for (PartId x = 0; x < parts(); ++x) {
      for (PartId y = 0; y < parts(); ++y) {
        if (x == y || drawn_out(x, y, d)) continue;
        const double gap = gap_of(x, y, d, farthest, j);
        if (gap < farthest) fact("axis_gap({},{},{},{},{})", j, x, y, number_of(d), microns(gap));
      }
    }
  }
  /// With `j`, of bodies of which one lies on its axis.
  double gap_of(PartId x, PartId y, Direction d, double farthest, ContactId j = kNone) const {
    double least = farthest;
    const double sprung = frame_.part(x).union_mate == y ? touch(x, y) : 0.0;
    for (const Solid& a : bodies(x)) {
      for (const Solid& b : bodies(y)) {
        if (j != kNone && !on_line(a, j) && !on_line(b, j)) continue;
        if (lies_on(x, y, d) || lies_on(y, x, -d)) continue;
        const auto over = past_hole(x, a, b, d, farthest), under = past_hole(y, b, a, -d, farthest);
        const double gap = over    ? *over
                           : under ? *under
                                   : sprung + free_travel(thing(x, a), thing(y, b), d, farthest, touch(x, y));
        least = std::min(least, gap);
      }
    }
    return least;
  }
  /// The board x against a body on the line of one of its holes along d; nothing when there is none.
  std::optional<double> past_hole(PartId x, const Solid& plank, const Solid& body, Direction d, double farthest) const {
    if (!is_board(x) || board(x).normal != d.axis()) return std::nullopt;
    const ContactId h = hole_round(x, body);
    if (h == kNone) return std::nullopt;
    const double face = high(plank, d.unit());
    if (goes_through(body, hole(h)) || high(body, d.unit()) <= face + kTouch) return farthest;
    return std::clamp(low(body, d.unit()) - face, 0.0, farthest);
  }

  /// goes(C,D,L): to leave what C ties it to, the board goes D by L.
  void goes(ContactId c, Direction d, double length) {
    fact("goes({},{},{})", c, number_of(d), microns(length));
    lengths_[dryfit::at(number_of(d))].insert(length);
    of_board_[{at(c).a, number_of(d)}].insert(length);
  }
  double past(ContactId c, Direction d) const {
    const Board& b = board(at(c).a);
    double length = 0.0;
    for (const Solid& body : bodies(at(c).b)) {
      length = std::max(length, high(body, d.unit()) - low(model::box(b.lo, b.hi), d.unit()));
    }
    return length;
  }
  void goes_of_rest(ContactId c) {
    const Board& b = board(at(c).a);
    constexpr double kLift = 50.0;
    for (const Direction d : kSix) {
      if (d == b.facing) goes(c, d, kLift);
      if (d.axis() != b.normal) goes(c, d, past(c, d));
    }
  }
  /// How far the board goes against its open side, or the pipe out of it.
  void push_of_notch(ContactId c) {
    const double length = past(c, -hole(c).open);
    fact("opens({},{}). push_length({},{})", c, number_of(hole(c).open), c, microns(length));
    for (const Direction d : {hole(c).open, -hole(c).open}) {
      lengths_[static_cast<std::size_t>(number_of(d))].insert(length);
      pushes_[static_cast<std::size_t>(number_of(d))].insert(length);
    }
  }

  /// A body on the axis of a hole or slot that is wide enough for it, or kNone.
  ContactId passes(PartId board_part, const Solid& body) const {
    const ContactId h = hole_round(board_part, body);
    return h != kNone && goes_through(body, hole(h)) ? h : kNone;
  }
  /// The pipe stands in a slot of the board with too little play to come out.
  bool tight_in_slot(PartId board_part, const Solid& body) const {
    const ContactId h = is_board(board_part) ? hole_round(board_part, body) : kNone;
    return h != kNone && at(h).kind == ContactKind::notch && body.radius == bodies(at(h).b).front().radius &&
           !goes_through(body, hole(h));
  }
  /// Board `x` moved along d lies on its carrier `y` or leaves it, however high that is drawn.
  bool lies_on(PartId x, PartId y, Direction d) const {
    if (!is_board(x) || board(x).facing == -d) return false;
    const Board& b = board(x);
    return std::find(b.carriers.begin(), b.carriers.end(), y) != b.carriers.end();
  }

  void board_hits(const Board& b) {
    for (const Direction d : kSix) {
      for (const double length : of_board_[{b.part, number_of(d)}]) {
        for (PartId y = 0; y < parts(); ++y) {
          if (y == b.part) continue;
          std::set<ContactId> tags;
          for (const Solid& body : bodies(y)) {
            if (lies_on(b.part, y, d)) continue;
            for (const Solid& plank : bodies(b.part)) {
              if (model::hits(thing(b.part, plank), thing(y, body), d.unit() * length, kTouch))
                tags.insert(passes(b.part, body));
            }
          }
          for (const ContactId tag : tags) {
            fact("board_hit({},{},{},{},{})", b.part, y, number_of(d), microns(length), tag);
          }
        }
      }
    }
  }

  /// Until the pipe of the slot is clear of the board's outline, stepped through; nothing when a quarter does not do.
  std::optional<double> out_of(ContactId n, const TurnAxis& axis, int sense) const {
    const Board& b = board(at(n).a);
    const Solid outline = model::shrunk(model::box(b.lo, b.hi), kTouch);
    for (double angle = 0.0; angle < std::numbers::pi / 2.0; angle += 0.0005) {
      const bool in = std::any_of(bodies(at(n).b).begin(), bodies(at(n).b).end(), [&](const Solid& pipe) {
        return turned_slide_hits(outline, pipe, axis, sense * angle, {}, 0.0);
      });
      if (!in) return angle;
    }
    return std::nullopt;
  }

  /// The turns about one hole that free its board's slots, stepped through; independent of the planner's own test.
  void swings(ContactId h) {
    const Board& b = board(at(h).a);
    const TurnAxis axis{at(h).on_axis, kSix[static_cast<std::size_t>(2 * b.normal)]};
    for (ContactId n = 0; n < contacts(); ++n) {
      if (at(n).kind != ContactKind::notch || at(n).a != b.part) continue;
      // Turned one way the board's point at the pipe moves along axis x arm; the pipe comes out the other way.
      const double along = dot(cross(axis.along.unit(), at(n).on_axis - axis.point), hole(n).open.unit());
      if (std::abs(along) <= 1.0 || tight_in_slot(b.part, bodies(at(n).b).front())) continue;
      const int sense = along < 0 ? 1 : 2;
      const std::optional<double> out = out_of(n, axis, along < 0 ? 1 : -1);
      if (!out) continue;
      fact("sense({},{},{})", n, h, sense);
      swing_hits(n, h, sense, axis, (along < 0 ? 1.0 : -1.0) * *out);
    }
  }
  void swing_hits(ContactId n, ContactId h, int sense, const TurnAxis& axis, double angle) {
    const Board& b = board(at(h).a);
    for (PartId y = 0; y < parts(); ++y) {
      if (y == b.part || lies_on(b.part, y, b.facing)) continue;
      for (const Solid& body : bodies(y)) {
        if (on_line(body, h)) continue;
        const std::vector<Solid> planks = planner::boxes_of(b);
        if (std::any_of(planks.begin(), planks.end(),
                        [&](const Solid& plank) { return turn_hits_sampled(plank, body, axis, {}, angle, kTouch); })) {
          fact("swing_hit({},{},{},{},{})", n, h, sense, y, passes(b.part, body));
        }
      }
    }
    for (const model::Surface& s : frame_.surfaces) {
      const double skin = -s.at * s.normal.unit()[s.normal.axis()];
      if (turn_reach_sampled(model::box(b.lo, b.hi), axis, {}, angle, -s.normal.unit()) >= skin + kTouch) {
        fact("swing_room({},{},{})", n, h, sense);
      }
    }
  }

  /// What the board on hole `h` meets when it is turned to one of `kAngles` angles, there and on the turn to it.
  struct Option {
    std::set<PartId> met;  ///< kRoom stands for the surfaces
    [[nodiscard]] bool worse_than(const Option& other) const {
      return std::includes(met.begin(), met.end(), other.met.begin(), other.met.end());
    }
  };
  static constexpr int kAngles = 360;

  void asides(ContactId h) {
    const Board& b = board(at(h).a);
    const TurnAxis axis{at(h).on_axis, at(h).axis};
    for (const Direction d : {at(h).axis, -at(h).axis}) {
      const Vec3 unit = d.unit();
      double ahead = -1e300;
      for (const Solid& pipe : bodies(at(h).b)) ahead = std::max(ahead, high(pipe, unit));
      const Vec3 travel = unit * (ahead - low(model::box(b.lo, b.hi), unit));
      std::vector<Option> options;
      for (const int sense : {1, -1}) options_in_sense(h, axis, sense, d, travel, options);
      int number = 0;
      for (const Option& option : options) {
        const bool beaten = std::any_of(options.begin(), options.end(), [&](const Option& other) {
          return &other != &option && option.worse_than(other) && (!other.worse_than(option) || &other < &option);
        });
        if (beaten) continue;
        fact("aside({},{},{})", h, number_of(d), number);
        for (const PartId y : option.met) {
          if (y == model::kRoom) {
            fact("aside_room({},{},{})", h, number_of(d), number);
          } else {
            fact("aside_hit({},{},{},{})", h, number_of(d), number, y);
          }
        }
        ++number;
      }
    }
  }
  void options_in_sense(ContactId h, const TurnAxis& axis, int sense, Direction d, Vec3 travel,
                        std::vector<Option>& options) {
    const Board& b = board(at(h).a);
    const std::vector<Solid> planks = planner::boxes_of(b);
    std::vector<Option> at_angle(kAngles);
    std::vector<std::set<PartId>> in_place(kAngles);
    for (PartId y = 0; y < parts(); ++y) {
      if (y == b.part || lies_on(b.part, y, d)) continue;
      for (const Solid& body : bodies(y)) {
        if (on_line(body, h) || !within_reach(h, body)) continue;
        const double out_at = slot_exit(h, body, axis, sense);
        for (int i = 0; i < kAngles; ++i) {
          const double angle = 2.0 * std::numbers::pi * i / kAngles;
          const auto met = [&](Vec3 by) {
            return std::any_of(planks.begin(), planks.end(), [&](const Solid& plank) {
              return turned_slide_hits(plank, body, axis, sense * angle, by, kTouch);
            });
          };
          const auto k = static_cast<std::size_t>(i);
          if (!met(travel)) continue;
          at_angle[k].met.insert(y);
          if (angle >= out_at && !lies_on(b.part, y, b.facing) && met({})) in_place[k].insert(y);
        }
      }
    }
    for (int i = 0; i < kAngles; ++i) room_at(b, axis, sense, i, travel, at_angle, in_place);
    std::set<PartId> on_the_turn;
    std::set<std::set<PartId>> known;
    for (std::size_t i = 0; i < at_angle.size(); ++i) {
      on_the_turn.insert(in_place[i].begin(), in_place[i].end());
      at_angle[i].met.insert(on_the_turn.begin(), on_the_turn.end());
      if (known.insert(at_angle[i].met).second) options.push_back(at_angle[i]);
    }
  }
  void room_at(const Board& b, const TurnAxis& axis, int sense, int i, Vec3 travel, std::vector<Option>& at_angle,
               std::vector<std::set<PartId>>& in_place) const {
    for (const model::Surface& s : frame_.surfaces) {
      const Vec3 in = -s.normal.unit();
      const double skin = -s.at * s.normal.unit()[s.normal.axis()];
      double reach = -1e300;
      for (int corner = 0; corner < 8; ++corner) {
        const Vec3 p{(corner & 1) != 0 ? b.hi.x : b.lo.x, (corner & 2) != 0 ? b.hi.y : b.lo.y,
                     (corner & 4) != 0 ? b.hi.z : b.lo.z};
        reach = std::max(reach, dot(turned(p, axis, sense * 2.0 * std::numbers::pi * i / kAngles), in));
      }
      if (reach >= skin + kTouch) in_place[static_cast<std::size_t>(i)].insert(model::kRoom);
      if (reach + std::max(0.0, dot(travel, in)) >= skin + kTouch) {
        at_angle[static_cast<std::size_t>(i)].met.insert(model::kRoom);
      }
    }
  }
  [[nodiscard]] bool within_reach(ContactId h, const Solid& body) const {
    const Board& b = board(at(h).a);
    const double far = norm(b.hi - b.lo);
    const model::Bounds bounds = bounds_of(body);
    for (int k = 0; k < 3; ++k) {
      if (k != b.normal && (bounds.lo[k] > at(h).on_axis[k] + far || bounds.hi[k] < at(h).on_axis[k] - far))
        return false;
    }
    return true;
  }
  /// From which angle on a body that stands in a slot counts.
  double slot_exit(ContactId h, const Solid& body, const TurnAxis& axis, int sense) const {
    const ContactId n = passes(at(h).a, body);
    if (n == kNone || at(n).kind != ContactKind::notch) return 0.0;
    const double along = dot(cross(axis.along.unit(), at(n).on_axis - axis.point), hole(n).open.unit());
    if (std::abs(along) <= 1.0 || (along < 0 ? 1 : -1) != sense) return 0.0;
    return out_of(n, axis, sense).value_or(0.0);
  }

  // --- screws of flanges -------------------------------------------------------------------------------------------
  static constexpr int kPositions = 12;

  void screws(ContactId f) {
    using Kind = model::Fastening::Kind;
    const Kind kind = frame_.fastenings[static_cast<std::size_t>(at(f).fastening)].kind;
    if (kind != Kind::flange_to_surface && kind != Kind::flange_to_board) return;
    fact("flange({})", f);
    const model::Part& flange = frame_.parts[static_cast<std::size_t>(at(f).a)];
    const Direction out = flange.ports.front().facing;
    const double plate = norm(flange.solids.back().b - flange.solids.back().a);
    const TurnAxis run{flange.centre + out.unit() * plate, out};
    std::set<PartId> over;
    for (int k = 0; k < kPositions; ++k) {
      for (const Solid& bit : bits(flange, run, k)) over_bit(f, k, bit, run, over);
    }
    for (const PartId y : over) aside(f, y, run);
  }
  /// The ways of the four screws with the flange turned by `k` of twelve steps to the quarter.
  std::vector<Solid> bits(const model::Part& flange, const TurnAxis& run, int k) const {
    Vec3 zero{0, 0, 1};
    if (run.along.z != 0) zero = run.along.y == 0 ? Vec3{0, 1, 0} : Vec3{1, 0, 0};
    const double circle = flange.screw_circle / 2.0;
    const double radius = std::min(3.5, (circle - flange.solids.front().radius) / 2.0);
    std::vector<Solid> four;
    for (int screw = 0; screw < 4; ++screw) {
      const double angle = std::numbers::pi / 2.0 * (screw + static_cast<double>(k) / kPositions);
      four.push_back(model::cylinder(turned(run.point + zero * circle, run, angle), run.along, frame_.driver, radius));
    }
    return four;
  }
  [[nodiscard]] static bool round(const Solid& body, const TurnAxis& run) {
    return body.shape == Solid::Shape::cylinder && parallel(body.along, run.along) &&
           norm(cross(body.a - run.point, run.along.unit())) < 0.05;
  }
  void over_bit(ContactId f, int k, const Solid& bit, const TurnAxis& run, std::set<PartId>& over) {
    for (const model::Surface& s : frame_.surfaces) {
      if (high(bit, -s.normal.unit()) + s.at * s.normal.unit()[s.normal.axis()] >= kTouch) fact("near({},{})", f, k);
    }
    for (PartId y = 0; y < parts(); ++y) {
      if (y == at(f).a || y == at(f).b) continue;
      const bool own = std::any_of(bodies(y).begin(), bodies(y).end(), [&](const Solid& s) { return round(s, run); });
      const bool meets = std::any_of(bodies(y).begin(), bodies(y).end(), [&](const Solid& s) {
        return (!own || round(s, run)) && model::hits({bit}, thing(y, s));
      });
      if (!meets) continue;
      fact("over({},{},{})", f, k, y);
      over.insert(y);
    }
  }
  /// What keeps a board with holes along the screws from being pushed out of the way.
  void aside(ContactId f, PartId y, const TurnAxis& run) {
    if (!is_board(y) || board(y).holes.empty() || !parallel(board(y).facing, run.along)) return;
    fact("aside({},{})", f, y);
    asked(f, y, run);
    const Board& b = board(y);
    const double low_end = low(model::box(b.lo, b.hi), run.along.unit());
    pushed(f, fmt::format("{}", y), b, dot(run.point, run.along.unit()) + frame_.driver - low_end, run);
  }
  /// The same by a name K for the board and the length: keeps(F,K,Z), keeps_room(F,K); pushes(F,K,Z,M): it pushes the
  /// board Z on, which is then called M.
  void pushed(ContactId f, const std::string& k, const Board& b, double length, const TurnAxis& run) {
    const Vec3 unit = run.along.unit();
    const Solid plank = model::box(b.lo, b.hi);
    for (const model::Surface& s : frame_.surfaces) {
      const Vec3 in = -s.normal.unit();
      const double deep = high(plank, in) + std::max(0.0, length * dot(unit, in));
      if (deep + s.at * s.normal.unit()[s.normal.axis()] >= kTouch) fact("keeps_room({},{})", f, k);
    }
    for (PartId z = 0; z < parts(); ++z) {
      if (z == b.part || (carries(z, b.part) && b.facing == run.along)) continue;
      if (carries(b.part, z) && board(z).facing == -run.along) continue;
      if (!stops(b, plank, z, unit, length)) continue;
      fact("keeps({},{},{})", f, k, z);
      if (!is_board(z)) continue;
      asked(f, z, run);
      const double gap = low(model::box(board(z).lo, board(z).hi), unit) - high(plank, unit);
      const double rest = length - std::max(0.0, gap);
      if (!parallel(board(z).facing, run.along) || gap <= -kTouch || rest <= kTouch) continue;
      const std::string next = fmt::format("on({},{})", k, z);
      fact("pushes({},{},{},{})", f, k, z, next);
      pushed(f, next, board(z), rest, run);
    }
  }
  [[nodiscard]] bool carries(PartId carrier, PartId y) const {
    return is_board(y) &&
           std::find(board(y).carriers.begin(), board(y).carriers.end(), carrier) != board(y).carriers.end();
  }
  bool stops(const Board& b, const Solid& plank, PartId z, Vec3 unit, double length) const {
    return std::any_of(bodies(z).begin(), bodies(z).end(), [&](const Solid& body) {
      const ContactId h = hole_round(b.part, body);
      if (h == kNone) {
        return std::any_of(bodies(b.part).begin(), bodies(b.part).end(), [&](const Solid& wood) {
          return model::hits(thing(b.part, wood), thing(z, body), unit * length);
        });
      }
      return !goes_through(body, hole(h)) && high(body, unit) > high(plank, unit) + kTouch &&
             low(body, unit) < high(plank, unit) + length - kTouch;
    });
  }
  void asked(ContactId f, PartId y, const TurnAxis& run) {
    fact("asked({},{})", f, y);
    for (ContactId c = 0; c < contacts(); ++c) {
      if (holed(c) && at(c).a == y && parallel(at(c).axis, run.along)) fact("lengthways({},{},{})", f, y, c);
    }
  }

  /// travel(H,A,D,L): K with the board (A = b) or the pipe (p) of H goes D by L to part them.
  void slides(Direction d) {
    std::set<double>& lengths = lengths_[dryfit::at(number_of(d))];
    bool any = false;
    for (ContactId h = 0; h < contacts(); ++h) {
      if (!holed(h) || at(h).axis.axis() != d.axis()) continue;
      any = true;
      const auto [with_board, with_pipe] = past_part(h, d, at(h).b);
      fact("travel({0},b,{1},{2}). travel({0},p,{1},{3})", h, number_of(d), microns(with_board), microns(with_pipe));
      lengths.insert(with_board);
      lengths.insert(with_pipe);
      for (PartId y = 0; y < parts(); ++y) {
        if (y != at(h).b && slips_over(h, y)) beyond(h, d, y, lengths);
      }
    }
    // A piece that holds the room stays and the others go the other way: the same lengths against the surfaces.
    const std::set<double>& back = lengths_[dryfit::at(number_of(d)) ^ 1U];
    std::set<double> both = lengths;
    both.insert(back.begin(), back.end());
    for (ContactId h = 0; any && h < contacts(); ++h) {
      if (!holed(h) || at(h).axis.axis() != d.axis()) continue;
      for (const bool with_pipe : {false, true}) both.insert(length_back(h, d, with_pipe));
      for (PartId y = 0; y < parts(); ++y) {
        if (!slips_over(h, y)) continue;
        const auto [with_board, with_pipe] = past_part(h, -d, y);
        for (const double length : {with_board, with_pipe}) {
          if (length > 0.0) both.insert(length);
        }
      }
    }
    for (PartId x = 0; x < parts(); ++x) {
      into_room(x, d, both);
      for (PartId y = 0; any && y < parts(); ++y) {
        if (x == y || drawn_out(x, y, d)) continue;
        slide_of(x, y, d, lengths);
        in_line(x, y, d, both);
      }
    }
    for (ContactId h = 0; h < contacts(); ++h) {
      if (holed(h) && at(h).axis.axis() == d.axis()) too_wide(h, d, lengths);
    }
    const std::set<double>& pushes = pushes_[static_cast<std::size_t>(number_of(d))];
    for (PartId x = 0; !pushes.empty() && x < parts(); ++x) {
      for (PartId y = 0; y < parts(); ++y) {
        if (x != y && !drawn_out(x, y, d)) push_of(x, y, d, pushes);
      }
    }
  }
  /// The part lies on the line of the hole, and no body of it there is too wide.
  bool slips_over(ContactId h, PartId y) const {
    bool any = false, all = true;
    for (const Solid& body : bodies(y)) {
      if (!on_line(body, h)) continue;
      any = true;
      all = all && goes_through(body, hole(h));
    }
    return any && all && !is_board(y);
  }
  /// follows(G,C,X,Y): by the thread or nut C the run of G goes on from X in Y. beyond(G,A,D,Y,L): as travel, past Y.
  void beyond(ContactId h, Direction d, PartId y, std::set<double>& lengths) {
    const auto [with_board, with_pipe] = past_part(h, d, y);
    const auto tell = [&](char goes, double length) {
      if (length <= 0.0) return;  // it lies the other way
      fact("beyond({},{},{},{},{})", h, goes, number_of(d), y, microns(length));
      lengths.insert(length);
    };
    tell('b', with_board);
    tell('p', with_pipe);
    for (ContactId c = 0; c < contacts(); ++c) {
      const bool in_line =
          at(c).kind == ContactKind::nut || (at(c).kind == ContactKind::thread && at(c).line == at(h).line);
      if (!in_line || (at(c).a != y && at(c).b != y)) continue;
      fact("follows({},{},{},{})", h, c, at(c).a == y ? at(c).b : at(c).a, y);
    }
  }
  /// push_hit(X,Y,D,L,G,I): as slide_hit, for a way out of slots: G is the slot of X that the body of Y fits in, or I
  /// of Y.
  void push_of(PartId x, PartId y, Direction d, const std::set<double>& pushes) {
    std::map<std::pair<ContactId, ContactId>, double> first;
    if (lies_on(x, y, d) || lies_on(y, x, -d)) return;
    for (const Solid& a : bodies(x)) {
      for (const Solid& b : bodies(y)) {
        const std::pair tags{is_board(x) ? passes(x, b) : kNone, is_board(y) ? passes(y, a) : kNone};
        for (const double length : pushes) {
          const bool tight = tight_in_slot(x, b) || tight_in_slot(y, a);
          if (!tight && !model::hits(thing(x, a), thing(y, b), d.unit() * length, touch(x, y))) continue;
          const auto [known, fresh] = first.emplace(tags, length);
          if (!fresh) known->second = std::min(known->second, length);
          break;
        }
      }
    }
    for (const auto& [tags, length] : first) {
      fact("push_hit({},{},{},{},{},{})", x, y, number_of(d), microns(length), tags.first, tags.second);
    }
  }
  double length_back(ContactId h, Direction d, bool with_pipe) const {
    const auto [with_board, pipe_goes] = past_part(h, -d, at(h).b);
    return with_pipe ? pipe_goes : with_board;
  }
  /// How far along d the board of h goes until it is past a part, and the part until it is past the board.
  std::pair<double, double> past_part(ContactId h, Direction d, PartId part) const {
    const Vec3 unit = d.unit();
    const Solid plank = model::box(board(at(h).a).lo, board(at(h).a).hi);
    double ahead = -1e300, behind = 1e300;
    for (const Solid& body : bodies(part)) {
      ahead = std::max(ahead, high(body, unit));
      behind = std::min(behind, low(body, unit));
    }
    return {ahead - low(plank, unit), high(plank, unit) - behind};
  }
  void into_room(PartId x, Direction d, const std::set<double>& lengths) {
    for (const double length : lengths) {
      for (const model::Surface& s : frame_.surfaces) {
        const Vec3 in = -s.normal.unit();
        for (const Solid& body : bodies(x)) {
          const double depth =
              high(body, in) + std::max(0.0, length * dot(d.unit(), in)) + s.at * s.normal.unit()[s.normal.axis()];
          if (depth < kTouch) continue;
          fact("slide_room({},{},{})", x, number_of(d), microns(length));
          return;
        }
      }
    }
  }
  /// The two make up a thread, and `x` goes straight out of it.
  bool drawn_out(PartId x, PartId y, Direction d) const {
    for (ContactId c = 0; c < contacts(); ++c) {
      if (at(c).kind == ContactKind::thread && joined(x, y, c) && (at(c).a == x ? at(c).axis : -at(c).axis) == d) {
        return true;
      }
    }
    return false;
  }
  /// slide_hit(X,Y,D,L,G,I): X carried D hits Y from L on; pairs that lie on the axis of the hole G of X, or I of Y,
  /// are judged by diameter when that contact is left out.
  void slide_of(PartId x, PartId y, Direction d, const std::set<double>& lengths) {
    std::map<std::pair<ContactId, ContactId>, double> first;
    for (const Solid& a : bodies(x)) {
      for (const Solid& b : bodies(y)) {
        if (lies_on(x, y, d) || lies_on(y, x, -d)) continue;
        const std::pair tags{is_board(x) ? hole_round(x, b) : kNone, is_board(y) ? hole_round(y, a) : kNone};
        for (const double length : lengths) {
          const bool tight = tight_in_slot(x, b) || tight_in_slot(y, a);
          if (!tight && !model::hits(thing(x, a), thing(y, b), d.unit() * length, touch(x, y))) continue;
          const auto [known, fresh] = first.emplace(tags, length);
          if (!fresh) known->second = std::min(known->second, length);
          break;
        }
      }
    }
    for (const auto& [tags, length] : first) {
      fact("slide_hit({},{},{},{},{},{})", x, y, number_of(d), microns(length), tags.first, tags.second);
    }
  }
  /// line_hit(N,X,Y,D,L): of X carried D by L or more a body on the line N hits one of Y there.
  void in_line(PartId x, PartId y, Direction d, const std::set<double>& lengths) {
    std::set<int> told;
    for (ContactId h = 0; h < contacts(); ++h) {
      if (!holed(h) || at(h).axis.axis() != d.axis() || is_board(x) || is_board(y) || !told.insert(at(h).line).second)
        continue;
      for (const double length : lengths) {
        bool hit = false;
        for (const Solid& a : bodies(x)) {
          for (const Solid& b : bodies(y)) {
            if (!on_line(a, h) || !on_line(b, h)) continue;
            hit = hit || model::hits(thing(x, a), thing(y, b), d.unit() * length, touch(x, y));
          }
        }
        if (!hit) continue;
        fact("line_hit({},{},{},{},{})", at(h).line, x, y, number_of(d), microns(length));
        break;
      }
    }
  }
  /// wide(H,A,D,Y,L): while H's board (A = b) or pipe (p) is carried D by L or more, Y has to pass H and cannot.
  void too_wide(ContactId h, Direction d, const std::set<double>& lengths) {
    const Vec3 unit = d.unit();
    const Solid plank = model::box(board(at(h).a).lo, board(at(h).a).hi);
    for (PartId y = 0; y < parts(); ++y) {
      for (const bool board_goes : {true, false}) {
        const auto first = std::find_if(lengths.begin(), lengths.end(), [&](double length) {
          const double from = low(plank, unit) - (board_goes ? 0.0 : length);
          const double to = high(plank, unit) + (board_goes ? length : 0.0);
          return std::any_of(bodies(y).begin(), bodies(y).end(), [&](const Solid& body) {
            return on_line(body, h) && !goes_through(body, hole(h)) && low(body, unit) < to - kTouch &&
                   high(body, unit) > from + kTouch && !lies_on(at(h).a, y, board_goes ? d : -d);
          });
        });
        if (first == lengths.end()) continue;
        fact("wide({},{},{},{},{})", h, board_goes ? 'b' : 'p', number_of(d), y, microns(*first));
      }
    }
  }

  const model::Frame& frame_;
  const planner::ContactList& list_;
  std::vector<model::Wood> woods_;  ///< per board
  std::array<std::set<double>, 6> lengths_;
  std::array<std::set<double>, 6> pushes_;
  std::map<std::pair<PartId, int>, std::set<double>> of_board_;
  std::string out_;
};

}  // namespace

std::string frame_facts(const model::Frame& frame, const planner::ContactList& list) {
  return Writer(frame, list).write();
}

}  // namespace dryfit::test

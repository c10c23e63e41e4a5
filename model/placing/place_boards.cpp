#include "model/placing/place_boards.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "model/text/length_fault.hpp"
#include "model/text/messages.hpp"

namespace dryfit::model {
namespace {

bool positive(Direction d) { return d.x + d.y + d.z > 0; }

std::array<int, 2> plane_axes(int normal) { return {normal == 0 ? 1 : 0, normal == 2 ? 1 : 2}; }

/// Lowest corner along one axis, when `face` is the coordinate of the side that looks toward `side`.
double lowest(double face, Direction side, double size) { return positive(side) ? face - size : face; }

/// The point that `reach` is measured from.
Vec3 reference(const Placer& in, const BoardNames& names) {
  const PartId id = names.through.empty() ? names.carriers.front() : names.reach_from;
  const Part& part = in.part(id);
  // The middle of a union is where its halves meet.
  const Vec3 centre = part.union_mate == kNone ? part.centre : (part.centre + in.part(part.union_mate).centre) * 0.5;
  return centre + in.shift(id);
}

/// Where a flange on the board lies; its run is placed.
Vec3 flange_at(const Placer& in, const RunLink& link) { return link.local + in.offset[dryfit::at(link.run)]; }

/// Gathers the three coordinates of a board's lowest corner.
class BoardPlacer {
 public:
  BoardPlacer(Placer& in, int board)
      : in_(in),
        draft_(in.draft_board(board)),
        names_(in.assembly.board_names[dryfit::at(board)]),
        board_(in.frame.board(board)),
        flanges_(in.links_to_board[dryfit::at(board)]) {}

  bool run() {
    if (!across() || !height()) return false;
    for (int k = 0; k < 3; ++k) board_.lo[k] = *lo_[dryfit::at(k)];
    board_.hi = board_.lo + draft_.size;
    Part& part = in_.frame.part(board_.part);
    part.solids = {box(board_.lo, board_.hi)};
    part.centre = part.centre_of_mass = (board_.lo + board_.hi) * 0.5;
    in_.frame.placed_by[dryfit::at(board_.part)] = {parent_, kNone};
    for (const auto& [link, axes] : given_) in_.gave[dryfit::at(link)] = axes;
    return true;
  }

 private:
  void set(int axis, double value, PartId by = kNone) {
    lo_[dryfit::at(axis)] = value;
    board_.given_by[dryfit::at(axis)] = by;
  }

  bool across() {
    const auto axes = plane_axes(draft_.normal);
    if (draft_.at) {
      set(axes[0], (*draft_.at)[0]);
      set(axes[1], (*draft_.at)[1]);
      return true;
    }
    if (!draft_.reach.empty()) {
      const PartId from = names_.through.empty() ? names_.carriers.front() : names_.reach_from;
      if (!in_.placed(from)) return false;
      const Vec3 centre = reference(in_, names_);
      for (const DraftBoard::Reach& reach : draft_.reach) {
        const int axis = reach.side.axis();
        const double edge = positive(reach.side) ? centre[axis] + reach.distance : centre[axis] - reach.distance;
        set(axis, lowest(edge, reach.side, draft_.size[axis]), from);
      }
      parent_ = from;
      return true;
    }
    // Nothing of its own: the first flange screwed to it that says where.
    for (const int index : flanges_) {
      const RunLink& link = in_.assembly.links[dryfit::at(index)];
      if (!link.at || !in_.run_placed[dryfit::at(link.run)]) continue;
      const Vec3 at = flange_at(in_, link);
      const int axis = link.face.axis();
      std::array<bool, 3> used{false, false, false};
      const auto use = [&](int k, double value) {
        // A face that is square to the plane may give one axis of it and the height; the height is left to height().
        if (k == draft_.normal) return;
        set(k, value, link.part);
        used[dryfit::at(k)] = true;
      };
      use(axis, lowest(at[axis], link.face, draft_.size[axis]));
      use(axis == 0 ? 1 : 0, at[axis == 0 ? 1 : 0] - (*link.at)[0]);
      use(axis == 2 ? 1 : 2, at[axis == 2 ? 1 : 2] - (*link.at)[1]);
      given_.push_back({index, used});
      parent_ = link.part;
      return true;
    }
    return false;
  }

  bool height() {
    const int axis = draft_.normal;
    const Direction under = -draft_.facing;
    if (!names_.carriers.empty()) {
      const PartId carrier = names_.carriers.front();
      if (!in_.placed(carrier)) return false;
      set(axis, lowest(in_.outermost(carrier, draft_.facing), under, draft_.size[axis]), carrier);
      parent_ = carrier;
      return true;
    }
    if (draft_.height) {
      set(axis, lowest(*draft_.height, under, draft_.size[axis]));
      return true;
    }
    for (const int index : flanges_) {
      const RunLink& link = in_.assembly.links[dryfit::at(index)];
      if (!in_.run_placed[dryfit::at(link.run)]) continue;
      const bool on_face = link.face.axis() == axis;
      if (!on_face && !link.at) continue;
      const double at = flange_at(in_, link)[axis];
      if (on_face) {
        set(axis, lowest(at, link.face, draft_.size[axis]), link.part);
      } else {
        // On an edge, `at` counts from the lower side of the thickness; it names the lower axis first.
        set(axis, at - (*link.at)[axis == plane_axes(link.face.axis())[0] ? 0 : 1], link.part);
      }
      auto mine = std::find_if(given_.begin(), given_.end(), [&](const auto& g) { return g.first == index; });
      if (mine == given_.end()) mine = given_.insert(given_.end(), {index, {false, false, false}});
      mine->second[dryfit::at(axis)] = true;
      parent_ = link.part;
      return true;
    }
    return false;
  }

  Placer& in_;
  const DraftBoard& draft_;
  const BoardNames& names_;
  Board& board_;
  const std::vector<int>& flanges_;
  std::array<std::optional<double>, 3> lo_;
  PartId parent_ = kNone;
  std::vector<std::pair<int, std::array<bool, 3>>> given_;
};

Message edge_name(int axis, bool high) {
  if (axis == 0) return high ? message("right edge") : message("left edge");
  if (axis == 1) return high ? message("back edge") : message("front edge");
  return high ? message("upper edge") : message("lower edge");
}

/// On which side of the board a pipe's end lies, and how far.
Message off_board(int axis, bool high, const Message& by) {
  if (axis == 0) return high ? message("{} right of it", by) : message("{} left of it", by);
  if (axis == 1) return high ? message("{} behind it", by) : message("{} in front of it", by);
  return high ? message("{} above it", by) : message("{} below it", by);
}

/// On which side of which edge of the board a carrier lies, and how far.
Message off_edge(int axis, bool high, const Message& by) {
  if (axis == 0) return high ? message("{} right of its right edge", by) : message("{} left of its left edge", by);
  if (axis == 1) return high ? message("{} behind its back edge", by) : message("{} in front of its front edge", by);
  return high ? message("{} above its upper edge", by) : message("{} below its lower edge", by);
}

/// From where to where a part reaches along an axis.
struct Reach {
  double lo = 0.0, hi = 0.0;
};
Reach reach_of(const Placer& in, PartId id, int axis) {
  const Bounds bounds = bounds_of(in.part(id).solids.front());
  const double at = in.shift(id)[axis];
  return {bounds.lo[axis] + at, bounds.hi[axis] + at};
}

/// A pipe that ends flush with the face, or a hair below, still goes through.
constexpr double kFlush = 1.0;

/// The pipe that stands where that one was meant to: on its line, near it in the same run, and through the board.
/// kNone: there is none.
PartId pipe_meant(const Placer& in, const Board& board, PartId named) {
  constexpr std::ptrdiff_t kNear = 12;  // parts; farther ones are hardly mixed up
  const int normal = board.normal;
  const std::vector<PartId>& run = in.frame.runs[dryfit::at(in.part(named).run)].parts;
  const auto here = std::find(run.begin(), run.end(), named);
  const Vec3 line = in.part(named).centre + in.shift(named);
  const auto first = here - std::min(kNear, here - run.begin());
  const auto last = here + std::min(kNear, run.end() - here);
  const auto found = std::find_if(first, last, [&](PartId id) {
    const Part& part = in.part(id);
    if (part.kind != PartKind::pipe || part.ports[1].facing.axis() != normal) return false;
    if (!part.ports[1].facing.along_axis()) return false;
    const Vec3 centre = part.centre + in.shift(id);
    const Reach reach = reach_of(in, id, normal);
    bool beside = false;
    for (const int k : plane_axes(normal)) beside = beside || std::abs(centre[k] - line[k]) > kFlush;
    return !beside && reach.lo <= board.lo[normal] + kFlush && reach.hi >= board.hi[normal] - kFlush;
  });
  return found == last ? kNone : *found;
}

/// "it ends 2-1/4 in below it"; of a pipe that ends within the board how far it gets.
Message short_of(const Placer& in, const Board& board, const Reach& pipe) {
  const Units units = in.frame.units;
  const int axis = board.normal;
  const double under = board.lo[axis] - pipe.hi, over = pipe.lo - board.hi[axis];
  if (under >= 0.0) return message("it ends {}", off_board(axis, false, length_said(under, units, true)));
  if (over >= 0.0) return message("it begins {}", off_board(axis, true, length_said(over, units, true)));
  const double in_wood = std::min(pipe.hi, board.hi[axis]) - std::max(pipe.lo, board.lo[axis]);
  return message("it goes {} into it, and the board is {} thick", length_said(in_wood, units, true),
                 length_said(board.hi[axis] - board.lo[axis], units, true));
}

/// `slack`: how far the board's carriers disagree. Their closure tells that; pipes may be off by as much.
void finish_hole(Placer& in, const Board& board, Hole& hole, double slack, const Subject& subject) {
  const Part& pipe = in.part(hole.pipe);
  const Vec3 at = in.shift(hole.pipe);
  const int normal = board.normal;
  hole.centre = pipe.centre + at;
  hole.centre[normal] = (board.lo[normal] + board.hi[normal]) / 2.0;
  const Reach reach = reach_of(in, hole.pipe, normal);
  if (reach.lo > board.lo[normal] + kFlush + slack || reach.hi < board.hi[normal] - kFlush - slack) {
    const PartId meant = pipe_meant(in, board, hole.pipe);
    in.faults.add(hole.where, subject,
                  message("'{}' does not go through the board: {}{}", pipe.label, short_of(in, board, reach),
                          meant == kNone ? Message() : message("; did you mean '{}'?", in.part(meant).label)));
  }
  for (const int axis : plane_axes(normal)) {
    for (const bool high : {false, true}) {
      const double room = high ? board.hi[axis] - hole.centre[axis] : hole.centre[axis] - board.lo[axis];
      const bool open = hole.notch && hole.open.axis() == axis && positive(hole.open) == high;
      // A slot runs out over its open edge; the pipe itself must stand within the board.
      const double least = open ? 0.0 : hole.diameter / 2.0;
      if (room >= least) continue;
      in.faults.add(hole.where, subject,
                    message("the {} for '{}' breaks through the {} by {}: make the board larger there, or move it",
                            hole.notch ? message("notch") : message("hole"), pipe.label, edge_name(axis, high),
                            length_said(least - room, in.frame.units, true)));
    }
  }
}

/// Of a union the half that reaches farther; any other carrier is itself.
PartId half_in_touch(const Placer& in, PartId carrier, Direction facing) {
  const PartId mate = in.part(carrier).union_mate;
  if (mate == kNone) return carrier;
  const int axis = facing.axis();
  const auto reach = [&](PartId id) {
    const Bounds bounds = bounds_of(in.part(id).solids.front());
    return positive(facing) ? bounds.hi[axis] : -bounds.lo[axis];
  };
  return reach(mate) > reach(carrier) ? mate : carrier;
}

/// Returns the largest gap between the board and a further carrier.
double finish_carriers(Placer& in, Board& board, const DraftBoard& draft, const Subject& subject) {
  const int axis = board.normal;
  const double under = positive(board.facing) ? board.lo[axis] : board.hi[axis];
  double widest = 0.0;
  for (std::size_t i = 0; i < board.carriers.size(); ++i) {
    PartId& carrier = board.carriers[i];
    const PartId half = half_in_touch(in, carrier, board.facing);
    PlacedBy& by = in.frame.placed_by[dryfit::at(board.part)];
    if (by.parent == carrier) by.parent = half;
    std::replace(board.given_by.begin(), board.given_by.end(), carrier, half);
    carrier = half;
    const SourcePos where = draft.rests_on[i].where;
    for (const int k : plane_axes(axis)) {
      const Direction side = k == 0 ? kRight : k == 1 ? kBack : kUp;
      const double under = board.lo[k] - in.outermost(carrier, side), over = in.outermost(carrier, -side) - board.hi[k];
      if (under < 0.0 && over < 0.0) continue;
      const bool high = over >= 0.0;
      in.faults.add(
          where, subject,
          message("rests-on: '{}' can't carry the board: it lies {}. Make the board larger there, or move it "
                  "('{}')",
                  in.part(carrier).label, off_edge(k, high, length_said(high ? over : under, in.frame.units, true)),
                  draft.at ? "at" : "reach"));
      break;
    }
    if (i == 0) continue;
    Closure closure;
    closure.kind = Closure::Kind::carrier;
    closure.between = {in.part(board.part).label, in.part(carrier).label};
    closure.part = board.part;
    closure.other = carrier;
    closure.binds = {axis == 0, axis == 1, axis == 2};
    closure.gap[axis] = in.outermost(carrier, board.facing) - under;
    widest = std::max(widest, std::abs(closure.gap[axis]));
    closure.where = where;
    in.frame.closures.push_back(std::move(closure));
  }
  return widest;
}

}  // namespace

bool try_board(Placer& in, int board) {
  if (!BoardPlacer(in, board).run()) return false;
  in.board_placed[dryfit::at(board)] = true;
  return true;
}

bool tell_board_without_place(const DraftBoard& board, Faults& faults, const FlangesGive& flanges) {
  const Subject subject{"board", board.id};
  const bool across = board.at || !board.reach.empty() || flanges.across;
  const bool high = board.height || !board.rests_on.empty() || flanges.height;
  if (!across) {
    faults.add(board.where, subject,
               flanges.height
                   ? message("nothing says where it is from left to right and front to back: give 'at', its "
                             "left front corner as [x, y]")
                   : message("nothing says where it is from left to right and front to back: give 'reach' or "
                             "'at', or screw a flange to it"));
  }
  if (!high) {
    faults.add(board.where, subject,
               message("nothing says how high it is: give 'rests-on' or 'height', or screw a flange to it"));
  }
  return !across || !high;
}

void tell_unplaced_board(Placer& in, int board) {
  const DraftBoard& draft = in.draft_board(board);
  FlangesGive flanges;
  for (const int index : in.links_to_board[dryfit::at(board)]) {
    flanges.height = true;
    flanges.across = flanges.across || in.assembly.links[dryfit::at(index)].at.has_value();
  }
  if (!tell_board_without_place(draft, in.faults, flanges)) {
    in.faults.add(draft.where, {"board", draft.id}, message("what it hangs on has no place itself"));
  }
}

void finish_boards(Placer& in) {
  for (std::size_t b = 0; b < in.frame.boards.size(); ++b) {
    Board& board = in.frame.boards[b];
    const DraftBoard& draft = in.draft_board(static_cast<int>(b));
    const Subject subject{"board", draft.id};
    const double slack = finish_carriers(in, board, draft, subject);
    for (Hole& hole : board.holes) finish_hole(in, board, hole, slack, subject);
  }
  for (const Fastening& made : in.frame.fastenings) {
    if (made.kind != Fastening::Kind::board_to_surface) continue;
    const Board& board = in.frame.board(in.part(made.part).board);
    const Surface& surface = in.frame.surface(made.surface);
    const int axis = surface.normal.axis();
    // The side that looks at the surface lies on it.
    const double gap = surface.at - (positive(surface.normal) ? board.lo[axis] : board.hi[axis]);
    in.close_on_surface(Closure::Kind::board_fix, made.part, made.surface, gap, made.where);
  }
}

}  // namespace dryfit::model

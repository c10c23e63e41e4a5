#include "model/placing/place_runs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <functional>
#include <queue>

#include "model/placing/place_boards.hpp"

namespace dryfit::model {
namespace {

class RunPlacer {
 public:
  explicit RunPlacer(Placer& in) : in_(in), draft_(in.assembly.draft), by_rank_(in.rank.size()) {
    for (std::size_t r = 0; r < by_rank_.size(); ++r) by_rank_[dryfit::at(in.rank[r])] = r;
  }

  void run() {
    for (std::size_t b = 0; b < in_.frame.boards.size(); ++b) place_board(static_cast<int>(b));
    bool fixed = false;
    for (const std::size_t r : by_rank_) {
      if (!has_own_place(r)) continue;
      place_fixed(r, {false, false, false});
      fixed = true;
    }
    place_ready();
    const std::vector<bool> before = in_.run_placed;
    const int began = start_somewhere();
    // Beside runs that have a place one lone piece of work may begin at the origin; of several it would be a guess.
    const bool all = std::find(in_.run_placed.begin(), in_.run_placed.end(), false) == in_.run_placed.end();
    if (fixed && !all) in_.run_placed = before;
    if (fixed && all) in_.frame.lone_run = began;
    tell_unplaced();
  }

  /// After all parts have moved: every way that was not used.
  void close() {
    for (std::size_t i = 0; i < in_.assembly.links.size(); ++i) {
      const RunLink& link = in_.assembly.links[i];
      switch (link.kind) {
        case RunLink::Kind::joint: close_joint(link, i); break;
        case RunLink::Kind::surface: close_surface(link, i); break;
        case RunLink::Kind::board: close_board(link, i); break;
      }
    }
  }

 private:
  [[nodiscard]] const RunLink* link_of(std::size_t run, int which) const {
    const int index = in_.assembly.links_of_run[run][dryfit::at(which)];
    return index == kNone ? nullptr : &in_.assembly.links[dryfit::at(index)];
  }

  [[nodiscard]] bool begins_at_surface(std::size_t run) const {
    const RunLink* from = link_of(run, 0);
    return from != nullptr && from->kind == RunLink::Kind::surface;
  }

  [[nodiscard]] bool has_own_place(std::size_t run) const {
    const DraftRun& draft = draft_.runs[run];
    return draft.from ? begins_at_surface(run) && draft.at.size() == 2 : draft.at.size() == 3;
  }

  void place_ready() {
    while (!ready_.empty()) {
      const std::size_t run = by_rank_[dryfit::at(ready_.top())];
      ready_.pop();
      if (!in_.run_placed[run]) place_run(run);
    }
  }

  void place_fixed(std::size_t run, std::array<bool, 3> loose) {
    set_place(run, own_place(run), in_.frame.runs[run].parts.front(), {kNone, kNone, loose});
  }

  /// The first run that nothing places begins at [0, 0] of its surface, or at the origin. That run, or kNone.
  int start_somewhere() {
    const auto first =
        std::find_if(by_rank_.begin(), by_rank_.end(), [this](auto run) { return !in_.run_placed[run]; });
    if (first == by_rank_.end()) return kNone;
    place_fixed(*first, loose_axes(*first));
    place_ready();
    return static_cast<int>(*first);
  }

  void place_run(std::size_t run) {
    for (const int index : own_ways(run)) {
      if (index != kNone && place_by_own(run, index)) return;
    }
    for (const int index : in_.links_to_run[run]) {
      const RunLink& link = in_.assembly.links[dryfit::at(index)];
      if (!in_.run_placed[dryfit::at(link.run)]) continue;
      const Joint& joint = in_.frame.joint(link.joint);
      const PartId anchor = joint.male == link.part ? joint.female : joint.male;
      give(index, {true, true, true});
      set_place(run, by_joint(link, anchor), anchor, {link.part, link.joint});
      return;
    }
  }

  /// The run's own links: first the one to the run of the lower rank, whichever end of this one it is.
  [[nodiscard]] std::array<int, 2> own_ways(std::size_t run) const {
    std::array<int, 2> ways = in_.assembly.links_of_run[run];
    const RunLink* from = link_of(run, 0);
    const RunLink* to = link_of(run, 1);
    const auto joins = [](const RunLink* link) { return link != nullptr && link->kind == RunLink::Kind::joint; };
    if (!joins(from) || !joins(to)) return ways;
    if (in_.rank[dryfit::at(to->other_run)] < in_.rank[dryfit::at(from->other_run)]) std::swap(ways[0], ways[1]);
    return ways;
  }

  /// Coordinates that the file does not give of a run that begins without `at`.
  [[nodiscard]] std::array<bool, 3> loose_axes(std::size_t run) const {
    if (!begins_at_surface(run)) return {true, true, true};
    const Surface& surface = in_.frame.surface(link_of(run, 0)->surface);
    const int normal = surface.normal.axis();
    return {normal != 0, normal != 1, normal != 2};
  }

  [[nodiscard]] Vec3 own_place(std::size_t run) {
    const DraftRun& draft = draft_.runs[run];
    if (!begins_at_surface(run)) return draft.at.size() == 3 ? Vec3{draft.at[0], draft.at[1], draft.at[2]} : Vec3{};
    const RunLink& link = *link_of(run, 0);
    const Surface& surface = in_.frame.surface(link.surface);
    const int normal = surface.normal.axis();
    give(in_.assembly.links_of_run[run][0], {true, true, true});
    Vec3 at;
    at[normal] = surface.at;
    if (draft.at.size() == 2) {
      at[normal == 0 ? 1 : 0] = draft.at[0];
      at[normal == 2 ? 1 : 2] = draft.at[1];
    }
    return at;
  }

  bool place_by_own(std::size_t run, int index) {
    const RunLink& link = in_.assembly.links[dryfit::at(index)];
    if (link.kind == RunLink::Kind::joint) {
      if (dryfit::at(link.other_run) == run || !in_.run_placed[dryfit::at(link.other_run)]) {
        return false;
      }
      const Joint& joint = in_.frame.joint(link.joint);
      give(index, {true, true, true});
      set_place(run, by_joint(link, link.part), link.part,
                {joint.male == link.part ? joint.female : joint.male, link.joint});
      return true;
    }
    if (link.kind == RunLink::Kind::board && link.at && in_.board_placed[dryfit::at(link.board)]) {
      const Board& board = in_.frame.board(link.board);
      give(index, {true, true, true});
      set_place(run, on_face(board, link) - link.local, link.part, {board.part, kNone});
      return true;
    }
    return false;
  }

  /// Offset of the run of `moving`, so that the joint fits exactly.
  [[nodiscard]] Vec3 by_joint(const RunLink& link, PartId moving) const {
    const Joint& joint = in_.frame.joint(link.joint);
    const Vec3 gap = joint_gap(joint);  // with the present shifts; the moving run's is zero yet
    return joint.male == moving ? gap : -gap;
  }

  /// Where the port's face is, less where the male end says it should be.
  [[nodiscard]] Vec3 joint_gap(const Joint& joint) const {
    const Port& male = in_.part(joint.male).ports[dryfit::at(joint.male_port)];
    const Port& female = in_.part(joint.female).ports[dryfit::at(joint.female_port)];
    const Vec3 face = female.at + in_.shift(joint.female);
    const Vec3 wanted = male.at + in_.shift(joint.male) - male.facing.unit() * joint.engaged;
    return face - wanted;
  }

  /// The place on a board's face that `at` names.
  [[nodiscard]] static Vec3 on_face(const Board& board, const RunLink& link) {
    const int axis = link.face.axis();
    Vec3 at = board.lo;
    at[axis] = dot(link.face.unit(), {1, 1, 1}) > 0 ? board.hi[axis] : board.lo[axis];
    at[axis == 0 ? 1 : 0] += (*link.at)[0];
    at[axis == 2 ? 1 : 2] += (*link.at)[1];
    return at;
  }

  void give(int link, std::array<bool, 3> axes) { in_.gave[dryfit::at(link)] = axes; }

  void set_place(std::size_t run, Vec3 offset, PartId anchor, PlacedBy by) {
    in_.offset[run] = offset;
    in_.run_placed[run] = true;
    grow_tree(run, anchor, by);
    for (const int which : {0, 1}) {
      const RunLink* link = link_of(run, which);
      if (link != nullptr && link->kind == RunLink::Kind::joint) wake(link->other_run);
    }
    for (const int index : in_.links_to_run[run]) wake(in_.assembly.links[dryfit::at(index)].run);
    for (const int board : in_.boards_of_run[run]) place_board(board);
  }

  void wake(int run) {
    if (!in_.run_placed[dryfit::at(run)]) ready_.push(in_.rank[dryfit::at(run)]);
  }

  /// From the anchor outward along the run, every part hangs on its neighbour.
  void grow_tree(std::size_t run, PartId anchor, PlacedBy by) {
    const std::vector<PartId>& parts = in_.frame.runs[run].parts;
    const auto at = dryfit::at(anchor - parts.front());  // parts of a run are numbered in order
    auto& tree = in_.frame.placed_by;
    tree[dryfit::at(anchor)] = by;
    const auto joint_behind = [&](std::size_t i) {
      const Part& part = in_.part(parts[i]);
      if (part.union_mate == parts[i + 1]) return kNone;
      return part.ports[part.ports.size() == 1 ? 0 : 1].joint;
    };
    for (std::size_t i = at; i > 0; --i) tree[dryfit::at(parts[i - 1])] = {parts[i], joint_behind(i - 1)};
    for (std::size_t i = at; i + 1 < parts.size(); ++i) {
      tree[dryfit::at(parts[i + 1])] = {parts[i], joint_behind(i)};
    }
  }

  /// Places the board, then boards on it, when possible; wakes the runs that stand on it. Not recursive: boards can be
  /// stacked high.
  void place_board(int first) {
    std::vector<int> waiting{first};
    while (!waiting.empty()) {
      const int board = waiting.back();
      waiting.pop_back();
      const auto b = dryfit::at(board);
      if (in_.board_placed[b] || !try_board(in_, board)) continue;
      for (const int index : in_.links_to_board[b]) {
        const RunLink& link = in_.assembly.links[dryfit::at(index)];
        if (link.at) wake(link.run);
      }
      waiting.insert(waiting.end(), in_.boards_on_board[b].begin(), in_.boards_on_board[b].end());
    }
  }

  void tell_unplaced() {
    for (std::size_t r = 0; r < draft_.runs.size(); ++r) {
      if (in_.run_placed[r]) continue;
      tell_unplaced_run(draft_.runs[r], in_.faults);
    }
    for (std::size_t b = 0; b < in_.frame.boards.size(); ++b) {
      if (!in_.board_placed[b]) tell_unplaced_board(in_, static_cast<int>(b));
    }
  }

  void close_joint(const RunLink& link, std::size_t index) {
    if (in_.gave[index][0]) return;
    Joint& joint = in_.frame.joint(link.joint);
    joint.closing = true;
    Closure closure;
    closure.kind = Closure::Kind::joint;
    closure.between = {in_.part(joint.male).label, in_.part(joint.female).label};
    closure.joint = link.joint;
    closure.part = joint.male;
    closure.other = joint.female;
    closure.gap = joint_gap(joint);
    closure.where = link.where;
    in_.frame.closures.push_back(std::move(closure));
  }

  void close_surface(const RunLink& link, std::size_t index) {
    if (in_.gave[index][0]) return;
    const Surface& surface = in_.frame.surface(link.surface);
    const int axis = surface.normal.axis();
    const double gap = surface.at - (link.local + in_.offset[dryfit::at(link.run)])[axis];
    in_.close_on_surface(Closure::Kind::surface, link.part, link.surface, gap, link.where);
  }

  void close_board(const RunLink& link, std::size_t index) {
    const Board& board = in_.frame.board(link.board);
    const Vec3 at = link.local + in_.offset[dryfit::at(link.run)];
    const int axis = link.face.axis();
    for (int k = 0; k < 3; ++k) {
      if (k == axis || (at[k] >= board.lo[k] && at[k] <= board.hi[k])) continue;
      in_.faults.add(link.where, {"run", draft_.runs[dryfit::at(link.run)].id},
                     message("{}: the flange '{}' lies off the board '{}'", link.from ? "from" : "to",
                             in_.part(link.part).label, in_.part(board.part).label));
      return;
    }
    Closure closure;
    closure.kind = Closure::Kind::flange_to_board;
    closure.between = {in_.part(link.part).label, in_.part(board.part).label};
    closure.part = link.part;
    closure.other = board.part;
    closure.where = link.where;
    bool open = false;
    RunLink whole = link;
    if (!whole.at) whole.at = {0.0, 0.0};
    const Vec3 face = on_face(board, whole);
    for (int k = 0; k < 3; ++k) {
      const bool binds = (k == axis || link.at) && !in_.gave[index][dryfit::at(k)];
      closure.binds[dryfit::at(k)] = binds;
      if (binds) closure.gap[k] = face[k] - at[k];
      open |= binds;
    }
    if (open) in_.frame.closures.push_back(std::move(closure));
  }

  Placer& in_;
  const Draft& draft_;
  std::vector<std::size_t> by_rank_;                                  ///< runs, the lowest rank first
  std::priority_queue<int, std::vector<int>, std::greater<>> ready_;  ///< ranks
};

}  // namespace

void tell_unplaced_run(const DraftRun& run, Faults& faults) {
  faults.add(
      run.where, {"run", run.id},
      message("nothing says where it is: give 'at', or start or end it ('from', 'to') at a part that has a place"));
}

void place_all(Placer& in) { RunPlacer(in).run(); }

void close_runs(Placer& in) { RunPlacer(in).close(); }

}  // namespace dryfit::model

#include "model/placing/first_ways.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <string_view>
#include <unordered_map>

#include "model/geometry/at.hpp"
#include "model/placing/natural_order.hpp"

namespace dryfit::model {
namespace {

/// A way to look at a frame: x and y exchanged or not, then each turned about or not.
struct Look {
  bool swapped = false;
  std::array<int, 3> sign{1, 1, 1};

  /// The axis that becomes axis k.
  [[nodiscard]] int source(int k) const { return swapped && k < 2 ? 1 - k : k; }
  [[nodiscard]] Vec3 of(Vec3 p) const {
    Vec3 out;
    for (int k = 0; k < 3; ++k) out[k] = sign[dryfit::at(k)] * p[source(k)];
    return out;
  }
  [[nodiscard]] Direction of(Direction d) const {
    const int x = swapped ? d.y : d.x, y = swapped ? d.x : d.y;
    return {sign[0] * x, sign[1] * y, d.z};
  }
};

/// The draft as it is seen by that look. Only of a draft that has been put together without mistakes.
class SeenDraft {
 public:
  SeenDraft(const Draft& draft, const Look& look) : out_(draft), look_(look) {
    for (const Surface& surface : draft.surfaces) surfaces_.emplace(surface.id, &surface);
    for (const DraftBoard& board : draft.boards) boards_.emplace(board.id, &board);
    for (Surface& surface : out_.surfaces) see(surface);
    for (DraftRun& run : out_.runs) see(run);
    for (DraftBoard& board : out_.boards) see(board);
    for (const int axis : {0, 1}) begin_at_nought(axis);
  }
  [[nodiscard]] Draft take() && { return std::move(out_); }

 private:
  void see(Surface& surface) const {
    Vec3 point;
    point[surface.normal.axis()] = surface.at;
    surface.normal = look_.of(surface.normal);
    surface.at = look_.of(point)[surface.normal.axis()];
  }

  void see(std::optional<DraftLink>& link) const {
    if (!link) return;
    if (const auto facing = direction_named(link->suffix)) link->suffix = look_.of(*facing).name();
  }

  /// Two coordinates on a plane, lower axis first; `size`: what they are counted within, nothing for the room.
  void see_on_plane(std::vector<double>& at, int normal, const std::optional<Vec3>& size) const {
    Vec3 point, from_other_side;
    const int i = normal == 0 ? 1 : 0, j = normal == 2 ? 1 : 2;
    point[i] = at[0];
    point[j] = at[1];
    if (size) from_other_side = *size - point;
    const Vec3 seen = look_.of(point), other = look_.of(from_other_side);
    const int across = look_.source(normal);  // exchanging x and y is its own way back
    const auto coordinate = [&](int k) { return size && look_.sign[dryfit::at(k)] < 0 ? -other[k] : seen[k]; };
    at = {coordinate(across == 0 ? 1 : 0), coordinate(across == 2 ? 1 : 2)};
  }

  void see_place(DraftRun& run) const {
    if (run.at.size() == 3) {
      const Vec3 seen = look_.of(Vec3{run.at[0], run.at[1], run.at[2]});
      run.at = {seen.x, seen.y, seen.z};
      return;
    }
    if (run.at.size() != 2 || !run.from) return;
    if (const auto surface = surfaces_.find(run.from->target); surface != surfaces_.end()) {
      see_on_plane(run.at, surface->second->normal.axis(), std::nullopt);
    } else if (const auto board = boards_.find(run.from->target); board != boards_.end()) {
      const auto face = direction_named(run.from->suffix);
      if (face && face->along_axis()) see_on_plane(run.at, face->axis(), board->second->size);
    }
  }

  void see(DraftRun& run) const {
    see_place(run);
    see(run.from);
    see(run.to);
    if (run.go) run.go = look_.of(*run.go);
    for (DraftPart& part : run.parts) {
      part.turn = look_.of(part.turn);
      part.side = look_.of(part.side);
      if (part.plane_normal != kNone) part.plane_normal = look_.source(part.plane_normal);
    }
  }

  void see(DraftBoard& board) const {
    if (board.at) {
      std::vector<double> corner{(*board.at)[0], (*board.at)[1]};
      Vec3 low, high;
      const int i = board.normal == 0 ? 1 : 0, j = board.normal == 2 ? 1 : 2;
      low[i] = corner[0];
      low[j] = corner[1];
      high = low + board.size;
      const Vec3 one = look_.of(low), other = look_.of(high);
      const int across = look_.source(board.normal);
      const auto lowest = [&](int k) { return std::min(one[k], other[k]); };
      board.at = {lowest(across == 0 ? 1 : 0), lowest(across == 2 ? 1 : 2)};
    }
    for (DraftBoard::Reach& reach : board.reach) reach.side = look_.of(reach.side);
    std::sort(board.reach.begin(), board.reach.end(),
              [](const DraftBoard::Reach& a, const DraftBoard::Reach& b) { return a.side.axis() < b.side.axis(); });
    for (DraftBoard::Notch& notch : board.notches) notch.open = look_.of(notch.open);
    const Vec3 size = look_.of(board.size);
    board.size = {std::abs(size.x), std::abs(size.y), std::abs(size.z)};
    board.normal = look_.source(board.normal);
    board.facing = look_.of(board.facing);
  }

  /// Where a frame stands is no matter: its leftmost place is nought.
  void begin_at_nought(int axis) {
    std::vector<double*> all;
    for (Surface& surface : out_.surfaces) {
      if (surface.normal.axis() == axis) all.push_back(&surface.at);
    }
    for (DraftRun& run : out_.runs) {
      if (run.at.size() == 3) all.push_back(&run.at[dryfit::at(axis)]);
      if (run.at.size() != 2 || !run.from) continue;
      const auto surface = surfaces_.find(run.from->target);
      if (surface == surfaces_.end()) continue;
      const int normal = look_.of(surface->second->normal).axis();
      if (normal != axis) all.push_back(&run.at[axis == (normal == 0 ? 1 : 0) ? 0 : 1]);
    }
    for (DraftBoard& board : out_.boards) {
      if (board.at && board.normal != axis) all.push_back(&(*board.at)[axis == (board.normal == 0 ? 1 : 0) ? 0 : 1]);
    }
    double least = std::numeric_limits<double>::infinity();
    for (const double* place : all) least = std::min(least, *place);
    for (double* place : all) *place -= least;
  }

  Draft out_;
  const Look& look_;
  std::unordered_map<std::string_view, const Surface*> surfaces_;
  std::unordered_map<std::string_view, const DraftBoard*> boards_;
};

/// Lengths that are the same but for the last bits of a sum are the same.
void round_all(std::vector<double>& code) {
  constexpr double kGrain = 1e-5;
  for (double& value : code) value = std::round(value / kGrain) * kGrain + 0.0;
}

}  // namespace

std::vector<int> ranks_of_runs(const Draft& draft) {
  ReadOrder best;
  bool first = true;
  for (const bool swapped : {false, true}) {
    for (const int x : {1, -1}) {
      for (const int y : {1, -1}) {
        const Look look{swapped, {x, y, 1}};
        ReadOrder seen = read_order_of(SeenDraft(draft, look).take());
        round_all(seen.code);
        if (!first && seen.code >= best.code) continue;
        best = std::move(seen);
        first = false;
      }
    }
  }
  std::vector<int> ranks(draft.runs.size());
  for (std::size_t i = 0; i < best.runs.size(); ++i) ranks[dryfit::at(best.runs[i])] = static_cast<int>(i);
  return ranks;
}

}  // namespace dryfit::model

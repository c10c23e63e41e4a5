#include "planner/moves/caged.hpp"

#include <algorithm>
#include <array>
#include <limits>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

using model::Bounds;
using model::kNone;
using model::kRoom;
using model::Solid;

namespace {

constexpr double kEndless = std::numeric_limits<double>::infinity();

struct CageSpan {
  double from = -kEndless, to = kEndless;
  [[nodiscard]] double size() const { return to - from; }
  [[nodiscard]] double middle() const { return 0.5 * (from + to); }
  [[nodiscard]] bool meets(CageSpan other) const {
    return std::min(to, other.to) - std::max(from, other.from) > model::kTouch;
  }
};

/// Along the board's two edges, and the way it faces as up.
using Spans = std::array<CageSpan, 3>;

/// What may stand round the board.
struct Stander {
  Spans spans;
  PartId part = kRoom;
  int surface = kNone;
};

class CageView {
 public:
  CageView(const model::Board& board, const std::function<bool(PartId)>& counts)
      : board_(board), counts_(counts), spans_(seen(Bounds{board.lo, board.hi})) {}

  [[nodiscard]] Spans seen(const Bounds& bounds) const {
    Spans spans;
    for (const int k : {0, 1, 2}) {
      const int axis = (board_.normal + 1 + k) % 3;
      spans[at(k)] = {bounds.lo[axis], bounds.hi[axis]};
    }
    if (board_.facing.unit()[board_.normal] < 0.0) spans[2] = {-spans[2].to, -spans[2].from};
    return spans;
  }
  /// A surface fills all behind it.
  [[nodiscard]] Spans seen(const model::Surface& surface) const {
    Spans spans;
    const int axis = surface.normal.axis(), k = (axis - board_.normal + 2) % 3;
    const bool low = surface.normal.unit()[axis] > 0.0;
    spans[at(k)] = low ? CageSpan{-kEndless, surface.at} : CageSpan{surface.at, kEndless};
    if (k == 2 && board_.facing.unit()[board_.normal] < 0.0) spans[2] = {-spans[2].to, -spans[2].from};
    return spans;
  }
  [[nodiscard]] Bounds region() const {
    Bounds region{board_.lo, board_.hi};
    for (const int axis : {0, 1, 2}) {
      region.lo[axis] -= shorter() / 4.0;
      region.hi[axis] += shorter() / 4.0;
    }
    return region;
  }
  void add(Stander stander) { standers_.push_back(stander); }

  /// The lowest thing over the rim along an edge, or null.
  [[nodiscard]] const Stander* over(int k, bool low) const {
    const CageSpan edge = end_of(k, low, spans_[at(k)].size() / 8.0);
    const Stander* best = nullptr;
    for (const Stander& s : standers_) {
      const double under = s.spans[2].from;
      if (under < spans_[2].middle() || under > spans_[2].to + shorter() / 4.0) continue;
      if (!s.spans[at(k)].meets(edge) || !s.spans[at(1 - k)].meets(spans_[at(1 - k)])) continue;
      if (best != nullptr && best->spans[2].from <= under) continue;
      if (stays(s)) best = &s;
    }
    return best;
  }
  /// What stands beside an edge near one of its corners and reaches up to the lid, or null.
  [[nodiscard]] const Stander* beside(int k, bool low, bool low_corner, double lid) const {
    const double edge = low ? -spans_[at(k)].from : spans_[at(k)].to;
    const CageSpan& across = spans_[at(1 - k)];
    const double b = shorter();
    const CageSpan corner = low_corner ? CageSpan{across.from + 0.1 * b, across.from + 0.35 * b}
                                       : CageSpan{across.to - 0.35 * b, across.to - 0.1 * b};
    for (const Stander& s : standers_) {
      const double near = low ? -s.spans[at(k)].to : s.spans[at(k)].from;
      if (near < edge - model::kTouch || near > edge + b / 16.0 || !s.spans[at(1 - k)].meets(corner)) continue;
      const double thick = spans_[2].size();
      if (s.spans[2].from > spans_[2].to - 0.25 * thick || s.spans[2].to < lid - 0.5 * thick) continue;
      if (stays(s)) return &s;
    }
    return nullptr;
  }
  /// The body bears the board in the outer quarter at that edge.
  [[nodiscard]] bool bears(const Bounds& bounds, int k, bool low) const {
    const Spans body = seen(bounds);
    return body[2].to > spans_[2].from - model::kTouch && body[at(1 - k)].meets(spans_[at(1 - k)]) &&
           body[at(k)].meets(end_of(k, low, spans_[at(k)].size() / 4.0));
  }

 private:
  [[nodiscard]] double shorter() const { return std::min(spans_[0].size(), spans_[1].size()); }
  [[nodiscard]] CageSpan end_of(int k, bool low, double width) const {
    const CageSpan& all = spans_[at(k)];
    return low ? CageSpan{all.from, all.from + width} : CageSpan{all.to - width, all.to};
  }
  [[nodiscard]] bool stays(const Stander& s) const { return s.part == kRoom || counts_(s.part); }

  const model::Board& board_;
  const std::function<bool(PartId)>& counts_;
  Spans spans_;
  std::vector<Stander> standers_;
};

/// Boxes and what runs along an axis: of anything else the bounds are no body.
bool fills_its_bounds(const Solid& solid) { return solid.shape == Solid::Shape::box || solid.along.along_axis(); }

bool borne_all_round(const CageView& around, const BodyIndex& index, const std::vector<PartId>& carriers) {
  for (const int k : {0, 1}) {
    for (const bool low : {true, false}) {
      const bool borne = std::any_of(carriers.begin(), carriers.end(), [&](PartId p) {
        for (int i = index.first(p); i < index.last(p); ++i) {
          if (around.bears(bounds_of(index.bodies()[at(i)].solid), k, low)) return true;
        }
        return false;
      });
      if (!borne) return false;
    }
  }
  return true;
}

}  // namespace

std::optional<Cage> cage_round(const model::Frame& frame, const BodyIndex& index, const model::Board& board,
                               const std::vector<PartId>& carriers, bool room,
                               const std::function<bool(PartId)>& counts) {
  CageView around(board, counts);
  std::vector<int> near;
  index.find(around.region(), near);
  for (const int i : near) {
    const Body& body = index.bodies()[at(i)];
    if (body.part == board.part || board.lies_over(body.part) || !fills_its_bounds(body.solid)) continue;
    around.add({around.seen(bounds_of(body.solid)), body.part, kNone});
  }
  for (std::size_t s = 0; room && s < frame.surfaces.size(); ++s) {
    around.add({around.seen(frame.surfaces[s]), kRoom, static_cast<int>(s)});
  }
  Cage cage;
  const auto needs = [&](const Stander& s) {
    if (s.part == kRoom) cage.surfaces = true;
    if (s.part != kRoom) cage.parts.push_back(s.part);
  };
  double lid = -kEndless;
  for (const int k : {0, 1}) {
    for (const bool low : {true, false}) {
      const Stander* over = around.over(k, low);
      if (over == nullptr) return std::nullopt;
      needs(*over);
      if (over->spans[2].from <= lid) continue;
      lid = over->spans[2].from;
      cage.lid = over->part;
      cage.lid_surface = over->surface;
    }
  }
  if (!borne_all_round(around, index, carriers)) return std::nullopt;
  for (const int k : {0, 1}) {
    for (const bool low : {true, false}) {
      for (const bool low_corner : {true, false}) {
        const Stander* beside = around.beside(k, low, low_corner, lid);
        if (beside == nullptr) return std::nullopt;
        needs(*beside);
      }
    }
  }
  return cage;
}

}  // namespace dryfit::planner

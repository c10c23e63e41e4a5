#include "planner/state/left_out.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>
#include <utility>

#include "model/geometry/at.hpp"

namespace dryfit::planner {

using model::Direction;
using model::Frame;
using model::kNone;
using model::Part;
using model::PartKind;
using model::Vec3;

namespace {

constexpr double kLiesOn = 1.0;    ///< mm: what is this near to a face lies on it
constexpr double kOneAxis = 1.0;   ///< mm: an end this near to an outlet's axis stands on it
constexpr double kDeepest = 40.0;  ///< mm: deeper than any thread of a hand or a wrench goes in

/// The faces of all boards that look one way, by their place along it.
class BoardFaces {
 public:
  explicit BoardFaces(const Frame& frame) : frame_(&frame) {
    for (std::size_t b = 0; b < frame.boards.size(); ++b) {
      const model::Board& board = frame.boards[b];
      for (int axis = 0; axis < 3; ++axis) {
        faces_[at(2 * axis)].emplace_back(board.lo[axis], b);
        faces_[at(2 * axis + 1)].emplace_back(board.hi[axis], b);
      }
    }
    for (auto& list : faces_) std::sort(list.begin(), list.end());
  }

  /// The first board on whose face that looks along `face` the point lies, or kNone.
  [[nodiscard]] PartId under(Vec3 point, Direction face) const {
    const int axis = face.axis();
    const auto& list = faces_[at(2 * axis + (face.unit()[axis] > 0.0 ? 1 : 0))];
    auto next = std::lower_bound(list.begin(), list.end(), std::pair(point[axis] - kLiesOn, std::size_t{0}));
    for (; next != list.end() && next->first <= point[axis] + kLiesOn; ++next) {
      const model::Board& board = frame_->boards[next->second];
      bool beside = false;
      for (int other = 0; other < 3; ++other) {
        beside = beside || (other != axis && (point[other] < board.lo[other] || point[other] > board.hi[other]));
      }
      if (!beside) return board.part;
    }
    return kNone;
  }

 private:
  const Frame* frame_;
  std::array<std::vector<std::pair<double, std::size_t>>, 6> faces_;  ///< low and high ones of each axis
};

}  // namespace

std::vector<BareFlange> bare_flanges(const Frame& frame) {
  std::vector<char> screwed(frame.parts.size(), 0);
  for (const model::Fastening& made : frame.fastenings) screwed[at(made.part)] = 1;
  std::optional<BoardFaces> faces;  // most frames have no flange that asks for them
  std::vector<BareFlange> out;
  for (PartId id = 0; id < static_cast<PartId>(frame.parts.size()); ++id) {
    const Part& part = frame.part(id);
    if (part.kind != PartKind::flange || screwed[at(id)] != 0) continue;
    const Direction face = part.ports.front().facing;  // what it lies on looks the way its thread does
    if (face.axis() < 0) continue;
    BareFlange bare{id, kNone, kNone, face};
    for (int s = 0; s < static_cast<int>(frame.surfaces.size()) && bare.surface == kNone; ++s) {
      const model::Surface& surface = frame.surface(s);
      const double off = part.centre[face.axis()] - surface.at;
      if (surface.normal == face && std::abs(off) <= kLiesOn) bare.surface = s;
    }
    if (bare.surface == kNone) {
      if (!faces) faces.emplace(frame);
      bare.board = faces->under(part.centre, face);
    }
    if (bare.surface != kNone || bare.board != kNone) out.push_back(bare);
  }
  return out;
}

std::vector<BareEnd> bare_ends(const Frame& frame) {
  struct Outlet {
    double x = 0.0;
    PartId fitting = kNone;
    int port = 0;
  };
  std::vector<Outlet> outlets;
  for (PartId id = 0; id < static_cast<PartId>(frame.parts.size()); ++id) {
    const Part& part = frame.part(id);
    for (int p = 0; p < static_cast<int>(part.ports.size()); ++p) {
      const model::Port& port = part.ports[at(p)];
      if (!port.male && port.threaded && port.joint == kNone) outlets.push_back({port.at.x, id, p});
    }
  }
  std::stable_sort(outlets.begin(), outlets.end(), [](const Outlet& a, const Outlet& b) { return a.x < b.x; });
  std::vector<BareEnd> out;
  for (PartId id = 0; id < static_cast<PartId>(frame.parts.size()); ++id) {
    const Part& pipe = frame.part(id);
    if (pipe.kind != PartKind::pipe) continue;
    for (const model::Port& end : pipe.ports) {
      if (end.joint != kNone || !end.threaded) continue;
      auto next = std::lower_bound(outlets.begin(), outlets.end(), end.at.x - kDeepest,
                                   [](const Outlet& outlet, double x) { return outlet.x < x; });
      for (; next != outlets.end() && next->x <= end.at.x + kDeepest; ++next) {
        const model::Port& port = frame.part(next->fitting).ports[at(next->port)];
        if (port.size != end.size || port.facing != -end.facing) continue;
        const Vec3 in = end.at - port.at;
        const double depth = -dot(in, port.facing.unit());
        if (depth < -kOneAxis || depth > kDeepest) continue;
        if (norm(in + depth * port.facing.unit()) > kOneAxis) continue;
        out.push_back({id, next->fitting, next->port, depth});
        break;
      }
    }
  }
  return out;
}

}  // namespace dryfit::planner

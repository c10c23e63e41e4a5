#include "planner/judge/replay_scene.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "model/geometry/at.hpp"

namespace dryfit::planner::judge {
namespace {

using model::Board;
using model::Bounds;
using model::Direction;
using model::Solid;
using model::Vec3;

/// Edge of a grid cell, mm: about the length of a nipple and its fitting.
constexpr double kCell = 128.0;
/// Cells are counted from -kReach to kReach on each axis; what lies farther out shares the outermost ones.
constexpr long long kReach = 1LL << 20;
constexpr long long kMostCells = 1024;

struct CellRange {
  std::array<long long, 3> lo{};
  std::array<long long, 3> hi{};
  [[nodiscard]] double count() const {
    double n = 1.0;
    for (std::size_t i = 0; i < 3; ++i) n *= static_cast<double>(hi[i] - lo[i] + 1);
    return n;
  }
};

long long cell_at(double coordinate) {
  const double cell = std::floor(coordinate / kCell);
  return static_cast<long long>(std::clamp(cell, -static_cast<double>(kReach), static_cast<double>(kReach)));
}

CellRange cells_of(const Bounds& b) {
  return {{cell_at(b.lo.x), cell_at(b.lo.y), cell_at(b.lo.z)}, {cell_at(b.hi.x), cell_at(b.hi.y), cell_at(b.hi.z)}};
}

unsigned long long key_of(long long x, long long y, long long z) {
  const auto bits = [](long long v) { return static_cast<unsigned long long>(v + kReach); };
  return bits(x) << 42U | bits(y) << 21U | bits(z);
}

template <typename Visit>
void for_each_cell(const CellRange& r, Visit visit) {
  for (long long x = r.lo[0]; x <= r.hi[0]; ++x) {
    for (long long y = r.lo[1]; y <= r.hi[1]; ++y) {
      for (long long z = r.lo[2]; z <= r.hi[2]; ++z) visit(key_of(x, y, z));
    }
  }
}

bool meet(const Bounds& a, const Bounds& b) {
  for (int i = 0; i < 3; ++i) {
    if (a.hi[i] < b.lo[i] || b.hi[i] < a.lo[i]) return false;
  }
  return true;
}

/// What is left of `whole` when `cut` is taken out; both are boxes.
void subtract(const Solid& whole, const Bounds& cut, std::vector<Solid>& left) {
  if (!meet({whole.a, whole.b}, cut)) {
    left.push_back(whole);
    return;
  }
  Vec3 lo = whole.a, hi = whole.b;
  for (int i = 0; i < 3; ++i) {
    if (cut.lo[i] > lo[i]) {
      Vec3 top = hi;
      top[i] = cut.lo[i];
      left.push_back(model::box(lo, top));
      lo[i] = cut.lo[i];
    }
    if (cut.hi[i] < hi[i]) {
      Vec3 bottom = lo;
      bottom[i] = cut.hi[i];
      left.push_back(model::box(bottom, hi));
      hi[i] = cut.hi[i];
    }
  }
}

}  // namespace

bool hole_like(const Contact& contact) {
  return contact.kind == ContactKind::hole || contact.kind == ContactKind::notch;
}

bool coaxial(const Solid& solid, Vec3 point, Direction axis) {
  if (solid.shape != Solid::Shape::cylinder || !parallel(solid.along, axis)) return false;
  const Vec3 unit = axis.unit();
  const Vec3 off = solid.a - point;
  return norm(off - unit * dot(off, unit)) <= kCoaxial;
}

std::vector<Solid> board_bodies(const Board& board) {
  std::vector<Solid> boxes{model::box(board.lo, board.hi)};
  for (const model::Hole& hole : board.holes) {
    if (!hole.notch) continue;
    const int open = hole.open.axis();
    const double half = 0.5 * hole.diameter;
    Bounds slot{board.lo, board.hi};
    for (int i = 0; i < 3; ++i) {
      if (i == board.normal) continue;
      const bool to_lo_edge = i == open && dot(hole.open.unit(), Vec3{1, 1, 1}) < 0;
      const bool to_hi_edge = i == open && !to_lo_edge;
      if (!to_lo_edge) slot.lo[i] = std::max(board.lo[i], hole.centre[i] - half);
      if (!to_hi_edge) slot.hi[i] = std::min(board.hi[i], hole.centre[i] + half);
    }
    std::vector<Solid> left;
    for (const Solid& piece : boxes) subtract(piece, slot, left);
    boxes = std::move(left);
  }
  return boxes;
}

Bounds swept(Bounds bounds, Vec3 by) {
  for (int i = 0; i < 3; ++i) {
    bounds.lo[i] += std::min(0.0, by[i]);
    bounds.hi[i] += std::max(0.0, by[i]);
  }
  return bounds;
}

double depth_behind(const model::Surface& surface, double reach) {
  const double sign = dot(surface.normal.unit(), Vec3{1, 1, 1}) < 0 ? -1.0 : 1.0;
  return reach + sign * surface.at;
}

Scene::Scene(const model::Frame& frame, const ContactList& list) : frame_(&frame), list_(&list) {
  woods_.reserve(frame.boards.size());
  for (const Board& plank : frame.boards) woods_.push_back(wood_of(plank));
  first_body_.reserve(frame.parts.size() + 1);
  for (std::size_t p = 0; p < frame.parts.size(); ++p) {
    first_body_.push_back(bodies_.size());
    const auto id = static_cast<PartId>(p);
    const int of = part(id).board;
    const model::Wood* wood = of < 0 ? nullptr : &woods_[dryfit::at(of)];
    for (const Solid& solid : part(id).solids) bodies_.push_back({id, solid, bounds_of(solid), wood});
  }
  first_body_.push_back(bodies_.size());
  for (std::size_t i = 0; i < bodies_.size(); ++i) {
    const CellRange range = cells_of(bodies_[i].bounds);
    const int index = static_cast<int>(i);
    if (range.count() > static_cast<double>(kMostCells)) {
      wide_.push_back(index);
    } else {
      for_each_cell(range, [&](unsigned long long key) { cells_.push_back({key, index}); });
    }
  }
  std::sort(cells_.begin(), cells_.end());

  holes_on_.resize(dryfit::at(list.lines));
  for (std::size_t c = 0; c < list.contacts.size(); ++c) {
    if (!hole_like(list.contacts[c])) continue;
    holes_on_[dryfit::at(list.contacts[c].line)].push_back(static_cast<ContactId>(c));
  }
  std::vector<char> fastened(frame.parts.size(), 0);
  for (const model::Fastening& f : frame.fastenings) {
    if (f.part >= 0) fastened[dryfit::at(f.part)] = 1;
    if (f.other >= 0) fastened[dryfit::at(f.other)] = 1;
  }
  for (const Board& b : frame.boards) {
    if (b.laid() && fastened[dryfit::at(b.part)] == 0) loose_boards_.push_back(b.part);
  }
}

const Board* Scene::board(PartId id) const {
  const int index = part(id).board;
  return index < 0 ? nullptr : &frame_->board(index);
}

const model::Hole& Scene::hole(const Contact& contact) const {
  return board(contact.a)->holes[dryfit::at(contact.hole)];
}

std::span<const Body> Scene::bodies_of(PartId part) const {
  const std::size_t first = first_body_[dryfit::at(part)];
  return {bodies_.data() + first, first_body_[dryfit::at(part) + 1] - first};
}

std::vector<int> Scene::near(const Bounds& place) const {
  std::vector<int> found;
  const CellRange range = cells_of(place);
  if (range.count() > static_cast<double>(bodies_.size())) {
    for (std::size_t i = 0; i < bodies_.size(); ++i) {
      if (meet(bodies_[i].bounds, place)) found.push_back(static_cast<int>(i));
    }
    return found;
  }
  for_each_cell(range, [&](unsigned long long key) {
    for (auto it = std::lower_bound(cells_.begin(), cells_.end(), InCell{key, 0});
         it != cells_.end() && it->cell == key; ++it) {
      if (meet(body(it->body).bounds, place)) found.push_back(it->body);
    }
  });
  for (const int index : wide_) {
    if (meet(body(index).bounds, place)) found.push_back(index);
  }
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

const std::vector<ContactId>& Scene::holes_on(int line) const { return holes_on_[dryfit::at(line)]; }

}  // namespace dryfit::planner::judge

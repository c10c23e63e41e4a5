#include "planner/state/body_index.hpp"

#include <algorithm>
#include <boost/geometry.hpp>
#include <boost/geometry/index/rtree.hpp>

#include "model/geometry/at.hpp"
#include "planner/state/axis_lines.hpp"

namespace dryfit::planner {
namespace {

namespace bg = boost::geometry;
using BgPoint = bg::model::point<double, 3, bg::cs::cartesian>;
using BgBox = bg::model::box<BgPoint>;

using model::Bounds;
using model::Solid;
using model::Vec3;

BgBox to_box(const Bounds& b) { return {{b.lo.x, b.lo.y, b.lo.z}, {b.hi.x, b.hi.y, b.hi.z}}; }

/// `body` less the rectangle lo..hi over its whole thickness: up to four boxes.
void cut(std::vector<Solid>& boxes, const Solid& body, Vec3 lo, Vec3 hi) {
  Vec3 rest_lo = body.a, rest_hi = body.b;
  for (int axis = 0; axis < 3; ++axis) {
    if (hi[axis] <= rest_lo[axis] || lo[axis] >= rest_hi[axis]) {
      boxes.push_back(model::box(rest_lo, rest_hi));
      return;
    }
    if (lo[axis] > rest_lo[axis]) {
      Vec3 top = rest_hi;
      top[axis] = lo[axis];
      boxes.push_back(model::box(rest_lo, top));
      rest_lo[axis] = lo[axis];
    }
    if (hi[axis] < rest_hi[axis]) {
      Vec3 bottom = rest_lo;
      bottom[axis] = hi[axis];
      boxes.push_back(model::box(bottom, rest_hi));
      rest_hi[axis] = hi[axis];
    }
  }
}

}  // namespace

struct BodyIndex::Tree {
  bg::index::rtree<std::pair<BgBox, int>, bg::index::rstar<16>> rtree;
};

std::vector<Solid> boxes_of(const model::Board& board) {
  std::vector<Solid> boxes{model::box(board.lo, board.hi)};
  for (const model::Hole& hole : board.holes) {
    if (!hole.notch) continue;
    const int open_axis = hole.open.axis();
    const int across = 3 - open_axis - board.normal;
    Vec3 lo = board.lo, hi = board.hi;
    const double half = hole.diameter / 2.0;
    lo[across] = hole.centre[across] - half;
    hi[across] = hole.centre[across] + half;
    if (hole.open.unit()[open_axis] > 0) {
      lo[open_axis] = hole.centre[open_axis] - half;
    } else {
      hi[open_axis] = hole.centre[open_axis] + half;
    }
    // Past the faces, so that nothing thin is left over.
    lo[board.normal] -= 1.0;
    hi[board.normal] += 1.0;
    std::vector<Solid> next;
    for (const Solid& body : boxes) cut(next, body, lo, hi);
    boxes = std::move(next);
  }
  return boxes;
}

BodyIndex::BodyIndex(const model::Frame& frame, const ContactList& list) : tree_(std::make_unique<Tree>()) {
  first_.reserve(frame.parts.size() + 1);
  woods_.reserve(frame.boards.size());
  for (const model::Board& board : frame.boards) woods_.push_back(wood_of(board));
  for (std::size_t p = 0; p < frame.parts.size(); ++p) {
    first_.push_back(static_cast<int>(bodies_.size()));
    const model::Part& part = frame.parts[p];
    if (part.board != model::kNone) {
      const model::Wood& wood = woods_[dryfit::at(part.board)];
      bodies_.push_back({static_cast<PartId>(p), model::box(wood.lo, wood.hi), &wood});
    } else {
      for (const Solid& solid : part.solids) bodies_.push_back({static_cast<PartId>(p), solid, nullptr});
    }
  }
  first_.push_back(static_cast<int>(bodies_.size()));

  std::vector<std::pair<BgBox, int>> boxes;
  boxes.reserve(bodies_.size());
  for (std::size_t i = 0; i < bodies_.size(); ++i) {
    boxes.emplace_back(to_box(bounds_of(bodies_[i].solid)), static_cast<int>(i));
  }
  tree_->rtree = decltype(tree_->rtree)(boxes);

  // A body is on a line when it is a cylinder about it.
  on_line_.resize(at(list.lines));
  holes_on_.resize(at(list.lines));
  line_of_.assign(bodies_.size(), model::kNone);
  AxisLines lines;
  std::vector<char> seen(at(list.lines), 0);
  for (std::size_t c = 0; c < list.contacts.size(); ++c) {
    const Contact& contact = list.contacts[c];
    if (contact.line == model::kNone) continue;
    if (contact.kind != ContactKind::thread) {
      const int board = frame.part(contact.a).board;
      holes_on_[at(contact.line)].push_back({contact.a, board, contact.hole, static_cast<ContactId>(c)});
    }
    if (seen[at(contact.line)] != 0) continue;
    seen[at(contact.line)] = 1;
    lines.add(contact.on_axis, contact.axis, contact.line);
  }
  for (std::size_t i = 0; i < bodies_.size(); ++i) {
    const Solid& solid = bodies_[i].solid;
    if (solid.shape != Solid::Shape::cylinder) continue;
    line_of_[i] = lines.find(solid.a, solid.along);
    if (line_of_[i] != model::kNone) on_line_[at(line_of_[i])].push_back(static_cast<int>(i));
  }
  for (auto& line : on_line_) {
    std::sort(line.begin(), line.end(), [&](int p, int q) {
      const Solid& s = bodies_[at(p)].solid;
      const Solid& t = bodies_[at(q)].solid;
      const Vec3 unit = either_way(s.along).unit();
      const double ps = dot(s.a, unit), qs = dot(t.a, unit);
      return ps != qs ? ps < qs : p < q;
    });
  }
}

BodyIndex::~BodyIndex() = default;

bool BodyIndex::on_hole_line(PartId board, int body, int line) const {
  if (!is_on_line(body, line)) return false;
  const auto& holes = holes_on(line);
  return std::any_of(holes.begin(), holes.end(), [&](const HoleOnLine& h) { return h.board == board; });
}

void BodyIndex::find(const Bounds& box, std::vector<int>& found) const {
  found.clear();
  std::vector<std::pair<BgBox, int>> hits;
  tree_->rtree.query(bg::index::intersects(to_box(box)), std::back_inserter(hits));
  for (const auto& hit : hits) found.push_back(hit.second);
  std::sort(found.begin(), found.end());
}

}  // namespace dryfit::planner

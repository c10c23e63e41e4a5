#include "planner/state/links.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <set>
#include <utility>

#include "planner/state/loop_sums.hpp"

namespace dryfit::planner {

using model::kNone;
using model::kRoom;
using model::Vec3;

namespace {

constexpr double kFarOut = 1e6;               // mm: beyond all rooms
constexpr std::size_t kMostContacts = 2'000;  // larger frames are not looked at: their orders are not weighed either

/// Turned so that no line of a frame is seen end on, nor a corner upon an edge: by angles that are no fractions of
/// anything.
Vec3 seen(Vec3 p) {
  constexpr double kAngles[3] = {0.7318309886, 0.4271828182, 1.1141421356};
  for (int axis = 0; axis < 3; ++axis) {
    const double c = std::cos(kAngles[axis]), s = std::sin(kAngles[axis]);
    const int i = (axis + 1) % 3, k = (axis + 2) % 3;
    const double along = p[i];
    p[i] = c * along - s * p[k];
    p[k] = s * along + c * p[k];
  }
  return p;
}

double cross2(double ax, double ay, double bx, double by) { return ax * by - ay * bx; }

/// +1 or -1 where the first stretch crosses over the second, seen from above; else 0.
int crossing_over(Vec3 a, Vec3 b, Vec3 c, Vec3 d) {
  const double ux = b.x - a.x, uy = b.y - a.y, vx = d.x - c.x, vy = d.y - c.y;
  const double side = cross2(ux, uy, vx, vy);
  if (side == 0.0) return 0;
  const double s = cross2(c.x - a.x, c.y - a.y, vx, vy) / side, t = cross2(c.x - a.x, c.y - a.y, ux, uy) / side;
  if (s < 0.0 || s >= 1.0 || t < 0.0 || t >= 1.0) return 0;
  if (a.z + s * (b.z - a.z) < c.z + t * (d.z - c.z)) return 0;
  return side > 0.0 ? 1 : -1;
}

/// The straight line from `from` to `to` goes through the triangle.
bool pierces(Vec3 from, Vec3 to, const std::array<Vec3, 3>& triangle) {
  const Vec3 normal = cross(triangle[1] - triangle[0], triangle[2] - triangle[0]);
  const double before = dot(from - triangle[0], normal), after = dot(to - triangle[0], normal);
  if ((before > 0.0) == (after > 0.0)) return false;
  const Vec3 at = from + (to - from) * (before / (before - after));
  for (std::size_t i = 0; i < 3; ++i) {
    const Vec3 edge = triangle[(i + 1) % 3] - triangle[i];
    if (dot(cross(edge, at - triangle[i]), normal) < 0.0) return false;
  }
  return true;
}

/// Follows the loops of one frame along its parts.
class LoopWalk {
 public:
  LoopWalk(const model::Frame& frame, const ContactList& list) : frame_(frame), list_(list) {}

  /// The loop of contacts c[0], c[1], ..., where vertex v[i] lies between c[i] and c[i + 1], the last before c[0].
  [[nodiscard]] Loop follow(const std::vector<ContactId>& contacts, const std::vector<int>& vertices) const {
    Loop loop;
    for (std::size_t i = 0; i < contacts.size(); ++i) {
      const ContactId in = contacts[i], out = contacts[(i + 1) % contacts.size()];
      if (vertices[i] == list_.room()) {
        through_room(loop, in, out);
      } else {
        through_part(loop, vertices[i], in, out);
      }
    }
    loop.contacts = contacts;
    std::sort(loop.contacts.begin(), loop.contacts.end());
    return loop;
  }

 private:
  static void add(Loop& loop, Vec3 corner, PartId part) {
    loop.corners.push_back(corner);
    loop.of.push_back(part);
  }
  void through_part(Loop& loop, PartId part, ContactId in, ContactId out) const {
    const model::Part& one = frame_.part(part);
    add(loop, place_of(in), part);
    if (one.kind == model::PartKind::pipe) {  // along its axis and then off it, where a strap or a clip holds it
      for (const ContactId c : {in, out}) add(loop, on_axis(one, place_of(c)), part);
    } else if (one.kind == model::PartKind::board) {
      for (const ContactId c : {in, out}) add(loop, in_board(part, place_of(c)), part);
    } else {
      add(loop, one.centre, part);
    }
    add(loop, place_of(out), part);
  }
  /// Out through the wall, round everything, and in again.
  void through_room(Loop& loop, ContactId in, ContactId out) const {
    const Vec3 first = place_of(in), last = place_of(out);
    const Vec3 there = first - normal_of(in) * kFarOut, back = last - normal_of(out) * kFarOut;
    add(loop, first, kRoom);
    add(loop, there, kRoom);
    if (dot(normal_of(in), normal_of(out)) < 0.0) {
      const Vec3 n = normal_of(in);
      add(loop, Vec3{n.y, n.z, n.x} * (2.0 * kFarOut), kRoom);
    }
    add(loop, back, kRoom);
    add(loop, last, kRoom);
  }
  [[nodiscard]] Vec3 normal_of(ContactId c) const {
    const model::Fastening& f = frame_.fastening(contact(c).fastening);
    return frame_.surface(f.surface).normal.unit();
  }
  [[nodiscard]] const Contact& contact(ContactId c) const { return list_.contact(c); }
  [[nodiscard]] static Vec3 on_axis(const model::Part& pipe, Vec3 p) {
    const model::Solid& body = pipe.solids.front();
    const Vec3 along = body.along.unit();
    return body.a + along * dot(p - body.a, along);
  }
  [[nodiscard]] Vec3 in_board(PartId part, Vec3 p) const {
    const model::Board& board = frame_.board(frame_.part(part).board);
    for (int i = 0; i < 3; ++i) p[i] = std::clamp(p[i], board.lo[i], board.hi[i]);
    p[board.normal] = 0.5 * (board.lo[board.normal] + board.hi[board.normal]);
    return p;
  }
  /// Where a contact is.
  [[nodiscard]] Vec3 place_of(ContactId id) const {
    const Contact& c = contact(id);
    const model::Part& a = frame_.part(c.a);
    switch (c.kind) {
      case ContactKind::thread: {
        const model::Joint& joint = frame_.joint(c.joint);
        return frame_.part(joint.female).ports[at(joint.female_port)].at;
      }
      case ContactKind::nut: return (a.centre + frame_.part(c.b).centre) * 0.5;
      case ContactKind::hole:
      case ContactKind::notch:
      case ContactKind::rest: return c.on_axis;
      case ContactKind::fastening: break;
    }
    const model::Fastening& f = frame_.fastening(c.fastening);
    Vec3 at = a.centre;
    if (f.kind == model::Fastening::Kind::strap) at = in_board(c.a, frame_.part(c.b).centre);
    if (f.surface != kNone) {
      const model::Surface& surface = frame_.surface(f.surface);
      at[surface.normal.axis()] = surface.at;
    }
    return at;
  }

  const model::Frame& frame_;
  const ContactList& list_;
};

/// Whether the contact closes a loop as a link of a chain does: what only lies there does not.
bool ties(const Contact& c) { return c.kind != ContactKind::rest; }

/// A forest that spans the contacts, with those of the room or without, breadth first from the smallest vertices.
struct Forest {
  std::vector<ContactId> by;       ///< per vertex: the contact that leads to it from nearer the root, or kNone
  std::vector<int> from;           ///< per vertex: the vertex nearer the root
  std::vector<int> depth;          ///< per vertex
  std::vector<ContactId> closing;  ///< those that close a loop

  Forest(const ContactList& list, bool with_room)
      : by(list.at.size(), kNone), from(list.at.size(), kNone), depth(list.at.size(), -1) {
    std::vector<char> used(list.contacts.size(), 0);
    for (int root = 0; root <= list.room(); ++root) {
      if (depth[at(root)] >= 0) continue;
      depth[at(root)] = 0;
      std::vector<int> queue{root};
      for (std::size_t head = 0; head < queue.size(); ++head) {
        for (const ContactId c : list.at[at(queue[head])]) {
          const Contact& contact = list.contact(c);
          if (!ties(contact) || (contact.b == kRoom && !with_room)) continue;
          if (std::exchange(used[at(c)], 1) != 0) continue;
          const int a = list.vertex(contact.a), b = list.vertex(contact.b);
          const int next = a == queue[head] ? b : a;
          const auto n = at(next);
          if (depth[n] >= 0) {
            closing.push_back(c);
            continue;
          }
          depth[n] = depth[at(queue[head])] + 1;
          by[n] = c;
          from[n] = queue[head];
          queue.push_back(next);
        }
      }
    }
  }
};

/// The loop that a contact closes with the forest.
Loop loop_closed_by(const ContactList& list, const Forest& forest, const LoopWalk& walk, ContactId closing) {
  const Contact& c = list.contact(closing);
  int up = list.vertex(c.a), down = list.vertex(c.b);
  // From the closing contact up to where the two ways meet, and down again.
  std::vector<ContactId> there{closing}, back;
  std::vector<int> on_way, on_way_back{};
  while (up != down) {
    if (forest.depth[at(up)] >= forest.depth[at(down)]) {
      on_way.push_back(up);
      there.push_back(forest.by[at(up)]);
      up = forest.from[at(up)];
    } else {
      on_way_back.push_back(down);
      back.push_back(forest.by[at(down)]);
      down = forest.from[at(down)];
    }
  }
  on_way.push_back(up);
  on_way.insert(on_way.end(), on_way_back.rbegin(), on_way_back.rend());
  there.insert(there.end(), back.rbegin(), back.rend());
  return walk.follow(there, on_way);
}

PartId first_part(const Loop& loop) {
  PartId first = kNone;
  for (const PartId p : loop.of) {
    if (p != kRoom && (first == kNone || p < first)) first = p;
  }
  return first;
}

/// They share no part, and their bounds meet. Both through the room, they are one cluster whenever both are closed.
bool may_be_linked(const Loop& one, const Loop& other) {
  const std::set<PartId> parts(one.of.begin(), one.of.end());
  if (std::any_of(other.of.begin(), other.of.end(), [&](PartId p) { return parts.count(p) != 0; })) return false;
  for (int axis = 0; axis < 3; ++axis) {
    const auto along = [axis](const Vec3& a, const Vec3& b) { return a[axis] < b[axis]; };
    const auto [low, high] = std::minmax_element(one.corners.begin(), one.corners.end(), along);
    const auto [from, to] = std::minmax_element(other.corners.begin(), other.corners.end(), along);
    if ((*high)[axis] < (*from)[axis] || (*to)[axis] < (*low)[axis]) return false;
  }
  return true;
}

}  // namespace

int linking_number(const Loop& one, const Loop& other) {
  std::vector<Vec3> a, b;
  for (const Vec3& p : one.corners) a.push_back(seen(p));
  for (const Vec3& p : other.corners) b.push_back(seen(p));
  int sum = 0;
  for (std::size_t i = 0; i < a.size(); ++i) {
    for (std::size_t k = 0; k < b.size(); ++k) {
      sum += crossing_over(a[i], a[(i + 1) % a.size()], b[k], b[(k + 1) % b.size()]);
    }
  }
  return sum;
}

PartId part_through(const Loop& ring, const Loop& through) {
  for (std::size_t k = 0; k < through.corners.size(); ++k) {
    if (through.of[k] == kRoom) continue;
    const Vec3 from = through.corners[k], to = through.corners[(k + 1) % through.corners.size()];
    int times = 0;
    for (std::size_t i = 1; i + 1 < ring.corners.size(); ++i) {
      times += pierces(from, to, {ring.corners.front(), ring.corners[i], ring.corners[i + 1]}) ? 1 : 0;
    }
    if (times % 2 != 0) return through.of[k];
  }
  return kNone;
}

Links::Links(const model::Frame& frame, const ContactList& list) : list_(list) {
  if (list.contacts.size() > kMostContacts) return;
  const LoopWalk walk(frame, list);
  std::vector<Loop> loops;  // within the work, and those through the room besides
  const auto add_loop = [&](Loop loop) {
    const bool known =
        std::any_of(loops.begin(), loops.end(), [&](const Loop& other) { return other.contacts == loop.contacts; });
    if (!known) loops.push_back(std::move(loop));
  };
  for (const bool with_room : {false, true}) {
    const Forest forest(list, with_room);
    std::vector<std::vector<ContactId>> basis;
    for (const ContactId c : forest.closing) {
      Loop loop = loop_closed_by(list, forest, walk, c);
      basis.push_back(loop.contacts);
      add_loop(std::move(loop));
    }
    // A part in one mesh of two stays held when the rung between them is taken out.
    for (const WayRound& way : sums_of(list, basis)) add_loop(walk.follow(way.contacts, way.vertices));
  }
  for (std::size_t i = 0; i < loops.size(); ++i) {
    for (std::size_t k = i + 1; k < loops.size(); ++k) {
      if (!may_be_linked(loops[i], loops[k]) || linking_number(loops[i], loops[k]) == 0) continue;
      add_threading(loops[i], loops[k]);
      add_threading(loops[k], loops[i]);
    }
  }
}

/// Where the second loop goes through the first.
void Links::add_threading(const Loop& ring, const Loop& through) {
  // What the room closes, a part gets into from beside it: the other way round says all.
  if (std::find(ring.of.begin(), ring.of.end(), kRoom) != ring.of.end()) return;
  Threading threading;
  threading.ring = ring.contacts;
  threading.of_ring = first_part(ring);
  threading.through = part_through(ring, through);
  if (threading.through == kNone) return;
  std::size_t ends = 0;
  for (const ContactId c : through.contacts) {
    const Contact& contact = list_.contact(c);
    if (contact.a == threading.through || contact.b == threading.through) threading.ends[ends++ % 2] = c;
  }
  const bool known = std::any_of(threadings_.begin(), threadings_.end(), [&](const Threading& t) {
    return t.ring == threading.ring && t.through == threading.through;
  });
  if (!known) threadings_.push_back(std::move(threading));
}

bool Links::is_loose(const Threading& threading, const State& made) const {
  return made.made(threading.ends[0]) && made.made(threading.ends[1]) &&
         std::all_of(threading.ring.begin(), threading.ring.end(), [&](ContactId c) { return made.made(c); }) &&
         made.cluster(threading.of_ring) != made.cluster(threading.through);
}

std::vector<int> Links::linked_with(const State& made, int vertex) const {
  std::vector<int> linked;
  if (threadings_.empty()) return linked;
  std::vector<int> queue{vertex};
  const auto reached = [&](int v) {
    return std::any_of(queue.begin(), queue.end(), [&](int q) { return made.cluster(q) == made.cluster(v); });
  };
  for (std::size_t i = 0; i < queue.size(); ++i) {
    for (const Threading& t : threadings_) {
      if (!is_loose(t, made)) continue;
      for (const auto& [from, to] : {std::pair{t.of_ring, t.through}, std::pair{t.through, t.of_ring}}) {
        if (made.cluster(from) == made.cluster(queue[i]) && !reached(to)) queue.push_back(to);
      }
    }
  }
  linked.assign(queue.begin() + 1, queue.end());
  return linked;
}

}  // namespace dryfit::planner

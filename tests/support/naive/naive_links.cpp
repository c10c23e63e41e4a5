#include "tests/support/naive/naive_links.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

#include "model/geometry/at.hpp"
#include "tests/support/naive/naive_pieces.hpp"

namespace dryfit::test {
namespace {

using model::Vec3;
using planner::Contact;
using planner::ContactId;
using planner::ContactKind;
using planner::ContactList;
using planner::Move;
using planner::MoveKind;

/// A way round: vertex i lies between contacts i and i + 1, the last before the first.
struct Round {
  std::vector<ContactId> contacts;
  std::vector<int> vertices;
  [[nodiscard]] bool has(int vertex) const {
    return std::find(vertices.begin(), vertices.end(), vertex) != vertices.end();
  }
};

/// Every simple way round from a vertex through greater ones, each once in either sense.
class Rounds {
 public:
  explicit Rounds(const ContactList& list) : list_(list) {
    for (int start = 0; start <= list.room(); ++start) {
      start_ = start;
      on_way_.assign(list.at.size(), 0);
      go_on(start);
    }
  }
  std::vector<Round> found;

 private:
  void go_on(int vertex) {
    for (const ContactId c : list_.at[at(vertex)]) {
      const Contact& k = list_.contact(c);
      if (k.kind == ContactKind::rest || (!way_.contacts.empty() && way_.contacts.back() == c)) continue;
      const int next = list_.vertex(k.a) == vertex ? list_.vertex(k.b) : list_.vertex(k.a);
      if (next == start_ && !way_.contacts.empty()) {
        if (way_.contacts.front() > c) continue;  // the other sense, or the same once more
        Round round = way_;
        round.contacts.push_back(c);
        round.vertices.push_back(start_);
        found.push_back(std::move(round));
      } else if (next > start_ && on_way_[at(next)] == 0) {
        on_way_[at(next)] = 1;
        way_.contacts.push_back(c);
        way_.vertices.push_back(next);
        go_on(next);
        way_.contacts.pop_back();
        way_.vertices.pop_back();
        on_way_[at(next)] = 0;
      }
    }
  }

  const ContactList& list_;
  int start_ = 0;
  std::vector<char> on_way_;
  Round way_;
};

/// Where a contact is; the part that it is seen from gives what only it can say.
Vec3 place(const model::Frame& frame, const Contact& c, int part) {
  if (c.kind == ContactKind::thread) {
    const model::Joint& joint = frame.joint(c.joint);
    return frame.part(joint.female).ports[at(joint.female_port)].at;
  }
  if (c.kind == ContactKind::hole || c.kind == ContactKind::notch) return c.on_axis;
  if (c.kind == ContactKind::nut) return (frame.part(c.a).centre + frame.part(c.b).centre) * 0.5;
  const model::Part& pipe = frame.part(part);
  if (pipe.kind != model::PartKind::pipe) return frame.part(c.a).centre;  // a flange's face, a clip's board
  const int other = c.a == part ? c.b : c.a;
  const Vec3 beside = other == model::kRoom ? pipe.centre : frame.part(other).centre;
  const Vec3 along = pipe.solids.front().along.unit();
  return pipe.centre + along * dot(beside - pipe.centre, along);
}

/// The corners of a ring: from contact to contact by way of the middles of fittings. The room has none.
struct Outline {
  std::vector<Vec3> corners;
  std::vector<int> of;  ///< per corner: the part between it and the next, or the room's vertex
};

Outline outline_of(const model::Frame& frame, const ContactList& list, const Round& round) {
  Outline line;
  for (std::size_t i = 0; i < round.contacts.size(); ++i) {
    const int part = round.vertices[i];
    if (part == list.room()) continue;
    const Contact& in = list.contact(round.contacts[i]);
    const Contact& out = list.contact(round.contacts[(i + 1) % round.contacts.size()]);
    line.corners.push_back(place(frame, in, part));
    line.of.push_back(part);
    if (frame.part(part).kind != model::PartKind::pipe && frame.part(part).kind != model::PartKind::board) {
      line.corners.push_back(frame.part(part).centre);
      line.of.push_back(part);
    }
    line.corners.push_back(place(frame, out, part));
    line.of.push_back(list.room());  // to the next part: no way at all, or through the room
  }
  return line;
}

/// A flat ring as a polygon in its own plane.
class Disc {
 public:
  explicit Disc(const std::vector<Vec3>& corners) : middle_{} {
    for (const Vec3& p : corners) middle_ += p * (1.0 / static_cast<double>(corners.size()));
    Vec3 sum{};
    for (std::size_t i = 0; i < corners.size(); ++i) {
      sum += cross(corners[i] - middle_, corners[(i + 1) % corners.size()] - middle_);
    }
    flat_ = norm(sum) > 100.0;
    if (!flat_) return;
    up_ = sum * (1.0 / norm(sum));
    const Vec3 any = std::abs(up_.x) < 0.7 ? Vec3{1, 0, 0} : Vec3{0, 1, 0};
    const Vec3 u = cross(up_, any);
    u_ = u * (1.0 / norm(u));
    v_ = cross(up_, u_);
    for (const Vec3& p : corners) {
      flat_ = flat_ && std::abs(dot(p - middle_, up_)) < 10.0;
      corners_.emplace_back(dot(p - middle_, u_), dot(p - middle_, v_));
    }
  }
  /// +1 or -1 where the line from a to b goes through it, else 0.
  [[nodiscard]] int pierced(Vec3 a, Vec3 b) const {
    if (!flat_) return 0;
    const double before = dot(a - middle_, up_), after = dot(b - middle_, up_);
    if ((before > 0.0) == (after > 0.0)) return 0;
    const Vec3 at = a + (b - a) * (before / (before - after)) - middle_;
    return round_about(dot(at, u_), dot(at, v_)) ? (after > 0.0 ? 1 : -1) : 0;
  }

 private:
  /// The angles under which the sides are seen add up to a full turn.
  [[nodiscard]] bool round_about(double x, double y) const {
    double angle = 0.0;
    for (std::size_t i = 0; i < corners_.size(); ++i) {
      const double ax = corners_[i].first - x, ay = corners_[i].second - y;
      const double bx = corners_[(i + 1) % corners_.size()].first - x,
                   by = corners_[(i + 1) % corners_.size()].second - y;
      angle += std::atan2(ax * by - ay * bx, ax * bx + ay * by);
    }
    return std::abs(angle) > 3.0;
  }

  Vec3 middle_, up_{}, u_{}, v_{};
  std::vector<std::pair<double, double>> corners_;
  bool flat_ = false;
};

}  // namespace

NaiveLinks::NaiveLinks(const model::Frame& frame, const ContactList& list) : list_(list) {
  const Rounds rounds(list);
  for (const Round& ring : rounds.found) {
    if (ring.has(list.room())) continue;
    const Disc disc(outline_of(frame, list, ring).corners);
    for (const Round& other : rounds.found) {
      if (std::any_of(ring.vertices.begin(), ring.vertices.end(), [&](int v) { return other.has(v); })) continue;
      const Outline line = outline_of(frame, list, other);
      int times = 0, part = list.room();
      for (std::size_t i = 0; i < line.corners.size(); ++i) {
        const int here =
            line.of[i] == list.room() ? 0 : disc.pierced(line.corners[i], line.corners[(i + 1) % line.corners.size()]);
        times += here;
        if (here != 0 && part == list.room()) part = line.of[i];
      }
      if (times == 0) continue;
      NaiveThreading threading{{ring.contacts.begin(), ring.contacts.end()}, ring.vertices.front(), part, {}};
      for (const ContactId c : other.contacts) {
        if (list.contact(c).a == part || list.contact(c).b == part) threading.ends.insert(c);
      }
      threadings_.push_back(std::move(threading));
    }
  }
  const std::vector<char> all(list.contacts.size(), 1);
  held_in_the_end_ = std::any_of(threadings_.begin(), threadings_.end(),
                                 [&](const NaiveThreading& threading) { return holds(threading, all); });
}

bool NaiveLinks::holds(const NaiveThreading& threading, const std::vector<char>& made) const {
  const auto is_made = [&](ContactId c) { return made[at(c)] != 0; };
  return std::all_of(threading.ring.begin(), threading.ring.end(), is_made) &&
         std::all_of(threading.ends.begin(), threading.ends.end(), is_made) &&
         together(list_, made, threading.of_ring).count(threading.through) == 0;
}

std::set<int> NaiveLinks::held_with(const std::vector<char>& made, const std::set<int>& vertices) const {
  std::set<int> all;
  for (const int v : vertices) all.merge(together(list_, made, v));
  for (bool grows = true; grows;) {
    grows = false;
    for (const NaiveThreading& threading : threadings_) {
      if (!holds(threading, made)) continue;
      for (const auto& [here, there] :
           {std::pair{threading.of_ring, threading.through}, std::pair{threading.through, threading.of_ring}}) {
        if (all.count(here) == 0 || all.count(there) != 0) continue;
        all.merge(together(list_, made, there));
        grows = true;
      }
    }
  }
  return all;
}

double NaiveLinks::against(const std::vector<char>& made, const Move& move) const {
  const bool by_hand = move.kind == MoveKind::undo_nut || move.kind == MoveKind::unfasten;
  const auto undoes_any = [&](const std::set<ContactId>& of) {
    return std::any_of(move.contacts.begin(), move.contacts.end(), [&](ContactId c) { return of.count(c) != 0; });
  };
  double most = 0.0;
  for (const NaiveThreading& threading : threadings_) {
    if (!holds(threading, made)) continue;
    double here = 0.0;
    if (undoes_any(threading.ring)) {
      here = by_hand ? (held_in_the_end_ ? 0.0 : 200.0) : 1000.0;
    } else if (undoes_any(threading.ends)) {
      here = by_hand || move.moving.size() == 1 ? 400.0 : 1000.0;
    }
    most = std::max(most, here);
  }
  // Whatever turns or slides as one with a ring, or with what is in it, goes along in it.
  const std::set<int> own = together(list_, made, contact(list_, move.contacts.front()).a);
  const bool in_ring = held_with(made, own).size() > own.size();
  return !by_hand && move.moving.size() > 1 && in_ring ? 1000.0 : most;
}

}  // namespace dryfit::test

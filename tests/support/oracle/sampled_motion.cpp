#include "tests/support/oracle/sampled_motion.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>
#include <vector>

namespace dryfit::test {
namespace {

constexpr double kFullTurn = 2.0 * std::numbers::pi;
constexpr double kMeet = 0.01;  // mm: what is nearer meets
long long distances = 0;

/// Points are put through rotation and back so that a turned solid needs no new shape.
struct Turn {
  Vec3 point, unit;
  double cosine = 1.0, sine = 0.0;
  [[nodiscard]] Vec3 vector(Vec3 v) const {
    return v * cosine + cross(unit, v) * sine + unit * (dot(unit, v) * (1.0 - cosine));
  }
  [[nodiscard]] Vec3 back(Vec3 v) const {
    return v * cosine - cross(unit, v) * sine + unit * (dot(unit, v) * (1.0 - cosine));
  }
  [[nodiscard]] Vec3 at(Vec3 p) const { return point + vector(p - point); }
};

Turn turn_of(const TurnAxis& axis, double angle) {
  return {axis.point, axis.along.unit(), std::cos(angle), std::sin(angle)};
}

/// The point of the solid that lies farthest along v.
Vec3 support(const Solid& s, Vec3 v) {
  if (s.shape == Solid::Shape::box) {
    return {v.x >= 0 ? s.b.x : s.a.x, v.y >= 0 ? s.b.y : s.a.y, v.z >= 0 ? s.b.z : s.a.z};
  }
  if (s.shape == Solid::Shape::wedge) {
    const auto corners = model::corners_of(s);
    Vec3 best = corners[0];
    for (const Vec3 p : corners) best = dot(p, v) > dot(best, v) ? p : best;
    return best;
  }
  const Vec3 u = s.along.unit();
  const double lengthwise = dot(u, v);
  const Vec3 across = v - u * lengthwise;
  const double n = norm(across);
  const Vec3 end = lengthwise >= 0 ? s.b : s.a;
  return n > 1e-12 ? end + across * (s.radius / n) : end;
}

Vec3 middle_of(const Solid& s) { return (s.a + s.b) * 0.5; }

struct Simplex {
  std::array<Vec3, 4> at;
  std::size_t count = 0;
};

/// Nearest point to the origin of the hull of at most four points; points that do not carry it are dropped.
/// Tries every face: slow, but there is no case to get wrong.
Vec3 nearest(Simplex& points) {
  const std::size_t n = points.count;
  Vec3 best;
  double best_norm = -1.0;
  unsigned best_mask = 0;
  for (unsigned mask = 1; mask < (1U << n); ++mask) {
    std::array<Vec3, 4> p;
    std::size_t k = 0;
    for (std::size_t i = 0; i < n; ++i) {
      if ((mask >> i) & 1U) p[k++] = points.at[i];
    }
    // Minimise |p0 + sum l_i (p_i - p0)|: normal equations of size k-1, solved by elimination with pivots.
    std::array<std::array<double, 4>, 3> m{};
    const std::size_t q = k - 1;
    for (std::size_t i = 0; i < q; ++i) {
      for (std::size_t j = 0; j < q; ++j) m[i][j] = dot(p[i + 1] - p[0], p[j + 1] - p[0]);
      m[i][3] = -dot(p[i + 1] - p[0], p[0]);
    }
    // A face so flat that its corners do not span it is left to the faces with fewer corners.
    double scale = 0.0;
    for (std::size_t i = 0; i < q; ++i) scale = std::max(scale, m[i][i]);
    bool singular = false;
    for (std::size_t c = 0; c < q && !singular; ++c) {
      std::size_t pivot = c;
      for (std::size_t r = c + 1; r < q; ++r) {
        if (std::abs(m[r][c]) > std::abs(m[pivot][c])) pivot = r;
      }
      std::swap(m[c], m[pivot]);
      if (std::abs(m[c][c]) <= 1e-11 * scale) {
        singular = true;
        break;
      }
      for (std::size_t r = 0; r < q; ++r) {
        if (r == c) continue;
        const double f = m[r][c] / m[c][c];
        for (std::size_t j = c; j < 4; ++j) m[r][j] -= f * m[c][j];
      }
    }
    if (singular) continue;
    double first = 1.0;
    bool inside = true;
    Vec3 at = p[0];
    for (std::size_t i = 0; i < q; ++i) {
      const double l = m[i][3] / m[i][i];
      inside = inside && l >= 0.0;
      first -= l;
      at += (p[i + 1] - p[0]) * l;
    }
    if (!inside || first < 0.0) continue;
    const double len = norm(at);
    if (best_norm < 0.0 || len < best_norm) {
      best_norm = len;
      best = at;
      best_mask = mask;
    }
  }
  points.count = 0;
  for (std::size_t i = 0; i < n; ++i) {
    if ((best_mask >> i) & 1U) points.at[points.count++] = points.at[i];
  }
  return best;
}

/// A certified gap: no point of a is nearer than `gap` to b along `normal` (from b to a). gap 0: they meet.
struct Gap {
  double gap = 0.0;
  Vec3 normal;
};

/// Nearest point of the difference body { x - y : x in a turned and swept along `shift`, y in b }. Who only asks
/// whether they meet says with how wide a gap they surely do not: the search for the nearest point ends there.
Gap gap_between(const Solid& a, const Turn& turn, Vec3 shift, const Solid& b, double enough = 1e300) {
  ++distances;
  const auto farthest = [&](Vec3 v) {
    Vec3 p = turn.at(support(a, turn.back(v)));
    if (dot(shift, v) > 0) p += shift;
    return p - support(b, -v);
  };
  // From middle to middle most pairs are told apart at once.
  Simplex simplex{{farthest(middle_of(b) - turn.at(middle_of(a)))}, 1};
  Vec3 v = simplex.at[0];
  Gap best;
  for (int round = 0; round < 80; ++round) {
    const double len = norm(v);
    if (len < 1e-6) return {};
    const Vec3 w = farthest(-v);
    const double bound = dot(v, w) / len;
    if (bound > best.gap) best = {bound, v * (1.0 / len)};
    if (bound > enough) break;
    if (len - bound < 0.002 + 0.01 * std::max(bound, 0.0)) break;
    const auto end = simplex.at.begin() + static_cast<std::ptrdiff_t>(simplex.count);
    if (std::find(simplex.at.begin(), end, w) != end) break;
    simplex.at[simplex.count++] = w;
    v = nearest(simplex);
    if (simplex.count == 4) return {};
  }
  return best;
}

/// Spokes of a circle of radius 1, lengthened so that their polygon goes round it: a bound from outside, 0.12 %.
const std::array<std::pair<double, double>, 64>& spokes() {
  static const auto table = [] {
    std::array<std::pair<double, double>, 64> t;
    for (std::size_t i = 0; i < t.size(); ++i) {
      const double angle = kFullTurn * static_cast<double>(i) / 64.0;
      t[i] = {std::cos(angle) / std::cos(kFullTurn / 128.0), std::sin(angle) / std::cos(kFullTurn / 128.0)};
    }
    return t;
  }();
  return table;
}

/// Points on the skin that reach farthest in any turn: corners, or the two rims.
std::vector<Vec3> rim_points(const Solid& s) {
  std::vector<Vec3> out;
  if (s.shape == Solid::Shape::box) {
    for (const double x : {s.a.x, s.b.x}) {
      for (const double y : {s.a.y, s.b.y}) {
        for (const double z : {s.a.z, s.b.z}) out.push_back({x, y, z});
      }
    }
    return out;
  }
  if (s.shape == Solid::Shape::wedge) {
    for (const Vec3 p : model::corners_of(s)) out.push_back(p);
    return out;
  }
  const Vec3 u = s.along.unit();
  Vec3 e = cross(u, std::abs(u.x) < 0.5 ? Vec3{1, 0, 0} : Vec3{0, 1, 0});
  e = e * (1.0 / norm(e));
  const Vec3 f = cross(u, e);
  out.reserve(128);
  for (const auto& [x, y] : spokes()) {
    const Vec3 spoke = (e * x + f * y) * s.radius;
    out.push_back(s.a + spoke);
    out.push_back(s.b + spoke);
  }
  return out;
}

double farthest_from_axis(const Solid& s, const TurnAxis& axis) {
  const Vec3 u = axis.along.unit();
  double r = 0.0;
  for (const Vec3 p : rim_points(s)) r = std::max(r, norm(cross(p - axis.point, u)));
  return r;
}

}  // namespace

long long distances_taken() { return distances; }

Vec3 turned(Vec3 p, const TurnAxis& axis, double angle) { return turn_of(axis, angle).at(p); }

bool holds_point(const Solid& s, Vec3 p) {
  if (s.shape == Solid::Shape::box) {
    return p.x >= s.a.x && p.x <= s.b.x && p.y >= s.a.y && p.y <= s.b.y && p.z >= s.a.z && p.z <= s.b.z;
  }
  const Vec3 u = s.along.unit();
  const double along = dot(p - s.a, u);
  return along >= 0.0 && along <= dot(s.b - s.a, u) && norm(cross(p - s.a, u)) <= s.radius;
}

double reach_of(const Solid& a, Vec3 outward) { return dot(support(a, outward), outward); }

double apart(const Solid& a, const Solid& b) { return gap_between(a, Turn{{}, {0, 0, 1}}, {}, b).gap; }

namespace {

/// A piece of a board stays as it is: the other body gives all of the touch.
Solid smaller(const Solid& s, double by) { return s.shape == Solid::Shape::wedge ? s : shrunk(s, by); }

/// Whether they cannot meet however far the mover is turned: along the axis they lie one behind the other, or the ring
/// that a ball round the mover goes through stays clear of a ball round the other. Most pairs are told by this.
bool keep_apart(const Solid& mover, const Solid& b, const TurnAxis& axis, Vec3 shift) {
  constexpr double kSure = 0.05;  // mm: above what counts as a meeting
  const Vec3 u = axis.along.unit();
  const double drift = dot(shift, u);
  const double high = reach_of(mover, u) + std::max(drift, 0.0), low = -reach_of(mover, -u) + std::min(drift, 0.0);
  if (high + kSure < -reach_of(b, -u) || reach_of(b, u) + kSure < low) return true;
  struct Ball {
    Vec3 middle;
    double radius = 0.0;
  };
  const auto ball_of = [](const Solid& s) {
    Ball ball;
    std::array<double, 3> lo{}, hi{};
    const std::array<Vec3, 3> ways{{{1, 0, 0}, {0, 1, 0}, {0, 0, 1}}};
    for (std::size_t i = 0; i < 3; ++i) {
      hi[i] = reach_of(s, ways[i]);
      lo[i] = -reach_of(s, -ways[i]);
    }
    ball.middle = Vec3{lo[0] + hi[0], lo[1] + hi[1], lo[2] + hi[2]} * 0.5;
    ball.radius = 0.5 * norm(Vec3{hi[0] - lo[0], hi[1] - lo[1], hi[2] - lo[2]});
    return ball;
  };
  const Ball one = ball_of(mover), other = ball_of(b);
  const auto off_axis = [&](Vec3 p) { return norm(cross(p - axis.point, u)); };
  const double out = off_axis(one.middle) - off_axis(other.middle);
  const double along = dot(one.middle - other.middle, u);
  // The ring drifts along the axis by the shift: nearest where the drift brings it level, or at an end of the drift.
  const double behind = std::clamp(0.0, along + std::min(drift, 0.0), along + std::max(drift, 0.0));
  return std::hypot(out, behind) > one.radius + other.radius + kSure;
}

}  // namespace

bool slide_hits(const Solid& a, const Solid& b, Vec3 travel, double touch) {
  constexpr Turn kUnturned{{}, {0, 0, 1}};
  if (a.shape == Solid::Shape::wedge) return gap_between(a, kUnturned, travel, smaller(b, touch), kMeet).gap <= kMeet;
  return gap_between(shrunk(a, touch), kUnturned, travel, b, kMeet).gap <= kMeet;
}

bool turned_slide_hits(const Solid& a, const Solid& b, const TurnAxis& axis, double angle, Vec3 travel, double touch) {
  // A piece of a board stays as it is: the other body gives all of the touch.
  const Solid still = a.shape == Solid::Shape::wedge ? smaller(b, touch) : b;
  return gap_between(smaller(a, touch), turn_of(axis, angle), travel, still, kMeet).gap <= kMeet;
}

bool turn_hits_sampled(const Solid& a, const Solid& b, const TurnAxis& axis, Vec3 shift, double angle, double touch) {
  if (a.shape == Solid::Shape::wedge && b.shape != Solid::Shape::wedge) {
    // Turned and shifted back, the other past this one: the same meetings.
    return turn_hits_sampled(b, a, axis, -shift, -angle, touch);
  }
  const Solid mover = smaller(a, touch);
  const Vec3 u = axis.along.unit();
  if (keep_apart(mover, b, axis, shift)) return false;
  // Turning a past b is turning b back past a, so the lesser of the two rims bounds how fast they close in.
  const double rim = std::max(std::min(farthest_from_axis(mover, axis), farthest_from_axis(b, axis)), 1e-9);
  const double whole = std::abs(angle);
  double done = 0.0;
  while (true) {
    const Gap g = gap_between(mover, turn_of(axis, std::copysign(done, angle)), shift, b);
    if (g.gap <= kMeet) return true;
    const double speed = rim * norm(cross(g.normal, u));
    if (speed * (whole - done) < g.gap) return false;
    if (done >= whole) return false;
    done = std::min(whole, done + std::max(g.gap / speed, 0.01 / rim));
  }
}

double turn_reach_sampled(const Solid& a, const TurnAxis& axis, Vec3 shift, double angle, Vec3 outward,
                          double nobody_asks_below) {
  double best = -1e300;
  const double extra = std::max(0.0, dot(shift, outward));
  const std::vector<Vec3> rim = rim_points(a);
  // A ball about the axis that holds the solid in every turn, for the many that are nowhere near.
  double ball = 0.0;
  for (const Vec3 p : rim) ball = std::max(ball, norm(p - axis.point));
  if (dot(axis.point, outward) + ball + extra < nobody_asks_below) return dot(axis.point, outward) + ball + extra;
  constexpr int kSteps = 720;
  for (int i = 0; i <= kSteps; ++i) {
    const Turn turn = turn_of(axis, angle * i / kSteps);
    const Vec3 seen = turn.back(outward);
    const double base = dot(axis.point, outward) - dot(axis.point, seen);
    for (const Vec3 p : rim) best = std::max(best, base + dot(p, seen));
  }
  return best + extra;
}

}  // namespace dryfit::test

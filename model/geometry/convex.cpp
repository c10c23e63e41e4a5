#include "model/geometry/convex.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <vector>

#include "model/geometry/at.hpp"

namespace dryfit::model {
namespace {

/// Farthest point of the solid along `v` (any length, not zero).
Vec3 support(const Solid& solid, Vec3 v) {
  if (solid.shape == Solid::Shape::box) {
    return {v.x >= 0 ? solid.b.x : solid.a.x, v.y >= 0 ? solid.b.y : solid.a.y, v.z >= 0 ? solid.b.z : solid.a.z};
  }
  if (solid.shape == Solid::Shape::wedge) {
    const auto corners = corners_of(solid);
    return *std::max_element(corners.begin(), corners.end(), [&](Vec3 p, Vec3 q) { return dot(p, v) < dot(q, v); });
  }
  const Vec3 axis = solid.along.unit();
  const double up = dot(v, axis);
  const Vec3 across = v - axis * up;
  const double length = norm(across);
  const Vec3 rim = length > 1e-12 ? across * (solid.radius / length) : Vec3{};
  return (up >= 0 ? solid.b : solid.a) + rim;
}

/// A simplex of up to four points of the difference body, reduced to the face nearest the origin.
struct Simplex {
  std::array<Vec3, 4> p;
  int n = 0;
};

Vec3 nearest_on_segment(Simplex& s) {
  const Vec3 a = s.p[0];
  const Vec3 ab = s.p[1] - a;
  const double length2 = dot(ab, ab);
  const double t = length2 > 0 ? -dot(a, ab) / length2 : 0.0;
  if (t <= 0) {
    s.n = 1;
    return a;
  }
  if (t >= 1) {
    s.p[0] = s.p[1];
    s.n = 1;
    return s.p[0];
  }
  return a + ab * t;
}

/// Ericson, Real-Time Collision Detection (2005), section 5.1.5: regions of a triangle, origin as the query.
Vec3 nearest_on_triangle(Simplex& s) {
  const Vec3 a = s.p[0], b = s.p[1], c = s.p[2];
  const Vec3 ab = b - a, ac = c - a;
  const double d1 = -dot(ab, a), d2 = -dot(ac, a);
  if (d1 <= 0 && d2 <= 0) {
    s.n = 1;
    return a;
  }
  const double d3 = -dot(ab, b), d4 = -dot(ac, b);
  if (d3 >= 0 && d4 <= d3) {
    s.p[0] = b;
    s.n = 1;
    return b;
  }
  const double vc = d1 * d4 - d3 * d2;
  if (vc <= 0 && d1 >= 0 && d3 <= 0) {
    s.n = 2;
    return a + ab * (d1 / (d1 - d3));
  }
  const double d5 = -dot(ab, c), d6 = -dot(ac, c);
  if (d6 >= 0 && d5 <= d6) {
    s.p[0] = c;
    s.n = 1;
    return c;
  }
  const double vb = d5 * d2 - d1 * d6;
  if (vb <= 0 && d2 >= 0 && d6 <= 0) {
    s.p[1] = c;
    s.n = 2;
    return a + ac * (d2 / (d2 - d6));
  }
  const double va = d3 * d6 - d5 * d4;
  if (va <= 0 && (d4 - d3) >= 0 && (d5 - d6) >= 0) {
    s.p[0] = b;
    s.p[1] = c;
    s.n = 2;
    return b + (c - b) * ((d4 - d3) / ((d4 - d3) + (d5 - d6)));
  }
  const double sum = va + vb + vc;
  if (sum <= 0) {  // no area: the longest side stands for it
    s.n = 2;
    return nearest_on_segment(s);
  }
  return a + ab * (vb / sum) + ac * (vc / sum);
}

Vec3 nearest_on_tetrahedron(Simplex& s) {
  static constexpr std::array<std::array<int, 4>, 4> faces{{{0, 1, 2, 3}, {0, 2, 3, 1}, {0, 3, 1, 2}, {1, 3, 2, 0}}};
  const auto p = s.p;
  bool inside = true;
  double best = 0.0;
  Vec3 nearest{};
  Simplex kept;
  bool have = false;
  for (const auto& f : faces) {
    const auto at = [&](int i) { return p[dryfit::at(f[dryfit::at(i)])]; };
    const Vec3 normal = cross(at(1) - at(0), at(2) - at(0));
    const double opposite = dot(normal, at(3) - at(0));
    const double origin = -dot(normal, at(0));
    // The origin lies on the far side of this face (or the tetrahedron is flat): the face is a candidate.
    if (opposite * origin > 0 && std::abs(opposite) > 1e-12) continue;
    inside = false;
    Simplex t;
    t.p = {at(0), at(1), at(2), Vec3{}};
    t.n = 3;
    const Vec3 q = nearest_on_triangle(t);
    const double d = dot(q, q);
    if (!have || d < best) {
      have = true;
      best = d;
      nearest = q;
      kept = t;
    }
  }
  if (inside) return {};
  s = kept;
  return nearest;
}

Vec3 nearest_on(Simplex& s) {
  switch (s.n) {
    case 1: return s.p[0];
    case 2: return nearest_on_segment(s);
    case 3: return nearest_on_triangle(s);
    default: return nearest_on_tetrahedron(s);
  }
}

/// GJK on the difference of two convex bodies, given as its support: difference(v) is the farthest point along v.
/// Returns a lower bound of the distance; stops early once it exceeds `enough`.
template <typename Difference>
double gap(const Difference& difference, double precision, double enough) {
  Vec3 v = difference({1.0, 0.0, 0.0});
  Simplex simplex;
  simplex.p[0] = v;
  simplex.n = 1;
  double low = 0.0;
  for (int round = 0; round < 200; ++round) {
    const double size = norm(v);
    if (size < 1e-9) return 0.0;
    const Vec3 w = difference(-v);
    low = std::max(low, dot(v, w) / size);
    if (low > enough) return low;
    if (size - low <= precision) return std::max(low, 0.0);
    for (int i = 0; i < simplex.n; ++i) {
      if (norm(simplex.p[dryfit::at(i)] - w) < 1e-9) return std::max(low, 0.0);
    }
    simplex.p[dryfit::at(simplex.n++)] = w;
    const Vec3 next = nearest_on(simplex);
    if (norm(next) >= size - 1e-12) return std::max(low, 0.0);  // no progress left in this arithmetic
    v = next;
    if (simplex.n == 4) return 0.0;
  }
  return std::max(low, 0.0);
}

double gap(const Solid& a, const Solid& b, Vec3 sweep, double precision, double enough) {
  return gap(
      [&](Vec3 v) {  // farthest point of (A swept) - B
        Vec3 s = support(a, v);
        if (dot(v, sweep) > 0) s += sweep;
        return s - support(b, -v);
      },
      precision, enough);
}

bool apart(const Bounds& a, const Bounds& b, Vec3 sweep) {
  for (int i = 0; i < 3; ++i) {
    if (a.hi[i] + std::max(0.0, sweep[i]) < b.lo[i] || a.lo[i] + std::min(0.0, sweep[i]) > b.hi[i]) return true;
  }
  return false;
}

/// Bodies that are made smaller already: does `a`, moved anywhere from 0 to `sweep`, meet `b`?
bool meets(const Solid& a, const Solid& b, Vec3 sweep) {
  if (comes_first(b, a)) return meets(b, a, -sweep);
  if (apart(bounds_of(a), bounds_of(b), sweep)) return false;
  if (a.shape == Solid::Shape::box && b.shape == Solid::Shape::box) {
    const bool along_axis = (sweep.x != 0) + (sweep.y != 0) + (sweep.z != 0) <= 1;
    if (along_axis) return true;  // the bounds are the bodies
  }
  // Precision zero: separated exactly when some direction shows a gap; touching within 1e-6 mm counts as a hit.
  return gap(a, b, sweep, 1e-7, 1e-6) <= 1e-6;
}

/// What the first thing is in the neighbourhood of the other: one solid, or pieces of a board.
std::vector<Solid> pieces_near(Thing thing, double by, const Bounds& region) {
  if (!thing.pierced()) return {shrunk(thing.solid, by)};
  return pieces_of(*thing.wood, by, region);
}

/// `test(p, q)` for pieces of the two near each other, until one is true.
template <typename Test>
bool any_pieces(Thing a, Thing b, Vec3 sweep, double by, const Test& test) {
  const std::vector<Solid> of_a = pieces_near(a, by, swept_bounds(b.solid, -sweep));
  const std::vector<Solid> of_b = pieces_near(b, by, swept_bounds(a.solid, sweep));
  return std::any_of(of_a.begin(), of_a.end(), [&](const Solid& p) {
    return std::any_of(of_b.begin(), of_b.end(), [&](const Solid& q) { return test(p, q); });
  });
}

/// Free way of bodies that are made smaller already.
double smaller_travel(const Solid& a, const Solid& b, Vec3 unit, double limit) {
  if (!meets(a, b, unit * limit)) return limit;
  if (meets(a, b, {})) return 0.0;
  double clear = 0.0, blocked = limit;
  while (blocked - clear > 0.005) {
    const double middle = 0.5 * (clear + blocked);
    (meets(a, b, unit * middle) ? blocked : clear) = middle;
  }
  return clear;
}

}  // namespace

double distance(const Solid& a, const Solid& b, Vec3 sweep, double precision) {
  return gap(a, b, sweep, precision, 1e300);
}

double distance_turned(const Solid& turned, Vec3 pivot, int axis, double angle, const Solid& still, double enough) {
  const int i = (axis + 1) % 3, j = (axis + 2) % 3;
  const double c = std::cos(angle), s = std::sin(angle);
  const auto turn = [&](Vec3 v, double sine) {
    Vec3 r = v;
    r[i] = c * v[i] - sine * v[j];
    r[j] = sine * v[i] + c * v[j];
    return r;
  };
  return gap([&](Vec3 v) { return pivot + turn(support(turned, turn(v, -s)) - pivot, s) - support(still, -v); }, 0.01,
             enough);
}

Bounds swept_bounds(const Solid& solid, Vec3 sweep) {
  Bounds box = bounds_of(solid);
  for (int i = 0; i < 3; ++i) (sweep[i] > 0 ? box.hi : box.lo)[i] += sweep[i];
  return box;
}

bool hits(Thing a, Thing b, Vec3 sweep, double touch) {
  const double by = 0.5 * touch;
  if (!meets(shrunk(a.solid, by), shrunk(b.solid, by), sweep)) return false;
  if (!a.pierced() && !b.pierced()) return true;
  return any_pieces(a, b, sweep, by, [&](const Solid& p, const Solid& q) { return meets(p, q, sweep); });
}

bool hits(const Solid& a, const Solid& b, Vec3 sweep, double touch) { return hits(Thing{a}, Thing{b}, sweep, touch); }

double free_travel(Thing a, Thing b, Direction d, double limit, double touch) {
  const double by = 0.5 * touch;
  const Vec3 unit = d.unit();
  if (!meets(shrunk(a.solid, by), shrunk(b.solid, by), unit * limit)) return limit;
  double clear = limit;
  any_pieces(a, b, unit * limit, by, [&](const Solid& p, const Solid& q) {
    clear = std::min(clear, smaller_travel(p, q, unit, clear));
    return clear <= 0.0;
  });
  // The smaller bodies met after `clear`; the bodies themselves touched `touch` earlier.
  return clear < limit ? std::max(0.0, clear - touch) : limit;
}

double free_travel(const Solid& a, const Solid& b, Direction d, double limit, double touch) {
  return free_travel(Thing{a}, Thing{b}, d, limit, touch);
}

double reach_along(const Solid& solid, Vec3 unit) { return dot(support(solid, unit), unit); }

}  // namespace dryfit::model

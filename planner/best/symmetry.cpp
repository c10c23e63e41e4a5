#include "planner/best/symmetry.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <optional>
#include <tuple>

#include "model/geometry/at.hpp"
#include "model/measure/over_all.hpp"

namespace dryfit::planner {
namespace {

using model::Bounds;
using model::Direction;
using model::kNone;
using model::kRoom;
using model::Solid;
using model::Vec3;

constexpr double kSame = 1e-3;  // mm

bool same(double a, double b) { return std::abs(a - b) <= kSame; }
bool same(const Vec3& a, const Vec3& b) { return same(a.x, b.x) && same(a.y, b.y) && same(a.z, b.z); }

/// Mirrors in planes through the middle; both: a half turn.
struct Mirror {
  bool in_x = false;
  bool in_y = false;
  Vec3 middle;

  [[nodiscard]] Vec3 operator()(Vec3 p) const {
    if (in_x) p.x = 2.0 * middle.x - p.x;
    if (in_y) p.y = 2.0 * middle.y - p.y;
    return p;
  }
  [[nodiscard]] Direction operator()(Direction d) const {
    if (in_x) d.x = -d.x;
    if (in_y) d.y = -d.y;
    return d;
  }
};

class Matcher {
 public:
  Matcher(const model::Frame& frame, const ContactList& list, const Mirror& mirror)
      : frame_(frame), list_(list), mirror_(mirror) {}

  std::optional<ContactMap> match() {
    for (const model::Surface& s : frame_.surfaces) {
      if (image_of(s) == kNone) return std::nullopt;
    }
    for (std::size_t p = 0; p < frame_.parts.size(); ++p) {
      const model::Part& part = frame_.parts[p];
      places_[place_of(part.centre)].push_back(static_cast<PartId>(p));
    }
    for (const model::Part& part : frame_.parts) {
      part_.push_back(image_of(part));
      if (part_.back() == kNone) return std::nullopt;
    }
    std::vector<PartId> once = part_;
    std::sort(once.begin(), once.end());
    if (std::adjacent_find(once.begin(), once.end()) != once.end()) return std::nullopt;
    ContactMap map;
    for (const Contact& c : list_.contacts) {
      map.push_back(image_of(c));
      if (map.back() == kNone) return std::nullopt;
    }
    return map;
  }

 private:
  using Cell = std::tuple<long long, long long, long long>;

  [[nodiscard]] static Cell place_of(const Vec3& at) {
    return {std::llround(at.x), std::llround(at.y), std::llround(at.z)};
  }

  [[nodiscard]] int image_of(const model::Surface& surface) const {
    Vec3 point;
    point[surface.normal.axis()] = surface.at;
    const double at = mirror_(point)[surface.normal.axis()];
    for (std::size_t s = 0; s < frame_.surfaces.size(); ++s) {
      const model::Surface& other = frame_.surfaces[s];
      if (other.normal == mirror_(surface.normal) && same(other.at, at)) return static_cast<int>(s);
    }
    return kNone;
  }

  [[nodiscard]] PartId image_of(const model::Part& part) const {
    const Vec3 at = mirror_(part.centre);
    // The cells round it too: what lies on the border of two may be on either side.
    for (const double x : {-1.0, 0.0, 1.0}) {
      for (const double y : {-1.0, 0.0, 1.0}) {
        for (const double z : {-1.0, 0.0, 1.0}) {
          const auto cell = places_.find(place_of(at + Vec3{x, y, z}));
          if (cell == places_.end()) continue;
          for (const PartId p : cell->second) {
            if (is_image(part, frame_.part(p))) return p;
          }
        }
      }
    }
    return kNone;
  }

  [[nodiscard]] bool is_image(const model::Part& part, const model::Part& other) const {
    if (part.kind != other.kind || part.size != other.size || !same(mirror_(part.centre), other.centre) ||
        !same(mirror_(part.centre_of_mass), other.centre_of_mass) || std::abs(part.mass - other.mass) > 1e-6 ||
        !same(part.length, other.length) || part.ports.size() != other.ports.size() ||
        part.solids.size() != other.solids.size()) {
      return false;
    }
    const bool bodies = std::all_of(part.solids.begin(), part.solids.end(), [&](const Solid& solid) {
      return std::any_of(other.solids.begin(), other.solids.end(),
                         [&](const Solid& image) { return is_image(solid, image); });
    });
    return bodies && (part.board == kNone || is_image(frame_.board(part.board),
                                                      frame_.board(other.board)));
  }

  [[nodiscard]] bool is_image(const Solid& solid, const Solid& other) const {
    if (solid.shape != other.shape || !same(solid.radius, other.radius)) return false;
    const Vec3 a = mirror_(solid.a), b = mirror_(solid.b);
    if (solid.shape == Solid::Shape::cylinder) {
      return (same(a, other.a) && same(b, other.b)) || (same(a, other.b) && same(b, other.a));
    }
    return same((a + b) * 0.5, (other.a + other.b) * 0.5) && same(solid.b - solid.a, other.b - other.a);
  }

  [[nodiscard]] bool is_image(const model::Board& board, const model::Board& other) const {
    if (board.normal != other.normal || board.holes.size() != other.holes.size()) return false;
    return std::all_of(board.holes.begin(), board.holes.end(), [&](const model::Hole& hole) {
      return std::any_of(other.holes.begin(), other.holes.end(), [&](const model::Hole& image) {
        return same(mirror_(hole.centre), image.centre) && same(hole.diameter, image.diameter) &&
               hole.notch == image.notch && (!hole.notch || mirror_(hole.open) == image.open);
      });
    });
  }

  /// The contact between the images of the parts, of the same kind and on the image of the axis.
  [[nodiscard]] ContactId image_of(const Contact& c) const {
    const PartId a = part_[dryfit::at(c.a)];
    const PartId b = c.b == kRoom ? kRoom : part_[dryfit::at(c.b)];
    for (const ContactId k : list_.at[dryfit::at(a)]) {
      const Contact& image = list_.contact(k);
      // The halves of a union are alike: which one carries the nut is a matter of how it is held.
      const bool ends = (image.a == a && image.b == b) || (c.kind == ContactKind::nut && image.a == b && image.b == a);
      if (!ends || image.kind != c.kind) continue;
      if (c.joint != kNone && !same_thread(c, image)) continue;
      if (c.fastening != kNone && !same_fastening(c, image)) continue;
      return k;
    }
    return kNone;
  }

  [[nodiscard]] bool same_thread(const Contact& c, const Contact& image) const {
    const model::Joint& one = frame_.joint(c.joint);
    const model::Joint& two = frame_.joint(image.joint);
    return same(mirror_(c.on_axis), image.on_axis) && mirror_(c.axis) == image.axis && same(one.engaged, two.engaged) &&
           same(one.pitch, two.pitch);
  }

  [[nodiscard]] bool same_fastening(const Contact& c, const Contact& image) const {
    const model::Fastening& one = frame_.fastening(c.fastening);
    const model::Fastening& two = frame_.fastening(image.fastening);
    if (one.kind != two.kind || one.count != two.count) return false;
    return one.surface == kNone || image_of(frame_.surface(one.surface)) == two.surface;
  }

  const model::Frame& frame_;
  const ContactList& list_;
  const Mirror& mirror_;
  std::map<Cell, std::vector<PartId>> places_;
  std::vector<PartId> part_;
};

}  // namespace

std::vector<ContactMap> symmetries_of(const model::Frame& frame, const ContactList& list) {
  std::vector<ContactMap> found;
  const Bounds all = model::over_all(frame);
  Mirror mirror;
  mirror.middle = (all.lo + all.hi) * 0.5;
  for (const auto& [in_x, in_y] : {std::pair{true, false}, {false, true}, {true, true}}) {
    mirror.in_x = in_x;
    mirror.in_y = in_y;
    std::optional<ContactMap> map = Matcher(frame, list, mirror).match();
    if (!map) continue;
    bool moves = false;
    for (std::size_t c = 0; c < map->size(); ++c) moves = moves || (*map)[c] != static_cast<ContactId>(c);
    if (moves) found.push_back(std::move(*map));
  }
  return found;
}

}  // namespace dryfit::planner

#include "cli/draw/body/frame_numbers.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/draw/body/fixtures.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using Numbers = nlohmann::ordered_json;

double tenths(double value) { return static_cast<double>(std::lround(10.0 * value)) / 10.0; }

void add_point(const model::Vec3& point, Numbers& body) {
  for (int axis = 0; axis < 3; ++axis) body.push_back(tenths(point[axis]));
}

Numbers solid_numbers(const model::Solid& solid) {
  Numbers body = Numbers::array();
  add_point(solid.a, body);
  add_point(solid.b, body);
  if (solid.shape == model::Solid::Shape::cylinder) body.push_back(tenths(solid.radius));
  return body;
}

Numbers corners_numbers(const model::Vec3& a, const model::Vec3& b) {
  model::Vec3 lo = a;
  model::Vec3 hi = b;
  for (int axis = 0; axis < 3; ++axis) {
    lo[axis] = std::min(a[axis], b[axis]);
    hi[axis] = std::max(a[axis], b[axis]);
  }
  return solid_numbers(model::box(lo, hi));
}

Numbers patch_numbers(const Patch& patch) {
  model::Vec3 lo = patch.lo;
  model::Vec3 hi = patch.hi;
  for (int axis = 0; axis < 3; ++axis) {
    if (std::abs(patch.normal[axis]) < 0.5) continue;
    lo[axis] = hi[axis] = patch.normal[axis] > 0.0 ? hi[axis] : lo[axis];
  }
  return corners_numbers(lo, hi);
}

/// A ring round the pipe and plates beside it: what is seen of a strap. Bands lie along axes or aslant; those aslant
/// get the ring alone.
void add_band_numbers(const Band& band, Numbers& bodies) {
  const model::Vec3 from = band.at - (band.width / 2.0) * band.along;
  const model::Vec3 to = band.at + (band.width / 2.0) * band.along;
  Numbers ring = Numbers::array();
  add_point(from, ring);
  add_point(to, ring);
  ring.push_back(tenths(band.radius));
  bodies.push_back(std::move(ring));
  double most = 0.0;
  for (int axis = 0; axis < 3; ++axis) most = std::max(most, std::abs(band.along[axis]));
  if (most < 0.99) return;
  const model::Vec3 side = cross(band.down, band.along);
  const double stem = band.on_stem() ? 0.4 * band.radius : band.radius;
  const double foot = band.on_stem() ? band.radius : band.radius + band.foot;
  const model::Vec3 plate = (band.depth - band.thickness) * band.down;
  bodies.push_back(corners_numbers(from - stem * side, to + stem * side + plate));
  bodies.push_back(corners_numbers(from - foot * side + plate, to + foot * side + band.depth * band.down));
}

const char* fixture_word(Fixture::Kind kind) {
  return kind == Fixture::Kind::patch ? "patch" : kind == Fixture::Kind::strap ? "strap" : "clip";
}

/// A pipe's ends are named as the frame file names them, openings by where they face.
Numbers free_ends_of(const model::Part& part) {
  Numbers ends = Numbers::array();
  for (std::size_t i = 0; i < part.ports.size(); ++i) {
    const model::Port& port = part.ports[i];
    if (port.joint != model::kNone || !port.threaded) continue;
    const bool pipe = part.kind == model::PartKind::pipe;
    Numbers end = {{"end", pipe ? (i == 0 ? "start" : "end") : port.facing.name()},
                   {"facing", port.facing.name()},
                   {"at_mm", Numbers::array()},
                   {"size", model::nominal_sizes()[at(port.size)]},
                   {"male", port.male}};
    add_point(port.at, end["at_mm"]);
    ends.push_back(std::move(end));
  }
  return ends;
}

const char* units_word(model::Units units) {
  return units == model::Units::in ? "in" : units == model::Units::mm ? "mm" : "cm";
}

}  // namespace

nlohmann::ordered_json frame_numbers(const model::Frame& frame, const planner::ContactList& contacts) {
  Numbers parts = Numbers::array();
  for (const model::Part& part : frame.parts) {
    Numbers numbers = {{"label", part.label}, {"id", part.id}, {"kind", model::word_for(part.kind)}};
    if (part.kind != model::PartKind::board) numbers["size"] = model::nominal_sizes()[at(part.size)];
    if (part.kind == model::PartKind::pipe) numbers["length_mm"] = std::round(1000.0 * part.length) / 1000.0;
    numbers["line"] = part.where.line;
    numbers["bodies"] = Numbers::array();
    for (const model::Solid& solid : part.solids) numbers["bodies"].push_back(solid_numbers(solid));
    numbers["free_ends"] = free_ends_of(part);
    parts.push_back(std::move(numbers));
  }
  Numbers fixtures = Numbers::array();
  for (const Fixture& fixture : fixtures_of(frame)) {
    Numbers bodies = Numbers::array();
    if (fixture.kind == Fixture::Kind::patch) bodies.push_back(patch_numbers(fixture.patch));
    for (const Band& band : fixture.bands) add_band_numbers(band, bodies);
    fixtures.push_back({{"kind", fixture_word(fixture.kind)}, {"bodies", std::move(bodies)}});
  }
  Numbers joined = Numbers::array();
  for (const planner::Contact& contact : contacts.contacts) {
    joined.push_back({{"contact", contact.id}, {"between", {contact.a, contact.b}}});
  }
  return {{"units", units_word(frame.units)},
          {"parts", std::move(parts)},
          {"fixtures", std::move(fixtures)},
          {"contacts", std::move(joined)}};
}

}  // namespace dryfit::cli

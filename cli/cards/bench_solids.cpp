#include "cli/cards/bench_solids.hpp"

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/draw/body/fixture_pieces.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {
namespace {

using Json = nlohmann::ordered_json;

int kind_of(const model::Part& part) {
  return part.kind == model::PartKind::board ? 2 : part.kind == model::PartKind::pipe ? 0 : 1;
}

Json body_of(const model::Solid& solid) {
  Json body = Json::array();
  for (const model::Vec3& corner : {solid.a, solid.b}) {
    for (int axis = 0; axis < 3; ++axis) body.push_back(std::lround(10.0 * corner[axis]));
  }
  if (solid.shape == model::Solid::Shape::cylinder) body.push_back(std::lround(10.0 * solid.radius));
  return body;
}

/// Whole tenths of millimetres.
Json box_of(model::Vec3 a, model::Vec3 b) {
  Json body = Json::array();
  for (int axis = 0; axis < 3; ++axis) body.push_back(std::lround(10.0 * std::min(a[axis], b[axis])));
  for (int axis = 0; axis < 3; ++axis) body.push_back(std::lround(10.0 * std::max(a[axis], b[axis])));
  return body;
}

Json patch_of(const Patch& patch) {
  model::Vec3 lo = patch.lo;
  model::Vec3 hi = patch.hi;
  for (int axis = 0; axis < 3; ++axis) {
    if (std::abs(patch.normal[axis]) < 0.5) continue;
    lo[axis] = hi[axis] = patch.normal[axis] > 0.0 ? hi[axis] : lo[axis];
  }
  return Json::array({3, box_of(lo, hi)});
}

/// A ring round the pipe and plates beside it: what is seen of a strap. Bands lie along axes or aslant; those aslant
/// get the ring alone.
void add_band(const Band& band, Json& part) {
  const model::Vec3 from = band.at - (band.width / 2.0) * band.along;
  const model::Vec3 to = band.at + (band.width / 2.0) * band.along;
  Json ring = Json::array();
  for (const model::Vec3& end : {from, to}) {
    for (int axis = 0; axis < 3; ++axis) ring.push_back(std::lround(10.0 * end[axis]));
  }
  ring.push_back(std::lround(10.0 * band.radius));
  part.push_back(std::move(ring));
  double most = 0.0;
  for (int axis = 0; axis < 3; ++axis) most = std::max(most, std::abs(band.along[axis]));
  if (most < 0.99) return;
  const model::Vec3 side = cross(band.down, band.along);
  const double stem = band.on_stem() ? 0.4 * band.radius : band.radius;
  const double foot = band.on_stem() ? band.radius : band.radius + band.foot;
  const model::Vec3 plate = (band.depth - band.thickness) * band.down;
  part.push_back(box_of(from - stem * side, to + stem * side + plate));
  part.push_back(box_of(from - foot * side + plate, to + foot * side + band.depth * band.down));
}

}  // namespace

std::string bench_solids(const model::Frame& frame, const Deck& deck) {
  Json parts = Json::array();
  Json all = Json::array();
  for (std::size_t id = 0; id < frame.parts.size(); ++id) {
    Json part = Json::array({kind_of(frame.parts[id])});
    for (const model::Solid& solid : frame.parts[id].solids) part.push_back(body_of(solid));
    parts.push_back(std::move(part));
    all.push_back(id);
  }
  const std::vector<Fixture> fixtures = fixtures_of(frame);
  for (std::size_t i = 0; i < fixtures.size(); ++i) {
    Json part = Json::array({4});
    if (fixtures[i].kind == Fixture::Kind::patch) part = patch_of(fixtures[i].patch);
    for (const Band& band : fixtures[i].bands) add_band(band, part);
    parts.push_back(std::move(part));
    all.push_back(number_of(frame, static_cast<int>(i)));
  }
  Json steps = {{"start", Json::array({std::move(all), Json::array()})}};
  for (const Card& card : deck.cards) {
    std::vector<int> shown = card.picture.shown;
    std::vector<int> fresh = card.picture.emphasised;
    if (card.picture.fixtures) {
      for (const int index : *card.picture.fixtures) shown.push_back(number_of(frame, index));
    }
    for (const int index : card.picture.new_fixtures) {
      if (fixtures[at(index)].kind != Fixture::Kind::patch) {
        fresh.push_back(number_of(frame, index));
      }
    }
    steps["step-" + std::to_string(card.number)] = Json::array({std::move(shown), std::move(fresh)});
  }
  return Json({{"parts", std::move(parts)}, {"steps", std::move(steps)}}).dump();
}

}  // namespace dryfit::cli

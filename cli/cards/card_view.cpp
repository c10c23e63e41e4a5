#include "cli/cards/card_view.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/draw/body/fixture_pieces.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {

using Json = nlohmann::ordered_json;

namespace {

/// As in the drawing: where it is seen from, and where the frame's own right, back and up point.
Json seen_of(const Card& card) {
  const View view = card.picture.view.value_or(View{});
  Json lies = Json::array();
  for (const model::Direction& way : {card.picture.lies.right, card.picture.lies.back(), card.picture.lies.up}) {
    lies.push_back(Json::array({way.x, way.y, way.z}));
  }
  return {{"azimuth_deg", view.azimuth_deg}, {"elevation_deg", view.elevation_deg}, {"lies", std::move(lies)}};
}

/// The arrow of the drawing, in the room of the finished frame; null: none.
Json arrow_of(const model::Frame& frame, const Card& card) {
  if (!card.picture.arrow) return nullptr;
  const Arrow& arrow = *card.picture.arrow;
  Vec3 at = arrow.at;
  if (arrow.kind == Arrow::Kind::slide) {
    const std::vector<model::PartId>& moved = card.picture.emphasised;
    if (moved.empty()) return nullptr;
    for (const model::PartId id : moved) at = at + frame.part(id).centre * (1.0 / static_cast<double>(moved.size()));
  }
  const auto numbers = [](Vec3 v) {
    const auto tenth = [](double mm) { return std::round(10.0 * mm) / 10.0; };
    return Json::array({tenth(v.x), tenth(v.y), tenth(v.z)});
  };
  return {{"turns", arrow.kind == Arrow::Kind::turn}, {"at_mm", numbers(at)}, {"along_mm", numbers(arrow.along)}};
}

}  // namespace

Json card_view(const model::Frame& frame, const std::vector<Fixture>& fixtures, const Card& card) {
  std::vector<int> shown = card.picture.shown;
  std::vector<int> fresh = card.picture.emphasised;
  if (card.picture.fixtures) {
    for (const int index : *card.picture.fixtures) shown.push_back(number_of(frame, index));
  }
  for (const int index : card.picture.new_fixtures) {
    if (fixtures[at(index)].kind != Fixture::Kind::patch) fresh.push_back(number_of(frame, index));
  }
  return {{"shown", std::move(shown)},
          {"new", std::move(fresh)},
          {"view", seen_of(card)},
          {"arrow", arrow_of(frame, card)}};
}

}  // namespace dryfit::cli

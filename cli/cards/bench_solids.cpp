#include "cli/cards/bench_solids.hpp"

#include <cmath>
#include <nlohmann/json.hpp>

#include "cli/cards/card_bodies.hpp"
#include "cli/draw/body/frame_numbers.hpp"

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
  return {{"turns", arrow.kind == Arrow::Kind::turn}, {"at", numbers(at)}, {"along", numbers(arrow.along)}};
}

}  // namespace

std::string bench_solids(const model::Frame& frame, const Deck& deck) {
  const std::vector<Fixture> fixtures = fixtures_of(frame);
  Json all = Json::array();
  for (std::size_t i = 0; i < frame.parts.size() + fixtures.size(); ++i) all.push_back(i);
  Json steps = {{"start", Json::array({std::move(all), Json::array()})}};
  for (const Card& card : deck.cards) {
    CardBodies bodies = bodies_of(frame, fixtures, card);
    steps["step-" + std::to_string(card.number)] =
        Json::array({std::move(bodies.shown), std::move(bodies.fresh), seen_of(card), arrow_of(frame, card)});
  }
  std::string data =
      Json({{"numbers", frame_numbers(frame, planner::ContactList())}, {"steps", std::move(steps)}}).dump();
  // A label may hold anything: it must not end the element that the data stand in.
  for (std::size_t at = data.find('<'); at != std::string::npos; at = data.find('<', at))
    data.replace(at, 1, "\\u003c");
  return data;
}

}  // namespace dryfit::cli

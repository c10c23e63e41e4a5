#include "cli/cards/card_bodies.hpp"

#include "cli/draw/body/fixture_pieces.hpp"
#include "model/geometry/at.hpp"

namespace dryfit::cli {

CardBodies bodies_of(const model::Frame& frame, const std::vector<Fixture>& fixtures, const Card& card) {
  CardBodies bodies{card.picture.shown, card.picture.emphasised};
  if (card.picture.fixtures) {
    for (const int index : *card.picture.fixtures) bodies.shown.push_back(number_of(frame, index));
  }
  for (const int index : card.picture.new_fixtures) {
    if (fixtures[at(index)].kind != Fixture::Kind::patch) bodies.fresh.push_back(number_of(frame, index));
  }
  return bodies;
}

}  // namespace dryfit::cli
